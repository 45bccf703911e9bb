from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import f

from swatch.science.colour_math import delta_e_2000
from swatch.science.nearness import (
    FINE_POINTS,
    TAIL_FREEDOM,
    expected_difference,
    nearness,
    normal_points,
    points_of,
)

MEAN = np.array([[50.0, 20, 10], [51, 22, 10], [30, -5, -30]])
COVARIANCE = np.array([np.diag([1.0, 2, 3]), [[4, 1, 0], [1, 2, 0.5], [0, 0.5, 3]], np.diag([0.3, 9, 1])])
TARGET = np.array([50.0, 21, 11])


def test_the_points_are_even():
    points = normal_points(64)
    assert points.mean(axis=0) == pytest.approx(np.zeros(3), abs=1e-12)
    assert points.T @ points / 64 == pytest.approx(np.eye(3), abs=1e-9)


def strays(random, covariance, count):
    """Draws of a Student-t in three dimensions whose 95 % region is that of a normal of this covariance.

    d² ≤ 7.815 holds for 95 % of a normal; of a t with ν degrees of freedom, d² ≤ 3 F(0.95; 3, ν).
    """
    freedom = TAIL_FREEDOM
    size = 7.815 / (3 * f.ppf(0.95, 3, freedom))
    normal = random.multivariate_normal(np.zeros(3), covariance * size, count)
    return normal / np.sqrt(random.chisquare(freedom, count) / freedom)[:, None]


def test_the_region_that_holds_95_percent_stays_where_it_is():
    radius = (points_of(FINE_POINTS) ** 2).sum(axis=1)
    assert (radius <= 7.815).mean() == pytest.approx(0.95, abs=0.015)
    assert (radius <= 2.366).mean() > 0.5 + 0.05  # a normal has half of its draws inside d² 2.366


def test_expectation_range_and_chance_agree_with_very_many_draws():
    near = nearness(MEAN, COVARIANCE, TARGET, tolerance=2.0)
    random = np.random.default_rng(0)
    for i in range(3):
        drawn = strays(random, COVARIANCE[i], 100_000)
        off = delta_e_2000(MEAN[i] + drawn, TARGET)
        assert near.expected[i] == pytest.approx(off.mean(), rel=0.02)
        assert near.low[i] == pytest.approx(np.quantile(off, 0.1), rel=0.08)
        assert near.high[i] == pytest.approx(np.quantile(off, 0.9), rel=0.04)
        assert near.within[i] == pytest.approx((off <= 2.0).mean(), abs=0.025)
    assert expected_difference(MEAN, COVARIANCE, TARGET, None) == pytest.approx(near.expected, rel=0.06)


def test_the_targets_own_doubt_counts():
    sure = nearness(MEAN, COVARIANCE, TARGET).expected
    unsure = nearness(MEAN, COVARIANCE, TARGET, 9 * np.eye(3)).expected
    both = nearness(MEAN, COVARIANCE + 9 * np.eye(3), TARGET).expected
    assert (unsure[:2] > sure[:2]).all()
    assert unsure == pytest.approx(both)


def test_no_colours_no_answer():
    assert len(nearness(np.zeros((0, 3)), np.zeros((0, 3, 3)), TARGET).expected) == 0
