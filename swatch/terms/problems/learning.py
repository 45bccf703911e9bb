"""Problems of learning and answering: what cannot be known yet."""

from __future__ import annotations

from swatch.terms.problems.base import Notice, StudioProblem


def nothing_fired() -> StudioProblem:
    """The studio has no fired tile, so nothing can be learnt."""
    return StudioProblem("nothing-fired")


def unknown_material(name: str, near: str) -> StudioProblem:
    """No material has this name; `near` lists names that look like it."""
    return StudioProblem("unknown-material", name=name, near=near)


def unknown_body(name: str, near: str) -> StudioProblem:
    """No body has this name."""
    return StudioProblem("unknown-body", name=name, near=near)


def unused_material(name: str) -> StudioProblem:
    """Nothing is made with this material, so nothing has to be replaced."""
    return StudioProblem("unused-material", name=name)


def no_question_for_tests() -> StudioProblem:
    """Tests are asked for without a body and a cone."""
    return StudioProblem("no-question-for-tests")


def nothing_to_search() -> StudioProblem:
    """No layering of stocked materials is allowed by the limits asked for."""
    return StudioProblem("nothing-to-search")


def shelf_too_small() -> StudioProblem:
    """No tile finds room on the kiln's shelf."""
    return StudioProblem("shelf-too-small")


def too_many_layerings() -> StudioProblem:
    """The limits allow more layerings than can be gone through."""
    return StudioProblem("too-many-layerings")


def target_out_of_range(L: float) -> StudioProblem:
    """A target that is no colour of a surface."""
    return StudioProblem("target-out-of-range", L=L)


def body_never_fired(body: str, cone: str) -> Notice:
    """Why a question is refused: no tile of this body."""
    return Notice("body-never-fired", {"body": body, "cone": cone})


def material_only_raw(material: str, body: str, cone: str) -> Notice:
    """Why a question is refused: the raw colour of a glaze tells nothing of the fired one."""
    return Notice("material-only-raw", {"material": material, "body": body, "cone": cone})


def colour_never_known(material: str, body: str, cone: str) -> Notice:
    """Why a question is refused: an underglaze or slip that was never fired and whose raw colour is not known."""
    return Notice("colour-never-known", {"material": material, "body": body, "cone": cone})


def cone_beyond_tiles(cone: str) -> Notice:
    """Why a question is refused: no tile was fired near this cone."""
    return Notice("cone-beyond-tiles", {"cone": cone})
