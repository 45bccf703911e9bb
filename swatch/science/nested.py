"""Where variation comes from: groups within groups, taken apart by analysis of variance."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swatch.science.colour_math import FloatArray


@dataclass(frozen=True)
class Nested:
    """Variance components, outermost level first; the last is what is left within the innermost groups.

    ``squares`` and ``degrees`` are the sums of squares and degrees of freedom behind each.
    """

    components: FloatArray
    squares: FloatArray
    degrees: FloatArray


def nested(values: FloatArray, *levels: np.ndarray) -> Nested:
    """Estimate variance components of nested groups, which need not be of one size.

    Sums of squares are set equal to what they are expected to be; a component that would be negative is 0.

    Parameters
    ----------
    values : (n,) or (n, q) float
        With several columns, alike and independent, their components are added up.
    levels : each (n,) int
        Group of each value, outermost first. A group's code counts only within the groups around it.

    Returns
    -------
    Nested
        One component a level, and the one within. NaN where nothing tells of it (one group only).

    References
    ----------
    Expected sums of squares of unbalanced nested groups: Searle, Casella & McCulloch, Variance Components (1992),
    section 3.3, from memory. Checked against Snedecor & Cochran's turnip greens in tests/reference.
    """
    x = np.asarray(values, dtype=float).reshape(len(values), -1)
    n = len(x)
    groups = [np.zeros(n, dtype=np.intp), *_within(levels), np.arange(n)]
    sizes = [np.bincount(group).astype(float) for group in groups]
    means = [_means(x, group, size) for group, size in zip(groups, sizes, strict=True)]
    steps = len(levels) + 1
    squares, degrees = np.zeros(steps), np.zeros(steps)
    for k in range(steps):
        apart = means[k + 1][groups[k + 1]] - means[k][groups[k]]
        squares[k] = float((apart**2).sum())
        degrees[k] = len(sizes[k + 1]) - len(sizes[k])
    # Share of component j in a sum of squares k: what its groups weigh within groups k + 1 less within groups k.
    weigh = np.array(
        [[_weight(groups[k], sizes[k], groups[j]) for j in range(1, steps + 1)] for k in range(steps + 1)]
    )
    components = np.full(steps, np.nan)
    for k in range(steps - 1, -1, -1):
        if degrees[k] <= 0:
            continue
        known = np.nan_to_num(components[k + 1 :])
        left = squares[k] - float(((weigh[k + 1] - weigh[k])[k + 1 :] * known * x.shape[1]).sum())
        components[k] = max(0.0, left / (x.shape[1] * (weigh[k + 1] - weigh[k])[k]))
    return Nested(components * x.shape[1], squares, degrees * x.shape[1])


def _within(levels: tuple[np.ndarray, ...]) -> list[np.ndarray]:
    """Codes of each level that are unique over all, 0 upward."""
    found: list[np.ndarray] = []
    for level in levels:
        key = np.asarray(level)[:, None] if not found else np.stack([found[-1], np.asarray(level)], axis=1)
        found.append(np.unique(key, axis=0, return_inverse=True)[1].ravel())
    return found


def _means(x: FloatArray, group: np.ndarray, size: FloatArray) -> FloatArray:
    return np.stack([np.bincount(group, weights=column) / size for column in x.T], axis=1)


def _weight(outer: np.ndarray, size: FloatArray, inner: np.ndarray) -> float:
    """Σ n_inner² / n_outer over all inner groups' shares within outer ones."""
    pairs, counts = np.unique(np.stack([outer, inner], axis=1), axis=0, return_counts=True)
    return float((counts**2 / size[pairs[:, 0]]).sum())
