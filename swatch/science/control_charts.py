"""Control charts over firings, and how far several numbers together lie from what was approved."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swatch.science.colour_math import FloatArray

RANGE_OF_TWO = 1.128
"""Mean range of two standard normals (d₂ of two)."""


@dataclass(frozen=True)
class Chart:
    """Points of a chart with their middle line and limits."""

    points: FloatArray
    middle: float
    lower: float
    upper: float
    spread: float
    """What the limits rest on: mean moving range, or the standard deviation of one value."""

    @property
    def outside(self) -> np.ndarray:
        """Which points lie beyond a limit (n,)."""
        return (self.points < self.lower) | (self.points > self.upper)


def individuals(values: FloatArray) -> Chart:
    """Chart single values with limits from their mean moving range.

    Parameters
    ----------
    values : (n,) float
        In the order of time, two at least.

    Returns
    -------
    Chart
        ``spread`` is the mean moving range.

    Raises
    ------
    ValueError
        Fewer than two values: nothing moves.

    References
    ----------
    NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2.
    """
    x = np.asarray(values, dtype=float)
    if len(x) < 2:
        raise ValueError("a moving range takes two values")
    middle, moving = float(x.mean()), float(np.abs(np.diff(x)).mean())
    reach = 3.0 * moving / RANGE_OF_TWO
    return Chart(x, middle, middle - reach, middle + reach, moving)


def ewma(values: FloatArray, target: float, sd: float, weight: float = 0.3) -> Chart:
    """Chart a moving mean that forgets: each point is `weight` of the new value and the rest of the last point.

    Parameters
    ----------
    values : (n,) float
        In the order of time.
    target : float
        Where the moving mean begins.
    sd : float
        Standard deviation of one value.
    weight : float
        Above 0, up to 1.

    Returns
    -------
    Chart
        Limits are those reached after many values.

    References
    ----------
    NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.4.
    """
    at, points = float(target), []
    for value in np.asarray(values, dtype=float):
        at = weight * float(value) + (1.0 - weight) * at
        points.append(at)
    reach = 3.0 * sd * float(np.sqrt(weight / (2.0 - weight)))
    return Chart(np.array(points), target, target - reach, target + reach, sd)


def covariance_of_rows(rows: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Mean (p,) and sample covariance (p, p) of rows (n, p).

    References
    ----------
    NIST/SEMATECH e-Handbook of Statistical Methods, 6.5.4.1.
    """
    x = np.asarray(rows, dtype=float)
    off = x - x.mean(axis=0)
    return x.mean(axis=0), off.T @ off / (len(x) - 1)


def hotelling(rows: FloatArray, mean: FloatArray, covariance: FloatArray) -> FloatArray:
    """Hotelling's T² of each row (n, p) from a mean (p,): squared distance in the covariance (p, p)."""
    off = np.atleast_2d(rows) - mean
    return np.asarray(np.einsum("ni,ni->n", off, np.linalg.solve(covariance, off.T).T))


def hotelling_limit(m: int, p: int, alpha: float) -> float:
    """Limit of T² for one future row, where mean and covariance are of m earlier ones.

    Returns
    -------
    float
        p (m + 1)(m − 1) / (m² − m p) · F(p, m − p); infinite where m ≤ p, since nothing can be judged then.

    References
    ----------
    NIST/SEMATECH e-Handbook of Statistical Methods, 6.5.4.3.
    """
    from scipy.special import fdtri

    if m <= p:
        return float("inf")
    return float(p * (m + 1) * (m - 1) / (m * m - m * p) * fdtri(p, m - p, 1 - alpha))
