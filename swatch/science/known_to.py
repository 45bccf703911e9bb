"""How well many colours are known, as one figure each: the ΔE00 that 95 of 100 readings stay within."""

from __future__ import annotations

import numpy as np

from swatch.science.colour_math import FloatArray, de00_metric

_FREEDOM = np.linspace(1.0, 3.0, 9)
_CHI2_95 = np.array([3.8415, 4.4322, 4.9802, 5.4974, 5.9915, 6.4672, 6.9281, 7.3766, 7.8147])
"""0.95 quantile of chi-square at these degrees of freedom (scipy.stats.chi2.ppf)."""


def known_to(labs: FloatArray, covariances: FloatArray) -> FloatArray:
    """ΔE00 within which 95 % of readings lie that are scattered as their covariance says.

    The squared distance is a sum of three squares of unlike size. A chi-square of the same mean, variance and
    skewness stands for it, which comes within 1.5 % of what draws give (``uncertainty.u95_of``), for any number of
    colours at once.

    Parameters
    ----------
    labs
        CIELAB, (n, 3).
    covariances
        Their covariances, (n, 3, 3).

    Returns
    -------
    array (n,)
        ΔE00.

    Notes
    -----
    P. Hall, "Chi squared approximations to the distribution of a sum of independent random variables",
    Ann. Probab. 11 (1983).
    """
    size = de00_metric(np.asarray(labs, dtype=float)) @ np.asarray(covariances, dtype=float)
    square = size @ size
    one, two, three = (np.maximum(np.trace(of, axis1=-2, axis2=-1), 0.0) for of in (size, square, square @ size))
    sure = three <= 0.0
    freedom = np.clip(two**3 / np.where(sure, 1.0, three**2), 1.0, 3.0)
    reach = one + np.sqrt(two / freedom) * (np.interp(freedom, _FREEDOM, _CHI2_95) - freedom)
    return np.asarray(np.sqrt(np.maximum(reach, 0.0)))
