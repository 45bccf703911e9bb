"""Which stripes tell a firing's heat best."""

from itertools import combinations

import numpy as np
import pytest

from swatch.science.button_heat import heat_of_buttons
from swatch.science.button_plan import KEPT_READINGS, choose_stripes, told_by


def sd(changes, buttons=3):
    told = heat_of_buttons(np.zeros((len(changes), 3)), changes, buttons, np.zeros(3), KEPT_READINGS)
    return np.sqrt(told.variance)


@pytest.mark.parametrize("seed", range(4))
def test_stripes_taken_one_by_one_are_nearly_the_best_of_all_sets(seed):
    rng = np.random.default_rng(seed)
    covered, bare = rng.normal(0, 1.5, (8, 3)), rng.normal(0, 0.8, (5, 3))
    found = choose_stripes(covered, bare, 3)
    assert len(set(found.covered)) == 4
    still = np.argsort(np.linalg.norm(bare, axis=1))[:2]
    assert sorted(found.bare) == sorted(still)
    best = min(sd(np.concatenate([covered[list(four)], bare[still]])) for four in combinations(range(8), 4))
    assert best - 1e-12 <= found.sd <= 1.03 * best
    assert found.sd == pytest.approx(sd(np.concatenate([covered[list(found.covered)], bare[list(found.bare)]])))


def test_four_good_stripes_tell_the_heat_to_less_than_a_witness_cone():
    """About ±0.08 cones for stripes that change by 3 ΔE a cone, as found by simulation."""
    covered = 3.0 * np.array([[1, 0, 0], [0, 1, 0], [0, 0, 1], [-0.6, 0.6, 0.5]])
    found = choose_stripes(covered, np.full((2, 3), 0.1), 3)
    assert 0.04 < found.sd < 0.10
    assert choose_stripes(covered, np.full((2, 3), 0.1), 1).sd > found.sd


def test_stripes_that_hardly_answer_tell_nothing():
    assert choose_stripes(np.full((4, 3), 0.05), np.zeros((2, 3)), 3).sd is None
    assert choose_stripes(np.zeros((0, 3)), np.zeros((2, 3)), 3).covered == ()
    assert told_by(np.zeros((0, 3)), 3) is None
