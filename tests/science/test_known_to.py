"""One figure for how well a colour is known, for many colours at once."""

import numpy as np
import pytest

from swatch.science.known_to import known_to
from swatch.science.uncertainty import u95_of


def test_it_agrees_with_draws_whatever_the_shape_of_the_doubt():
    random = np.random.default_rng(7)
    labs = np.column_stack([random.uniform(10, 95, 60), random.uniform(-60, 60, (60, 2))])
    halves = random.normal(size=(60, 3, 3)) * random.uniform(0.05, 2.0, (60, 1, 3))
    covariances = halves @ halves.swapaxes(1, 2) + 1e-6 * np.eye(3)
    told = known_to(labs, covariances)
    assert told == pytest.approx([u95_of(c, lab) for c, lab in zip(covariances, labs, strict=True)], rel=0.02)


def test_it_is_the_square_root_of_chi_squares_quantile_for_one_and_for_three_directions():
    """0.95 quantiles of chi-square for 1 and 3 degrees of freedom: 3.841 and 7.815 (any table of it)."""
    grey = np.array([[50.0, 0.0, 0.0]])
    one = known_to(grey, np.diag([1.0, 0.0, 0.0])[None])
    assert one == pytest.approx(np.sqrt(3.841), rel=1e-3)
    from swatch.science.colour_math import de00_metric

    three = known_to(grey, np.linalg.inv(de00_metric(grey[0]))[None])
    assert three == pytest.approx(np.sqrt(7.815), rel=1e-3)


def test_what_is_known_for_sure_is_known_to_nothing():
    assert known_to(np.array([[50.0, 1.0, 2.0]]), np.zeros((1, 3, 3))) == pytest.approx(0.0)
