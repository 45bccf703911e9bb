"""Pairs and sets against scipy's assignment and against every possible sorting."""

from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linear_sum_assignment
from scipy.spatial.distance import cdist

from swatch.science.pairing import least_bound, matched, sets_of, spread_of


def colours(n, seed, d=3):
    x = np.random.default_rng(seed).standard_normal((n, d))
    return cdist(x, x)


def within(distance, sets):
    return sum(distance[a, b] for one in sets for a, b in combinations(one, 2))


def best_pairs(distance, left):
    if not left:
        return 0.0
    first, rest = left[0], left[1:]
    return min(distance[first, b] + best_pairs(distance, [c for c in rest if c != b]) for b in rest)


def test_lids_to_jars_as_scipy_assigns_them():
    cost = np.random.default_rng(3).random((7, 9))
    rows, columns = linear_sum_assignment(cost)
    assert sum(cost[i, j] for i, j in matched(cost)) == pytest.approx(cost[rows, columns].sum())


@pytest.mark.parametrize("seed", range(6))
def test_pairs_are_within_a_few_per_cent_of_the_best_of_all(seed):
    distance = colours(10, seed)
    sets, out = sets_of(distance, 2)
    assert not out
    best = best_pairs(distance, list(range(10)))
    assert best - 1e-9 <= within(distance, sets) <= 1.12 * best


def test_many_pairs_against_a_bound_from_scipy():
    distance = colours(120, 4, 9)
    sets, _ = sets_of(distance, 2)
    assert least_bound(distance) - 1e-9 <= within(distance, sets) <= 1.06 * least_bound(distance)


def test_a_stray_piece_is_held_back():
    distance = colours(13, 8)
    distance[5, :] += 50
    distance[:, 5] += 50
    distance[5, 5] = 0
    sets, out = sets_of(distance, 4)
    assert out == [5]
    assert len(sets) == 3
    assert max(spread_of(distance, one) for one in sets) < 50


@settings(max_examples=40)
@given(st.integers(0, 17), st.integers(2, 5), st.integers(0, 3), st.integers(0, 10**6))
def test_every_piece_is_in_one_set_or_held_back(n, size, held, seed):
    sets, out = sets_of(colours(n, seed), size, held)
    assert sorted(sum(sets, out)) == list(range(n))
    assert all(len(one) == size for one in sets)
    assert len(out) >= min(held, n)
