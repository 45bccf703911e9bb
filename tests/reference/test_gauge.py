"""Gauge R&R by analysis of variance against the example of AIAG, Measurement Systems Analysis, 4th edition (2010).

The readings are its appendix's ten parts by three appraisers, three trials each; the answers its tables A 4 and
A 5: repeatability 0.199933, reproducibility 0.226838, both 0.302373, parts 1.042327, total 1.085; the
appraiser-by-part effect has F 0.434 and is pooled. Readings from memory; the answers agree with a public copy of
the tables.
"""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from swatch.science.gauge import gauge_of, within_95

READINGS = np.array(
    [
        [[0.29, -0.56, 1.34, 0.47, -0.80, 0.02, 0.59, -0.31, 2.26, -1.36],
         [0.41, -0.68, 1.17, 0.50, -0.92, -0.11, 0.75, -0.20, 1.99, -1.25],
         [0.64, -0.58, 1.27, 0.64, -0.84, -0.21, 0.66, -0.17, 2.01, -1.31]],
        [[0.08, -0.47, 1.19, 0.01, -0.56, -0.20, 0.47, -0.63, 1.80, -1.68],
         [0.25, -1.22, 0.94, 1.03, -1.20, 0.22, 0.55, 0.08, 2.12, -1.62],
         [0.07, -0.68, 1.34, 0.20, -1.28, 0.06, 0.83, -0.34, 2.19, -1.50]],
        [[0.04, -1.38, 0.88, 0.14, -1.46, -0.29, 0.02, -0.46, 1.77, -1.49],
         [-0.11, -1.13, 1.09, 0.20, -1.07, -0.67, 0.01, -0.56, 1.45, -1.77],
         [-0.15, -0.96, 0.67, 0.11, -1.45, -0.49, 0.21, -0.49, 1.87, -2.16]],
    ]
)  # fmt: skip
STUDY = READINGS.transpose(2, 0, 1)


def test_the_published_study_comes_out():
    found = gauge_of(STUDY)
    assert np.sqrt(found.repeatability) == pytest.approx(0.199933, abs=2e-6)
    assert np.sqrt(found.reproducibility) == pytest.approx(0.226838, abs=2e-6)
    assert found.interaction == 0.0
    assert np.sqrt(found.measuring) == pytest.approx(0.302373, abs=2e-6)
    assert np.sqrt(found.zones) == pytest.approx(1.042327, abs=2e-6)
    assert np.sqrt(found.measuring + found.zones) == pytest.approx(1.085, abs=5e-4)


def test_three_directions_alike_stay_within_the_known_length():
    drawn = np.random.default_rng(1).normal(0, 0.7, (40_000, 3))
    share = (np.linalg.norm(drawn, axis=1) <= within_95(3 * 0.49)).mean()
    assert share == pytest.approx(0.95, abs=0.004)


@given(st.floats(-50, 50), st.floats(0.1, 10), st.permutations(range(10)))
def test_shift_scale_and_order_change_what_they_should(shift, scale, order):
    plain, moved = gauge_of(STUDY), gauge_of(scale * STUDY[order] + shift)
    for name in ("repeatability", "reproducibility", "interaction", "zones"):
        assert getattr(moved, name) == pytest.approx(scale**2 * getattr(plain, name), rel=1e-6, abs=1e-9)


def test_an_occasion_that_treats_zones_apart_shows_as_interaction():
    rng = np.random.default_rng(2)
    values = rng.normal(0, 1, (12, 6, 1)) + rng.normal(0, 0.2, (12, 6, 4)) + rng.normal(0, 3, (12, 1, 1))
    found = gauge_of(values)
    assert found.interaction == pytest.approx(1.0, rel=0.4)
    assert found.repeatability == pytest.approx(0.04, rel=0.3)


def test_too_small_a_study_is_no_study():
    with pytest.raises(ValueError, match="two zones"):
        gauge_of(np.zeros((1, 2, 2)))
