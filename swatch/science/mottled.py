"""Mottled surfaces compared by all their colours: how far one's shares have to move to become the other's."""

from __future__ import annotations

import numpy as np

from swatch.science.colour_math import FloatArray, delta_e_2000


def moved(one: FloatArray, shares: FloatArray, other: FloatArray, other_shares: FloatArray) -> float:
    """Least mean ΔE00 by which colours have to move so that one distribution becomes the other.

    Parameters
    ----------
    one, other : (n, 3), (m, 3) float
        CIELAB.
    shares, other_shares : (n,), (m,) float
        Above zero; each is scaled to make 1.

    Returns
    -------
    float
        0 for the same distribution; of two single colours their ΔE00.

    References
    ----------
    The transport problem, as linear programming states it (Hitchcock 1941; memory).
    """
    from scipy.optimize import linprog

    n, m = len(one), len(other)
    supply = np.asarray(shares, dtype=float) / float(np.sum(shares))
    demand = np.asarray(other_shares, dtype=float) / float(np.sum(other_shares))
    cost = delta_e_2000(np.asarray(one)[:, None], np.asarray(other)[None])
    if n == 1 or m == 1:
        return float(supply @ cost @ demand)
    rows = np.zeros((n + m, n * m))
    for k in range(n):
        rows[k, k * m : (k + 1) * m] = 1.0
    for k in range(m):
        rows[n + k, k::m] = 1.0
    # One of the sums follows from the others.
    found = linprog(cost.ravel(), A_eq=rows[:-1], b_eq=np.concatenate([supply, demand])[:-1], method="highs")
    if not found.success:
        raise RuntimeError(found.message)
    return max(float(found.fun), 0.0)
