"""How far a zone's colour may be off, put together from what is known to go wrong.

The weights were found on scenes rendered with known truth (``bench/scenes.py``), by maximum likelihood with heavy
tails, and then scaled until d² ≤ 7.815 held for 95 % of zones and a little more.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swatch.science.calibration import Calibration
from swatch.science.colour_math import FloatArray, de00_metric

CHI2_95 = 7.815
"""95 % of the sum of three squared standard normals lies below this (memory of the chi-square tables)."""
LOCAL_WEIGHT, MEDIAN_WEIGHT, FLOOR = 0.057, 0.221, 0.065
"""Shares of the squared left-out ΔE00 near the colour and of the whole card's, and what no photo is free of."""
FAR_WEIGHT, FAR, ALONE = 0.53, 20.0, 3
"""Variance in ΔE00² where the third nearest patch lies `FAR` away in CIELAB, chroma counting less: there the
correction is an extrapolation. It grows with the square of that distance."""
LOW_WEIGHT, HIGH_WEIGHT = 14.0, 100.0
"""Per share of the zone's pixels near the bottom or the top of the scale, ΔE00²."""
GLARE_WEIGHT, LINGERING_FACTOR = 0.3, 3.0
"""Per share of the zone that glared, ΔE00²; what glare may have left, over the change seen where it was read."""
PATCHY_FREE, PATCHY_FACTOR = 0.003, 10.0
"""A camera that treats parts of a photo apart does so more on tiles than on the sheet that betrays it."""
UNEVEN_FREE, UNEVEN_FACTOR = 1.1, 0.09
"""L* by which a card's patches are read too light or dark in sound photos too; ln light that may be wrong anywhere
in the photo for each L* more: twice what the card itself shows, since it is the rule that all else is read by."""
SHADE_FREE = 0.015
"""Ln light that the sheet beside a zone is off by in sound photos too."""
BEYOND_FACTOR = 0.1
"""Standard uncertainty in L*, per L* that a zone is darker or lighter than every patch of the card."""
STRAY_DOUBT, VEIL_DOUBT = 0.85, 0.003
"""What is unknown of the stray light taken off a dark zone, over that; a glossy zone's veil, over white."""
SHAPE = np.array([0.42, 1.10, 1.48])
"""Where the error lies, in lightness, chroma and hue: lights and sensors err in hue above all."""
_MINOR_CHROMA = np.array([1.0, 0.7, 0.7])
_LOCAL = 15.0
_DRAWS2 = np.random.default_rng(1905).standard_normal((4000, 3)) ** 2


@dataclass(frozen=True, slots=True)
class CardDoubts:
    """What the photo tells about its own error: the card's colours (n, 3) and their left-out ΔE00 (n,).

    ``uneven`` is by how much its patches are read too light or dark, as a standard deviation in L*.
    """

    lab: FloatArray
    left_out: FloatArray
    patchiness: float
    uneven: float = 0.0


@dataclass(frozen=True, slots=True)
class ZoneDoubts:
    """What one zone adds to it.

    ``field_ln`` is the doubt of ln light where it lies, ``lingering`` what still seems to glare as a difference
    of straightened light, ``noise`` the standard error of its mean in ΔE00, ``shade`` ln of what the sheet beside
    it is off by, ``stray`` the stray light taken off; the rest are shares of its pixels.
    """

    field_ln: float
    glare_share: float
    lingering: float
    high_share: float
    low_share: float
    noise: float
    shade: float = 0.0
    stray: float = 0.0


