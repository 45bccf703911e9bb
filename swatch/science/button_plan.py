"""Which stripes a witness button should bear: covered ones that answer to heat, bare ones that hardly do."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from swatch.science.button_heat import heat_of_buttons
from swatch.science.colour_math import FloatArray

KEPT_READINGS = 6
"""Readings of the kept button in each session: what is cheapest gains most."""
WORTH_IT = 0.15
"""Standard deviation of a firing's heat, cones, from which witness cones serve as well: one is read to as much."""


@dataclass(frozen=True)
class Stripes:
    """Rows of the covered and the bare candidates chosen, and how well the buttons of a firing tell its heat.

    ``sd`` is in cones; None where no stripe answers enough.
    """

    covered: tuple[int, ...]
    bare: tuple[int, ...]
    sd: float | None


def choose_stripes(
    covered: FloatArray, bare: FloatArray, buttons: int, *, most_covered: int = 4, most_bare: int = 2
) -> Stripes:
    """Choose stripes one after the other, each the one that leaves the least doubt of the heat.

    Parameters
    ----------
    covered, bare : (n, 3), (m, 3) float
        What each candidate's colour does for a cone more.
    buttons : int
        Buttons of a firing, one a shelf.
    most_covered, most_bare : int

    Returns
    -------
    Stripes
        Bare ones are those that change least: they and the kept button take the camera out.
    """
    taken_bare = (
        np.argsort(np.linalg.norm(bare, axis=1), kind="stable")[:most_bare] if len(bare) else np.zeros(0, int)
    )
    chosen: list[int] = []
    while len(chosen) < min(most_covered, len(covered)):
        left = [k for k in range(len(covered)) if k not in chosen]
        doubts = [_sd(np.concatenate([covered[[*chosen, k]], bare[taken_bare]]), buttons) for k in left]
        chosen.append(left[int(np.argmin(doubts))])
    sd = _sd(np.concatenate([covered[chosen], bare[taken_bare]]), buttons) if chosen else math.inf
    return Stripes(tuple(chosen), tuple(int(k) for k in taken_bare), sd if math.isfinite(sd) else None)


def told_by(changes: FloatArray, buttons: int) -> float | None:
    """How well stripes that are given tell a firing's heat, cones; None where they hardly answer."""
    sd = _sd(changes, buttons) if len(changes) else math.inf
    return sd if math.isfinite(sd) else None


def _sd(changes: FloatArray, buttons: int) -> float:
    told = heat_of_buttons(np.zeros((len(changes), 3)), changes, buttons, np.zeros(3), KEPT_READINGS)
    return math.inf if told is None else math.sqrt(told.variance)
