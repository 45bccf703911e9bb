"""Colours as they are stored and said: CIELAB, D50, 2 degree observer, with their doubt."""

from __future__ import annotations

from typing import NamedTuple


class Lab(NamedTuple):
    """A CIELAB colour, D50, 2 degree observer."""

    L: float
    a: float
    b: float


class Covariance(NamedTuple):
    """The six different entries of a 3×3 covariance of (L*, a*, b*)."""

    LL: float
    La: float
    Lb: float
    aa: float
    ab: float
    bb: float

    def is_possible(self) -> bool:
        """Tell whether every direction has some variance: all leading minors above 0."""
        (a, b, c), (_, d, e), (_, _, f) = self.rows()
        return a > 0 and a * d > b * b and a * (d * f - e * e) - b * (b * f - c * e) + c * (b * e - c * d) > 0

    def rows(self) -> list[list[float]]:
        """Return the full symmetric matrix, row by row."""
        return [[self.LL, self.La, self.Lb], [self.La, self.aa, self.ab], [self.Lb, self.ab, self.bb]]


def covariance_of(rows: list[list[float]]) -> Covariance:
    """Keep the upper triangle of a symmetric 3×3 matrix."""
    return Covariance(*(float(rows[i][j]) for i, j in ((0, 0), (0, 1), (0, 2), (1, 1), (1, 2), (2, 2))))
