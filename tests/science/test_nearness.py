from __future__ import annotations

import numpy as np
import pytest

from swatch.science.colour_math import delta_e_2000
from swatch.science.nearness import expected_difference, nearness, normal_points

MEAN = np.array([[50.0, 20, 10], [51, 22, 10], [30, -5, -30]])
COVARIANCE = np.array([np.diag([1.0, 2, 3]), [[4, 1, 0], [1, 2, 0.5], [0, 0.5, 3]], np.diag([0.3, 9, 1])])
TARGET = np.array([50.0, 21, 11])


def test_the_points_are_even():
    points = normal_points(64)
    assert points.mean(axis=0) == pytest.approx(np.zeros(3), abs=1e-12)
    assert points.T @ points / 64 == pytest.approx(np.eye(3), abs=1e-9)


def test_expectation_range_and_chance_agree_with_very_many_draws():
    near = nearness(MEAN, COVARIANCE, TARGET, tolerance=2.0)
    random = np.random.default_rng(0)
    for i in range(3):
        off = delta_e_2000(random.multivariate_normal(MEAN[i], COVARIANCE[i], 100_000), TARGET)
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
