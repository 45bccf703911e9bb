"""How well measuring repeats: the same zones photographed again and again, taken apart by analysis of variance."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swatch.science.colour_math import FloatArray, de00_metric

POOLED_ABOVE = 0.25
"""Chance that a zone-by-occasion effect this large is luck, above which it is counted as repeatability (AIAG)."""
SPREAD_95 = 2.7955
"""Length that 95 % of vectors of three independent standard normals stay within (√7.815)."""


@dataclass(frozen=True, slots=True)
class Gauge:
    """Variances of a crossed study by analysis of variance.

    ``repeatability`` is between photos of one occasion, ``reproducibility`` between occasions (another day,
    person, lamp), ``interaction`` what occasions do to single zones, ``zones`` between the zones themselves.
    """

    repeatability: float
    reproducibility: float
    interaction: float
    zones: float

    @property
    def measuring(self) -> float:
        """Variance of one measuring: repeatability, reproducibility and interaction together."""
        return self.repeatability + self.reproducibility + self.interaction


def gauge_of(values: FloatArray) -> Gauge:
    """Take a balanced crossed study apart.

    Parameters
    ----------
    values : (zones, occasions, repeats)
        At least two zones and two repeats; with one occasion there is no reproducibility.

    Returns
    -------
    Gauge
        Variances, none below 0.

    Raises
    ------
    ValueError
        Fewer than two zones or two repeats.

    References
    ----------
    AIAG, Measurement Systems Analysis, 4th edition (2010), appendix A, as checked in tests/reference.
    """
    z, o, r = values.shape
    if z < 2 or r < 2:
        raise ValueError("a study takes two zones and two photos of each occasion at least")
    mean = values.mean()
    by_zone, by_occasion, by_cell = values.mean(axis=(1, 2)), values.mean(axis=(0, 2)), values.mean(axis=2)
    ss_zone = o * r * float(((by_zone - mean) ** 2).sum())
    ss_occasion = z * r * float(((by_occasion - mean) ** 2).sum())
    ss_cell = r * float(((by_cell - by_zone[:, None] - by_occasion + mean) ** 2).sum())
    ss_repeat = float(((values - by_cell[:, :, None]) ** 2).sum())
    df_cell, df_repeat = (z - 1) * (o - 1), z * o * (r - 1)
    repeat, cell = ss_repeat / df_repeat, ss_cell / max(df_cell, 1)
    if df_cell == 0 or _chance_of(cell / max(repeat, 1e-300), df_cell, df_repeat) > POOLED_ABOVE:
        repeat = (ss_repeat + ss_cell) / (df_repeat + df_cell)
        cell = repeat
    occasion = ss_occasion / (o - 1) if o > 1 else cell
    return Gauge(
        repeatability=repeat,
        reproducibility=max(0.0, (occasion - cell) / (z * r)),
        interaction=max(0.0, (cell - repeat) / r),
        zones=max(0.0, (ss_zone / (z - 1) - cell) / (o * r)),
    )


def colour_gauge(lab: FloatArray) -> Gauge:
    """Gauge of colours in ΔE00²: the variances of lightness, chroma and hue together, as CIEDE2000 counts them.

    Parameters
    ----------
    lab : (zones, occasions, repeats, 3)
        CIELAB of each zone. What differs between zones is told in CIELAB's own units, since it spans the colours.
    """
    middle = lab.mean(axis=(1, 2))
    evened = np.empty_like(lab)
    for k, at in enumerate(middle):
        evened[k] = (lab[k] - at) @ np.linalg.cholesky(de00_metric(at))
    parts = [gauge_of(evened[..., axis]) for axis in range(3)]
    spread = float(np.square(middle - middle.mean(axis=0)).sum() / (len(middle) - 1))
    return Gauge(
        repeatability=sum(part.repeatability for part in parts),
        reproducibility=sum(part.reproducibility for part in parts),
        interaction=sum(part.interaction for part in parts),
        zones=spread,
    )


def within_95(variance: float) -> float:
    """ΔE00 that 95 % of readings stay within, of a variance summed over three directions alike."""
    return SPREAD_95 * float(np.sqrt(max(variance, 0.0) / 3.0))


def _chance_of(ratio: float, upper: int, lower: int) -> float:
    """Chance of an F ratio at least this large."""
    from scipy.special import fdtrc

    return float(fdtrc(upper, lower, ratio))
