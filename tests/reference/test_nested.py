"""Nested variance components against Snedecor & Cochran, Statistical Methods (1967), p. 286.

Calcium in turnip greens: four plants, three leaves of each, two determinations of each leaf. Sums of squares
7.560346, 2.630200, 0.079850; components 0.365223, 0.161060, 0.006654, as in a public copy of the analysis.
"""

import numpy as np
import pytest

from swatch.science.nested import nested

CALCIUM = np.array(
    [3.28, 3.09, 3.52, 3.48, 2.88, 2.80, 2.46, 2.44, 1.87, 1.92, 2.19, 2.19,
     2.77, 2.66, 3.74, 3.44, 2.55, 2.55, 3.78, 3.87, 4.07, 4.12, 3.31, 3.31]
)  # fmt: skip
PLANT = np.repeat(np.arange(4), 6)
LEAF = np.tile(np.repeat(np.arange(3), 2), 4)


def test_turnip_greens():
    found = nested(CALCIUM, PLANT, LEAF)
    assert found.squares == pytest.approx([7.560346, 2.630200, 0.079850], abs=1e-6)
    assert found.degrees.tolist() == [3, 8, 12]
    assert found.components == pytest.approx([0.365223, 0.161060, 0.006654], abs=1e-6)


def test_three_columns_alike_add_up():
    found = nested(np.stack([CALCIUM] * 3, axis=1), PLANT, LEAF)
    assert found.components == pytest.approx(3 * np.array([0.365223, 0.161060, 0.006654]), abs=3e-6)


def test_groups_of_unequal_size_give_what_was_put_in():
    random = np.random.default_rng(11)
    sums = np.zeros(3)
    for _ in range(200):
        values, outer, inner = [], [], []
        for firing in range(9):
            shift = random.normal(0, 2.0)
            for shelf in range(random.integers(2, 5)):
                there = shift + random.normal(0, 1.0)
                for _piece in range(random.integers(1, 6)):
                    values.append(there + random.normal(0, 1.5))
                    outer.append(firing)
                    inner.append(shelf)
        sums += nested(np.array(values), np.array(outer), np.array(inner)).components
    assert sums / 200 == pytest.approx([4.0, 1.0, 2.25], rel=0.15)


def test_what_one_group_cannot_tell_is_not_told():
    found = nested(np.array([1.0, 2.0, 4.0]), np.zeros(3, int), np.zeros(3, int))
    assert np.isnan(found.components[:2]).all()
    assert found.components[2] == pytest.approx(np.var([1, 2, 4], ddof=1))
