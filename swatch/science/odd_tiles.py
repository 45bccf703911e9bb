"""Readings that do not fit the others: mislabelled, perhaps, or put on otherwise than recorded."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swatch.science import predicting
from swatch.science.colour_math import delta_e_2000
from swatch.science.leaving_out import LAYERING, LeftOut, as_read, squares
from swatch.science.optics import FloatArray
from swatch.science.shifts import StudioFit
from swatch.science.studio_data import FIRED, StudioData

FALSE_ALARMS = 0.2
"""Share of the readings named that may be sound; a studio without any fault names one in one case of five."""

TAIL_FREEDOM = 8.0
"""Left-out errors have heavier tails than a normal: they are taken as Student-t, three dimensions together."""

SEEN_DE00 = 4.0
"""A reading nearer than this to what the others say is let pass: nobody would see it on the shelf."""


@dataclass(frozen=True)
class OddTiles:
    """Readings that do not fit the others: their rows in the studio's readings, oddest first, and how far off."""

    row: np.ndarray
    de00: FloatArray


def chance_of(distance: FloatArray) -> FloatArray:
    """Chance of a squared distance as large in the predicted spread, which holds 95 % within 7.815."""
    from scipy.special import fdtrc, fdtri

    stretch = fdtri(3.0, TAIL_FREEDOM, 0.95) / 7.815
    return np.asarray(fdtrc(3.0, TAIL_FREEDOM, stretch * np.maximum(distance, 0.0)))


def odd_tiles(data: StudioData, fitted: StudioFit, left: LeftOut) -> OddTiles:
    """The studio's own readings that are improbable given all the others and their own doubt, oddest first.

    Each is looked at twice: against what fits without its whole layering say, where it was left out, and
    against the model's own spread, which it hardly moves if it is odd, since the fit resists it.
    """
    own = data.stage == FIRED
    off = np.zeros(len(data.lab))
    chance = np.ones(len(data.lab))
    real = np.flatnonzero(fitted.tile_row >= 0)
    real = real[own[fitted.tile_row[real]]]
    rows = fitted.tile_row[real]
    material, coats, wiped = fitted.tile_material[real], fitted.tile_coats[real], fitted.tile_wiped[real]
    body, cone = fitted.tile_body[real], fitted.tile_cone[real]
    said = predicting.predict(fitted, material, coats, wiped, body, cone, by_the_model_alone=True)
    fine = said.refused == 0
    rows, real = rows[fine], real[fine]
    spread = as_read(said.covariance[fine], data.covariance[rows], fitted.measuring)
    residual = fitted.tile_residual[real]
    chance[rows] = chance_of(squares(residual, spread))
    off[rows] = delta_e_2000(fitted.tile_lab[real], fitted.tile_lab[real] - residual)
    outside = left.of(LAYERING)
    for row, less, de00 in zip(outside.row, chance_of(outside.distance), outside.de00, strict=True):
        if less < chance[row]:
            chance[row], off[row] = less, de00
    odd = np.flatnonzero(own & (off > SEEN_DE00))
    odd = odd[np.argsort(chance[odd], kind="stable")]
    # Two looks at each reading: twice as many chances of a false alarm.
    odd = odd[: improbable(2.0 * chance[odd], int(own.sum()))]
    return OddTiles(odd, off[odd])


def improbable(chance: FloatArray, of: int) -> int:
    """How many of the smallest chances, rising, are too small among so many looked at.

    Where several are improbable each may be a little less so: the k-th is held against k times the limit of the
    first, so that of those named no more than `FALSE_ALARMS` are sound, on average.

    References
    ----------
    Benjamini & Hochberg (1995), J. R. Statist. Soc. B 57, 289.
    """
    few = np.flatnonzero(of * chance < FALSE_ALARMS * np.arange(1, len(chance) + 1))
    return int(few[-1]) + 1 if len(few) else 0
