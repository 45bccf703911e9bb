"""Mottled regions of an edition's loads: their colours with shares beside the mean, which says little of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from swatch.science.colour_math import FloatArray
from swatch.science.mottled import moved
from swatch.terms.colour import Lab
from swatch.terms.editions import MottledReading, Role
from swatch.terms.holding import LoadCheck, RegionChange
from swatch.terms.layering import fold_name

FEWEST = 2
"""Approved pieces read mottled in a region, from which it is compared by its colours."""

Colours = tuple[FloatArray, FloatArray]
"""(n, 3) CIELAB and (n,) shares."""


def with_mottled(loads: Sequence[LoadCheck], readings: Sequence[MottledReading]) -> tuple[LoadCheck, ...]:
    """Add to each region that breaks how far its colours moved, and how far approved pieces differ ordinarily.

    The colours are brought to the region's mean, from which the camera's shift has been taken.
    """
    return tuple(
        replace(load, regions=tuple(_compared(one, load.firing, readings) for one in load.regions))
        for load in loads
    )


def _compared(change: RegionChange, firing: str, readings: Sequence[MottledReading]) -> RegionChange:
    here = [one for one in readings if fold_name(one.region) == fold_name(change.region)]
    approved = [one for one in here if one.role is Role.APPROVED]
    load = [
        one for one in here if one.role is not Role.APPROVED and fold_name(one.firing or "") == fold_name(firing)
    ]
    if len({fold_name(one.piece) for one in approved}) < FEWEST or not load:
        return change
    wanted = _about(_pooled(approved), change.approved)
    apart = moved(*wanted, *_about(_pooled(load), change.load))
    ordinary = [moved(*wanted, *_about(_pooled([one]), change.approved)) for one in approved]
    return replace(change, by_colours=apart, by_colours_ordinarily=float(np.median(ordinary)))


def _pooled(readings: Sequence[MottledReading]) -> Colours:
    colours = np.array([part.lab for one in readings for part in one.colours], dtype=float)
    shares = np.array([part.share for one in readings for part in one.colours], dtype=float)
    return colours, shares / shares.sum()


def _about(found: Colours, mean: Lab) -> Colours:
    """The same colours with another mean."""
    colours, shares = found
    return colours - shares @ colours + np.array(mean), shares