def zone_covariance(
    card: CardDoubts, zone: ZoneDoubts, calibration: Calibration, z: FloatArray, lab: FloatArray
) -> tuple[FloatArray, float]:
    """Covariance of a zone's colour and its 95 % uncertainty in ΔE00.

    Parameters
    ----------
    z : (3,)
        The zone's straightened light, the field divided out.
    lab : (3,)
        Its colour.

    Returns
    -------
    covariance : (3, 3)
        Scaled so that d² ≤ 7.815 holds for 95 % of zones.
    u95_de00 : float
    """
    variance = (
        LOCAL_WEIGHT * _local_left_out(card, lab)
        + MEDIAN_WEIGHT * float(np.median(card.left_out)) ** 2
        + FAR_WEIGHT * (_apart(card, lab, ALONE) / FAR) ** 2
        + FLOOR
        + GLARE_WEIGHT * zone.glare_share
        + LOW_WEIGHT * min(zone.low_share, 0.5)
        + HIGH_WEIGHT * min(zone.high_share, 0.2)
        + zone.noise**2
    )
    axes = unit_axes(lab)
    covariance = variance * (axes.T * SHAPE) @ axes
    step = 0.01
    brighter = (calibration.correction(z * (1 + step)) - lab) / step
    field = (
        zone.field_ln**2
        + max(0.0, abs(zone.shade) - SHADE_FREE) ** 2
        + (PATCHY_FACTOR * max(0.0, card.patchiness - PATCHY_FREE)) ** 2
        + (UNEVEN_FACTOR * max(0.0, card.uneven - UNEVEN_FREE)) ** 2
    )
    covariance = covariance + field * np.outer(brighter, brighter)
    stray = STRAY_DOUBT * zone.stray + VEIL_DOUBT * (zone.glare_share > 0)
    if stray > 0:
        lighter = calibration.correction(z + stray) - lab
        covariance = covariance + np.outer(lighter, lighter)
    beyond = BEYOND_FACTOR * max(0.0, float(card.lab[:, 0].min() - lab[0]), float(lab[0] - card.lab[:, 0].max()))
    covariance[0, 0] += beyond**2
    if zone.lingering > 0:
        veiled = calibration.correction(z + LINGERING_FACTOR * zone.lingering) - lab
        covariance = covariance + np.outer(veiled, veiled)
    return covariance, u95_of(covariance, lab)


def unit_axes(lab: FloatArray) -> FloatArray:
    """Steps of ΔE00 1 in lightness, chroma and hue at a colour: (3, 3), one a row.

    A grey has no hue: there the two chromatic steps share their weight.
    """
    metric = de00_metric(lab)
    chroma = float(np.hypot(lab[1], lab[2]))
    cos, sin = (lab[1] / chroma, lab[2] / chroma) if chroma > 1e-6 else (0.0, 1.0)
    axes = np.array([[1.0, 0.0, 0.0], [0.0, cos, sin], [0.0, -sin, cos]])
    return np.asarray(axes / np.sqrt(np.einsum("ki,ij,kj->k", axes, metric, axes))[:, None])


def u95_of(covariance: FloatArray, lab: FloatArray) -> float:
    """ΔE00 that 95 % of readings with this covariance stay within."""
    half = np.linalg.cholesky(covariance)
    size2 = np.linalg.eigvalsh(half.T @ de00_metric(lab) @ half)
    return float(np.sqrt(np.quantile(_DRAWS2 @ size2, 0.95)))


def _local_left_out(card: CardDoubts, lab: FloatArray) -> float:
    """Mean squared left-out ΔE00 of the card near a colour, near patches counting more."""
    apart2 = (((card.lab - lab) * _MINOR_CHROMA / _LOCAL) ** 2).sum(axis=1)
    weight = np.exp(-0.5 * (apart2 - apart2.min()))
    return float((weight * card.left_out**2).sum() / weight.sum())


def _apart(card: CardDoubts, lab: FloatArray, rank: int) -> float:
    """Distance in CIELAB, chroma counting less, to the card's `rank`-th nearest patch."""
    apart2 = (((card.lab - lab) * _MINOR_CHROMA) ** 2).sum(axis=1)
    return float(np.sqrt(np.partition(apart2, rank - 1)[rank - 1]))
