"""Which pieces belong together: pairs and sets that differ least, and pieces to pieces of another kind."""

from __future__ import annotations

import numpy as np

from swatch.science.colour_math import FloatArray

FAR = 1e6
"""Cost of what may not be; no two colours are so far apart."""
MOST_SWAPS = 4000


def matched(cost: FloatArray) -> list[tuple[int, int]]:
    """Match rows to columns (lids to jars) so that the costs add up to the least.

    Parameters
    ----------
    cost : (n, m) float

    Returns
    -------
    list of (row, column)
        min(n, m) of them, by row.
    """
    from scipy.optimize import linear_sum_assignment

    rows, columns = linear_sum_assignment(np.asarray(cost, dtype=float))
    return list(zip(rows.tolist(), columns.tolist(), strict=True))


def least_bound(distance: FloatArray) -> float:
    """A sum that no pairing of all pieces can be below: half of the best assignment of each to another one."""
    cost = np.array(distance, dtype=float)
    np.fill_diagonal(cost, FAR)
    return float(sum(cost[i, j] for i, j in matched(cost)) / 2)


def sets_of(distance: FloatArray, size: int, held_back: int = 0) -> tuple[list[list[int]], list[int]]:
    """Sort pieces into sets whose members differ least from each other.

    Starts from a cheap sorting (for pairs, the best assignment of each to another one) and swaps two pieces of
    different sets as long as that helps. A better one may exist; for pairs `least_bound` says by how much at most.

    Parameters
    ----------
    distance : (n, n) float
        Symmetric, 0 on the diagonal.
    size : int
        Pieces of a set, two at least.
    held_back : int
        Pieces to keep out, those that suit the others least. What does not fill a set is kept out too.

    Returns
    -------
    list of sets
        Each its pieces' indices in order; sets in the order of their first piece.
    list of int
        The pieces kept out.

    Raises
    ------
    ValueError
        A set has fewer than two pieces.
    """
    if size < 2:
        raise ValueError("a set has two pieces at least")
    d = np.asarray(distance, dtype=float)
    n = len(d)
    sets = max(0, (n - held_back) // size)
    if sets == 0:
        return [], list(range(n))
    group = _paired_off(d, sets) if size == 2 else _in_a_row(d, sets, size)
    group = _swapped(d, group, sets)
    found = [np.flatnonzero(group == g).tolist() for g in range(sets)]
    return sorted(found), np.flatnonzero(group == sets).tolist()


def spread_of(distance: FloatArray, members: list[int]) -> float:
    """Largest distance between two members of a set."""
    return float(np.asarray(distance)[np.ix_(members, members)].max())


def _lonely_last(d: FloatArray) -> np.ndarray:
    """Pieces in the order of how near their nearest others are, the loneliest last."""
    near = np.sort(d, axis=1)[:, 1 : min(len(d), 4)].sum(axis=1)
    return np.argsort(near, kind="stable")


def _paired_off(d: FloatArray, sets: int) -> np.ndarray:
    """Pairs from the cycles of the best assignment of each piece to another one; odd ones are paired greedily."""
    n = len(d)
    group = np.full(n, sets)
    chosen = np.sort(_lonely_last(d)[: 2 * sets])
    cost = d[np.ix_(chosen, chosen)].copy()
    np.fill_diagonal(cost, FAR)
    follows = dict(matched(cost))
    left: list[int] = []
    pairs: list[tuple[int, int]] = []
    seen: set[int] = set()
    for start in range(len(chosen)):
        cycle = []
        at = start
        while at not in seen:
            seen.add(at)
            cycle.append(at)
            at = follows[at]
        if len(cycle) % 2:
            # The piece whose leaving makes the rest of an odd ring cheapest waits for one of another ring.
            costs = [sum(cost[a, b] for a, b in _around(cycle, k)) for k in range(len(cycle))]
            k = int(np.argmin(costs))
            left.append(cycle[k])
            pairs += _around(cycle, k)
        elif cycle:
            one = list(zip(cycle[::2], cycle[1::2], strict=True))
            other = list(zip(cycle[1::2], [*cycle[2::2], cycle[0]], strict=True))
            pairs += min(one, other, key=lambda ring: sum(cost[a, b] for a, b in ring))
    while left:
        a = left.pop(0)
        b = left.pop(int(np.argmin([cost[a, other] for other in left])))
        pairs.append((a, b))
    for g, pair in enumerate(pairs):
        group[chosen[list(pair)]] = g
    return group


def _around(cycle: list[int], without: int) -> list[tuple[int, int]]:
    rest = cycle[without + 1 :] + cycle[:without]
    return list(zip(rest[::2], rest[1::2], strict=True))


def _in_a_row(d: FloatArray, sets: int, size: int) -> np.ndarray:
    """Each set around the piece with the nearest company among those left."""
    n = len(d)
    group = np.full(n, sets)
    free = np.ones(n, dtype=bool)
    for g in range(sets):
        left = np.flatnonzero(free)
        near = np.sort(d[np.ix_(left, left)], axis=1)[:, :size].sum(axis=1)
        first = left[int(np.argmin(near))]
        members = left[np.argsort(d[first, left], kind="stable")[:size]]
        group[members] = g
        free[members] = False
    return group


def _swapped(d: FloatArray, group: np.ndarray, sets: int) -> np.ndarray:
    """Swap two pieces of different sets while the distances within sets fall; those kept out cost nothing."""
    group = group.copy()
    rows = np.arange(len(d))
    member = np.zeros((len(d), sets + 1))
    member[rows, group] = 1.0
    to_set = d @ member
    to_set[:, sets] = 0.0
    for _ in range(MOST_SWAPS):
        own = to_set[rows, group]
        counts = (group < sets).astype(float)
        there = to_set[:, group]  # [i, j]: piece i to the set of piece j
        change = there - own[:, None] + there.T - own[None, :] - d * (counts[:, None] + counts[None, :])
        change[group[:, None] == group[None, :]] = 0.0
        i, j = divmod(int(np.argmin(change)), len(d))
        if change[i, j] > -1e-9:
            break
        g, h = group[i], group[j]
        to_set[:, g] += d[:, j] - d[:, i]
        to_set[:, h] += d[:, i] - d[:, j]
        to_set[:, sets] = 0.0
        group[i], group[j] = h, g
    return group
