"""Problems of checking an edition, and of weighing what it takes."""

from __future__ import annotations

from swatch.terms.problems.base import StudioProblem


def unknown_edition(name: str, known: str) -> StudioProblem:
    """No edition has this name; `known` lists those there are."""
    return StudioProblem("unknown-edition", name=name, known=known)


def nothing_measured(name: str) -> StudioProblem:
    """No piece of this edition has been measured."""
    return StudioProblem("nothing-measured", name=name)


def weighing_reversed(before_g: float, after_g: float, weighed: str) -> StudioProblem:
    """A jar that weighs more after than before, or a piece that weighs less."""
    return StudioProblem(f"{weighed}-weighed-backwards", before_g=before_g, after_g=after_g)


def bad_amount(text: str) -> StudioProblem:
    """Something that is no number with a unit of weight or volume."""
    return StudioProblem("bad-amount", text=text)


def which_pint(text: str) -> StudioProblem:
    """A pint or fluid ounce that may be the one of two countries."""
    return StudioProblem("which-pint", text=text)


def no_gravity(text: str) -> StudioProblem:
    """A volume, where nothing says what a millilitre of it weighs."""
    return StudioProblem("no-gravity", text=text)


def said_twice(one: str, other: str) -> StudioProblem:
    """Two columns say one thing."""
    return StudioProblem("said-twice", one=one, other=other)


def no_such_jar(material: str) -> StudioProblem:
    """No jar of this material is on record."""
    return StudioProblem("no-such-jar", material=material)


def no_such_load(firing: str, known: str) -> StudioProblem:
    """No load of the edition was fired so; `known` lists those there are."""
    return StudioProblem("no-such-load", firing=firing, known=known)
