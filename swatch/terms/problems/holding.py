"""Problems of checking an edition."""

from __future__ import annotations

from swatch.terms.problems.base import StudioProblem


def unknown_edition(name: str, known: str) -> StudioProblem:
    """No edition has this name; `known` lists those there are."""
    return StudioProblem("unknown-edition", name=name, known=known)


def nothing_measured(name: str) -> StudioProblem:
    """No piece of this edition has been measured."""
    return StudioProblem("nothing-measured", name=name)
