"""How far a zone's colour may be off, put together from what is known to go wrong."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swatch.science.calibration import Calibration
from swatch.science.colour_math import FloatArray, de00_metric

CHI2_95 = 7.815
"""95 % of the sum of three squared standard normals lies below this (memory of the chi-square tables)."""


@dataclass(frozen=True, slots=True)
class Doubts:
    """What the photo tells about its own error: left-out ΔE00 of the card's patches at their colours."""

    lab: FloatArray
    left_out: FloatArray


@dataclass(frozen=True, slots=True)
class ZoneDoubts:
    """What one zone adds: field's doubt in ln light, shares of glare, of what is near the scale's ends, noise."""

    field_ln: float
    glare_share: float
    used_share: float
    high_share: float
    low_share: float
    noise: float


LOCAL = np.array([1.0, 0.7, 0.7]) / 25.0


def local_left_out(doubts: Doubts, lab: FloatArray) -> float:
    """Left-out ΔE00 of the card near a colour: root mean square, near patches counting more."""
    apart2 = (((doubts.lab - lab) * LOCAL) ** 2).sum(axis=1)
    weight = np.exp(-0.5 * (apart2 - apart2.min()))
    return float(np.sqrt((weight * doubts.left_out**2).sum() / weight.sum()))


def zone_features(doubts: Doubts, zone: ZoneDoubts, lab: FloatArray) -> FloatArray:
    """The squared contributions, in ΔE00², that `SHARES` weighs: (7,)."""
    whole = float(np.mean(doubts.left_out**2))
    nearest = float(np.sqrt((((doubts.lab - lab) * LOCAL) ** 2).sum(axis=1).min()))
    return np.array(
        [
            local_left_out(doubts, lab) ** 2,
            whole,
            min(nearest, 3.0) ** 2,
            (np.hypot(lab[1], lab[2]) / 50.0) ** 2,
            zone.glare_share > 0,
            zone.glare_share,
            zone.low_share,
            zone.high_share,
            zone.noise**2,
            1.0,
        ]
    )


SHARES = np.array([0.1, 0.1, 0.0, 0.05, 0.1, 0.5, 0.5, 4.0, 1.0, 0.1])
"""Weights of `zone_features`, found on rendered scenes: variance in ΔE00² for each contribution."""


def zone_covariance(
    doubts: Doubts, zone: ZoneDoubts, calibration: Calibration, z: FloatArray, lab: FloatArray
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
    variance = float(SHARES @ zone_features(doubts, zone, lab))
    covariance = variance * np.linalg.inv(de00_metric(lab))
    step = 0.01
    slope = (calibration.correction(z * (1 + step)) - calibration.correction(z / (1 + step))) / (2 * step)
    covariance = covariance + zone.field_ln**2 * np.outer(slope, slope)
    return covariance, u95_of(covariance, lab)


def u95_of(covariance: FloatArray, lab: FloatArray) -> float:
    """ΔE00 that 95 % of readings with this covariance stay within."""
    metric = de00_metric(lab)
    half = np.linalg.cholesky(covariance)
    size2 = np.linalg.eigvalsh(half.T @ metric @ half)
    return float(np.sqrt(np.quantile(_DRAWS2 @ size2, 0.95)))


_DRAWS2 = np.random.default_rng(1905).standard_normal((4000, 3)) ** 2
