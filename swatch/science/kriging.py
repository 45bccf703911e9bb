"""A plain Gaussian process: what readings say of each other by likeness alone, whatever the optics."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swatch.science.optics import FloatArray


@dataclass(frozen=True)
class Process:
    """A Gaussian process given its readings: ``root`` the lower root of their covariance, ``weight`` (n, c)."""

    root: FloatArray
    weight: FloatArray
    likelihood: float
    """Log marginal likelihood of all channels."""

    def mean(self, cross: FloatArray) -> FloatArray:
        """Expected values (k, c) at places with covariance ``cross`` (k, n) to the readings."""
        return np.asarray(cross @ self.weight)

    def variance(self, cross: FloatArray, own: FloatArray) -> FloatArray:
        """Variance (k,) left at places with variance ``own`` (k,) beforehand."""
        from scipy.linalg import solve_triangular

        half = solve_triangular(self.root, cross.T, lower=True, check_finite=False)
        return np.asarray(np.maximum(own - (half**2).sum(axis=0), 0.0))


def given(covariance: FloatArray, noise: FloatArray, values: FloatArray) -> Process:
    """Condition a process of mean zero on readings.

    Parameters
    ----------
    covariance : (n, n) float
        Of the process at the readings.
    noise : (n,) float
        Variance of each reading about it.
    values : (n, c) float
        Readings of c channels alike.

    References
    ----------
    Rasmussen & Williams (2006), Gaussian Processes for Machine Learning, algorithm 2.1.
    """
    from scipy.linalg import cho_solve

    root = np.linalg.cholesky(covariance + np.diag(noise))
    weight = cho_solve((root, True), values, check_finite=False)
    n, channels = values.shape
    fit = -0.5 * float((values * weight).sum())
    likelihood = fit - channels * (float(np.log(np.diag(root)).sum()) + 0.5 * n * float(np.log(2.0 * np.pi)))
    return Process(root, np.asarray(weight), likelihood)


def squared_exponential(left: FloatArray, right: FloatArray, lengths: FloatArray) -> FloatArray:
    """Likeness exp(−½ Σ((x − y)/length)²) of places (k, d) and (n, d)."""
    a, b = left / lengths, right / lengths
    squared = (a**2).sum(axis=1)[:, None] + (b**2).sum(axis=1) - 2.0 * a @ b.T
    return np.asarray(np.exp(-0.5 * np.maximum(squared, 0.0)))
