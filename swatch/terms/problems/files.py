"""Problems of files that come in: tables, zones, cards, and the cells in them."""

from __future__ import annotations

from swatch.terms.problems.base import StudioProblem


def bad_cone(text: str) -> StudioProblem:
    """A cone field holds something that is no cone, or may be a spreadsheet's spoiling of one."""
    return StudioProblem("bad-cone", text=text)


def bad_layers(text: str, part: str) -> StudioProblem:
    """A layers field cannot be read; `part` is the piece that cannot."""
    return StudioProblem("bad-layers", text=text, part=part)
