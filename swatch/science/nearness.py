"""How near a colour with its doubt is to a target: expected ΔE00, its range, and the chance it is small."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swatch.science.colour_math import delta_e_2000
from swatch.science.optics import FloatArray

QUICK_POINTS, COARSE_POINTS, FINE_POINTS = 16, 32, 1024

TAIL_FREEDOM = 5.0
"""Freedom of the Student-t of new tiles about predictions; found on invented studios (`bench.next_tests`)."""


@dataclass(frozen=True)
class Nearness:
    """Against one target, each (k,): ``expected`` ΔE00, ``low`` and ``high`` of the 80 % range, ``within``."""

    expected: FloatArray
    low: FloatArray
    high: FloatArray
    within: FloatArray

    def only(self, index: np.ndarray) -> Nearness:
        """The same for some of the colours."""
        return Nearness(self.expected[index], self.low[index], self.high[index], self.within[index])


def normal_points(count: int) -> FloatArray:
    """Even points of a standard normal in three dimensions (count, 3): mean 0, covariance the identity.

    Halton's sequence in bases 2, 3, 5 (Halton 1960) through the normal's quantiles, each with its mirror image.
    """
    from scipy.special import ndtri

    half = np.arange(1, count // 2 + 1)
    points = ndtri(np.stack([_radical_inverse(half, base) for base in (2, 3, 5)], axis=1))
    points = np.concatenate([points, -points])
    root = np.linalg.cholesky(points.T @ points / len(points))
    return np.asarray(np.linalg.solve(root, points.T).T)


def _radical_inverse(index: np.ndarray, base: int) -> FloatArray:
    out, scale, left = np.zeros(len(index)), 1.0 / base, index.copy()
    while left.any():
        out += scale * (left % base)
        left //= base
        scale /= base
    return out


def heavy_points(count: int) -> FloatArray:
    """`normal_points` moved along their rays to a Student-t's radii, the 95 % region staying where it is.

    A covariance is scaled so that its 95 % region holds what it says; what strays beyond is rare and far, so most
    tiles come nearer than a normal of that covariance says.
    """
    from scipy.special import chdtr, chdtri, fdtri

    points = normal_points(count)
    squared = (points**2).sum(axis=1)
    at = np.clip(chdtr(3, squared), 1e-9, 1 - 1e-6)
    far = fdtri(3, TAIL_FREEDOM, at) / fdtri(3, TAIL_FREEDOM, 0.95) * chdtri(3, 0.05)
    return np.asarray(points * np.sqrt(far / squared)[:, None])


_POINTS: dict[int, FloatArray] = {}


def points_of(count: int) -> FloatArray:
    """`heavy_points`, worked out once."""
    if count not in _POINTS:
        _POINTS[count] = heavy_points(count)
    return _POINTS[count]


def differences(mean: FloatArray, covariance: FloatArray, target: FloatArray, points: int) -> FloatArray:
    """ΔE00 from the target at even points of each colour's spread: (k, points), single precision."""
    root = np.linalg.cholesky(covariance).astype(np.float32)
    drawn = mean.astype(np.float32)[:, None, :] + points_of(points).astype(np.float32) @ root.transpose(0, 2, 1)
    return np.asarray(delta_e_2000(drawn, target.astype(np.float32)))


def with_target(covariance: FloatArray, target_covariance: FloatArray | None) -> FloatArray:
    """Spread of the colours together with the target's own doubt, where it has any."""
    return covariance if target_covariance is None else covariance + target_covariance


def expected_difference(
    mean: FloatArray, covariance: FloatArray, target: FloatArray, target_covariance: FloatArray | None
) -> FloatArray:
    """Expected ΔE00 (k,) from a target, from few points: for ranking many."""
    spread = with_target(covariance, target_covariance)
    return np.asarray(differences(mean, spread, target, COARSE_POINTS).mean(axis=1, dtype=np.float64))


def nearness(
    mean: FloatArray,
    covariance: FloatArray,
    target: FloatArray,
    target_covariance: FloatArray | None = None,
    tolerance: float = 2.0,
) -> Nearness:
    """How near colours (k, 3) with covariances (k, 3, 3) are to a target (3,)."""
    if not len(mean):
        none = np.zeros(0)
        return Nearness(none, none, none, none)
    off = differences(mean, with_target(covariance, target_covariance), target, FINE_POINTS).astype(np.float64)
    low, high = np.quantile(off, [0.1, 0.9], axis=1)
    return Nearness(off.mean(axis=1), low, high, (off <= tolerance).mean(axis=1))
