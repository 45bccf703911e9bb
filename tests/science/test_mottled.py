"""Mottled surfaces compared by their colours and shares."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swatch.science.colour_math import delta_e_2000
from swatch.science.mottled import moved
from swatch.terms.colour import Lab
from swatch.terms.editions import MottledReading, Role
from swatch.terms.holding import LoadCheck, LoadVerdict, RegionChange
from swatch.terms.measured import ColourShare
from swatch.work.mottled import with_mottled


def some(seed, n):
    rng = np.random.default_rng(seed)
    return np.column_stack([rng.uniform(20, 80, n), rng.normal(0, 15, (n, 2))]), rng.dirichlet(np.ones(n))


def test_of_two_single_colours_it_is_their_difference():
    one, other = np.array([[50.0, 2.0, -8.0]]), np.array([[55.0, 1.0, 3.0]])
    assert moved(one, np.ones(1), other, np.ones(1)) == pytest.approx(float(delta_e_2000(one, other)[0]))


def test_equal_shares_are_moved_as_the_best_assignment_moves_them():
    """With equal shares the transport problem is the assignment problem, which scipy solves by itself."""
    from scipy.optimize import linear_sum_assignment

    one, other = some(1, 6)[0], some(2, 6)[0]
    cost = delta_e_2000(one[:, None], other[None])
    rows, columns = linear_sum_assignment(cost)
    assert moved(one, np.ones(6), other, np.ones(6)) == pytest.approx(cost[rows, columns].mean())


@settings(max_examples=25)
@given(st.integers(1, 5), st.integers(1, 5), st.integers(0, 10**6))
def test_it_is_none_for_the_same_and_alike_both_ways(n, m, seed):
    one, other = some(seed, n), some(seed + 1, m)
    assert moved(*one, *one) == pytest.approx(0.0, abs=1e-6)
    assert moved(*one, *other) == pytest.approx(moved(*other, *one), abs=1e-6)
    mean = float(one[1] @ delta_e_2000(one[0][:, None], other[0][None]) @ other[1])
    assert moved(*one, *other) <= mean + 1e-9


def reading(piece, role, dark, firing="F1"):
    """A breaking glaze: dark on the edges, light on the flats; its mean is 50 whatever the contrast."""
    colours = (ColourShare(Lab(50 - dark, 0, 0), 0.5), ColourShare(Lab(50 + dark, 0, 0), 0.5))
    return MottledReading("E", piece, "inside", firing, role, colours)


def test_a_surface_that_broke_less_is_seen_although_its_mean_held():
    mean = Lab(50.0, 0.0, 0.0)
    plain = RegionChange("outside", mean, mean, 0.0)
    load = LoadCheck(
        "F2", None, 2, 0.0, 0.0, 0.0, LoadVerdict.HOLDS, (), Lab(0, 0, 0),
        (RegionChange("Inside", mean, mean, 0.0), plain), (), 1.0, 2.0,
    )  # fmt: skip
    readings = [reading(f"a{k}", Role.APPROVED, dark) for k, dark in enumerate((14.0, 15.0, 16.0))]
    readings += [reading("p", Role.PIECE, 3.0, "F2")]
    (found,) = with_mottled([load], readings)
    inside, outside = found.regions
    assert inside.by_colours > 8.0
    assert inside.by_colours_ordinarily < 2.0
    assert outside == plain
    assert with_mottled([load], readings[1:2] + readings[3:]) == (load,)  # one approved piece tells nothing
