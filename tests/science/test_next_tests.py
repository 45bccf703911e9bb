import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from swatch.science import joint, next_tests
from swatch.science.search import Space, all_means


def far(*columns):
    """ΔE00 (1 use, draws, candidates) from columns over the draws."""
    return np.array(columns, dtype=float).T[None]


def test_two_that_hit_in_different_draws_beat_the_two_best_that_hit_together():
    apart = far([1, 1, 9, 9], [1.2, 1.2, 9, 9], [9, 9, 3, 3])
    chosen = next_tests.for_targets(apart, 2, np.full((1, 4), 10.0))
    assert set(chosen.index.tolist()) == {0, 2}
    assert chosen.left == pytest.approx((1 + 1 + 3 + 3) / 4)
    assert chosen.adds.sum() + chosen.left == pytest.approx(10.0)


def test_an_exchange_mends_what_one_after_the_other_gets_wrong():
    # Alone the third is best; together the first two leave nothing.
    apart = far([0, 0, 9, 9], [9, 9, 0, 0], [4, 4, 4, 4])
    chosen = next_tests.for_targets(apart, 2, np.full((1, 4), 10.0))
    assert set(chosen.index.tolist()) == {0, 1}
    assert chosen.left == 0.0


def test_each_use_gets_its_tile():
    apart = np.full((2, 3, 4), 10.0)
    apart[0, :, :3] = 2.0
    apart[1, :, 3] = 5.0
    assert 3 in next_tests.for_targets(apart, 2, np.full((2, 3), 10.0)).index


@given(st.integers(0, 2**32 - 1), st.integers(1, 5))
def test_no_tile_is_chosen_twice_and_none_makes_it_worse(seed, count):
    random = np.random.default_rng(seed)
    apart = random.uniform(0, 10, (2, 8, 7))
    chosen = next_tests.for_targets(apart, count, np.full((2, 8), 10.0))
    assert len(set(chosen.index.tolist())) == count
    assert (chosen.adds >= -1e-12).all()


def test_what_is_learnt_of_one_number_is_as_published():
    # One number with variance 4, seen with noise of variance 1: what is left is 4 · 1/(4 + 1); the other two axes
    # of colour are known already.
    random = np.random.default_rng(0)
    draws = random.standard_normal(4000)
    draws *= 2.0 / np.sqrt((draws**2).mean())
    off = np.zeros((4000, 1, 3))
    off[:, 0, 0] = draws
    chosen = next_tests.to_teach(off, np.eye(3)[None], off, np.eye(3)[None], 1)
    assert chosen.left == pytest.approx(0.2, abs=1e-6)
    assert chosen.adds[0] == pytest.approx(0.8, abs=1e-6)


def test_a_second_tile_of_the_same_teaches_less_than_the_first():
    off = np.random.default_rng(1).standard_normal((64, 5, 3))
    chosen = next_tests.to_teach(off, np.tile(np.eye(3), (5, 1, 1)), off, np.tile(np.eye(3), (5, 1, 1)), 5)
    assert (np.diff(chosen.adds) <= 1e-9).all()
    assert 0 < chosen.left < 1


@pytest.fixture(scope="module")
def drawn(fitted):
    every = np.ones(len(fitted.kind), dtype=bool)
    means = all_means(fitted, Space(every, every, every, max_layers=2), 0, 6.0, lambda *said: None)
    index = np.flatnonzero(means.channels[0] < 1e5)[::37]
    together = joint.Together(fitted, means.spread, 6.0)
    return together, *means.layers_of(index)


def test_draws_are_about_the_prediction_and_differ_less_than_new_tiles_do(fitted, drawn):
    together, material, coats = drawn
    body, wiped = np.zeros(len(material), int), np.zeros(material.shape, bool)
    mean, off = together.strays(material, coats, body)
    said = fitted.predict(material, coats, wiped, body, np.full(len(material), 6.0))
    assert mean == pytest.approx(said.mean)
    drawn_trace = np.einsum("dki,dki->k", off, off) / len(off)
    told = np.trace(said.covariance, axis1=1, axis2=2)
    assert np.median(drawn_trace / told) < 1.0
    assert (drawn_trace > 0).all()
    again = together.strays(material, coats, body)[1]
    assert np.array_equal(off, again)


def test_scatter_of_single_tiles_has_the_noise_asked_for():
    noise = np.array([np.diag([1.0, 4.0, 9.0]), np.eye(3)])
    off = joint.scattered(noise, 128)
    assert np.einsum("dki,dkj->kij", off, off) / 128 == pytest.approx(noise, abs=1e-6)
    assert abs(np.corrcoef(off[:, 0, 0], off[:, 1, 0])[0, 1]) < 0.4
