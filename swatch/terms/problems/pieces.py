"""Problems of photos of loads."""

from __future__ import annotations

from swatch.terms.problems.base import StudioProblem


def regions_not_placed(name: str) -> StudioProblem:
    """The regions of this edition, or of the buttons, were never placed on a piece."""
    return StudioProblem("regions-not-placed", name=name)


def not_an_approved_piece(name: str, known: str) -> StudioProblem:
    """What is said to lie beside the card is no approved piece, or no kept button; `known` lists those."""
    return StudioProblem("not-an-approved-piece", name=name, known=known)


def firing_not_known(name: str) -> StudioProblem:
    """No firing is called so."""
    return StudioProblem("firing-not-known", name=name)
