"""Surfaces and regions against closed forms.

Sources. Saunderson (1942), J. Opt. Soc. Am. 32, 727: R = k₁ + (1 − k₁)(1 − k₂) R∞ / (1 − k₂ R∞), here with the
share that enters told apart from the share thrown back. Chi-squared with three degrees of freedom: scipy.stats.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from swatch.science import calibrating, leaving_out
from swatch.science.optics import SURFACE_GLINT, SURFACE_PASSED, through_surface, through_surface_slopes


@pytest.mark.parametrize("inner", [0.0, 0.3, 0.55])
def test_the_surface_is_saundersons_closed_form(inner):
    inside = np.linspace(0.0, 1.0, 41)
    expected = SURFACE_GLINT + SURFACE_PASSED * (1.0 - inner) * inside / (1.0 - inner * inside)
    assert through_surface(inside, np.asarray(inner)) == pytest.approx(expected, abs=1e-12)
    assert through_surface_slopes(inside, np.asarray(inner))[0] == pytest.approx(expected, abs=1e-12)


@pytest.mark.parametrize("inner", [0.0, 0.3, 0.55])
def test_the_surface_is_the_sum_of_every_reflection_inside(inner):
    """What leaves after 0, 1, 2 … turns inside: the geometric series that the closed form sums."""
    inside = np.linspace(0.05, 0.95, 19)
    left = sum(SURFACE_PASSED * inside * (1.0 - inner) * (inner * inside) ** turn for turn in range(400))
    assert through_surface(inside, np.asarray(inner)) == pytest.approx(SURFACE_GLINT + left, abs=1e-12)


def test_regions_are_those_of_chi_squared():
    assert pytest.approx(stats.chi2(3).ppf(0.95), abs=5e-4) == calibrating.WITHIN_95
    assert pytest.approx(stats.chi2(3).ppf(0.80), abs=5e-4) == leaving_out.WITHIN_80


def test_a_spread_that_is_wrong_by_a_factor_is_found_to_be():
    random = np.random.default_rng(3)
    for factor in (0.7, 1.0, 1.6):
        distance = factor**2 * stats.chi2(3).rvs(4000, random_state=random)
        found = calibrating.scale_of(distance, 1.0)
        assert found == pytest.approx(factor, rel=0.04)
        assert (distance / found**2 <= calibrating.WITHIN_95).mean() == pytest.approx(0.95, abs=0.01)


def test_with_few_left_out_the_scale_stays_near_the_usual():
    far = np.full(3, 9.0 * calibrating.WITHIN_95)
    assert 1.0 < calibrating.scale_of(far, 1.0) < 1.5
    assert calibrating.scale_of(np.zeros(0), 1.1) == 1.1


def test_each_number_of_layers_has_a_factor_of_its_own():
    random = np.random.default_rng(4)
    depth = np.repeat([0, 1, 2], 2000)
    distance = np.array([1.0, 1.2, 1.8])[depth] ** 2 * stats.chi2(3).rvs(6000, random_state=random)
    found = calibrating.by_depth([(distance, depth)], 1.0)
    assert found == pytest.approx([1.0, 1.2, 1.8], rel=0.05)
    few = depth < 2
    alone = calibrating.by_depth([(distance[few], depth[few])], 1.0)
    assert alone[2] == pytest.approx(1.1 * calibrating.scale_of(distance[few], 1.0))


def test_layers_are_counted_up_to_three():
    material = np.array([[-1, -1, -1, -1], [4, -1, -1, -1], [4, 2, -1, -1], [4, 2, 1, -1], [4, 2, 1, 0]])
    assert calibrating.depth_of(material).tolist() == [0, 0, 1, 2, 2]
