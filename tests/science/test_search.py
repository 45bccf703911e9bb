from __future__ import annotations

from itertools import permutations, product

import numpy as np
import pytest

from swatch.science import predicting, ranking, search
from swatch.science.colour_math import delta_e_2000
from swatch.science.search import Space, all_means, rank
from swatch.terms.report import Stopped, silent

TARGETS = np.array([[50, 20, 20], [40, -10, -15], [70, 0, 15], [30, 5, 5], [60, -30, 40]], dtype=float)


def _space(m, **changes):
    every = np.ones(m, dtype=bool)
    return Space(**({"allowed": every, "may_top": every, "may_under": every} | changes))


@pytest.fixture(scope="module")
def means(fitted):
    return all_means(fitted, _space(len(fitted.kind)), 0, 6.0, silent)


def _real(means):
    return np.flatnonzero(means.lab[:, 0] < 1e5)


def _layerings(means):
    material, coats = means.layers_of(_real(means))
    return {(tuple(m[m >= 0]), tuple(c[m >= 0].astype(int))) for m, c in zip(material, coats)}


def test_every_layering_within_the_limits_is_there_once(means):
    m = 12
    wanted = set()
    for layers in (1, 2, 3):
        for coats in product(range(1, 5), repeat=layers):
            if sum(coats) <= 4:
                wanted |= {(order, coats) for order in permutations(range(m), layers)}
    assert _layerings(means) == wanted
    assert means.searched == len(wanted) == len(_real(means))


def test_shared_prefixes_give_the_colours_that_predict_gives(fitted, means):
    index = np.random.default_rng(0).permutation(_real(means))[:400]
    material, coats = means.layers_of(index)
    said = fitted.predict(
        material, coats, np.zeros(material.shape, bool), np.zeros(len(index), int), np.full(len(index), 6.0)
    )
    new = said.novelty != predicting.ANOTHER_TILE
    assert means.lab[index][new] == pytest.approx(said.mean[new], abs=2e-3)


def test_four_layers_give_the_colours_that_predict_gives(fitted):
    allowed = np.zeros(len(fitted.kind), dtype=bool)
    allowed[[0, 2, 7, 8, 10]] = True
    four = all_means(fitted, _space(len(fitted.kind), allowed=allowed, max_layers=4, max_coats=5), 1, 5.0, silent)
    index = _real(four)
    material, coats = four.layers_of(index)
    assert (material >= 0).sum(axis=1).max() == 4
    said = fitted.predict(
        material, coats, np.zeros(material.shape, bool), np.ones(len(index), int), np.full(len(index), 5.0)
    )
    new = said.novelty != predicting.ANOTHER_TILE
    assert four.lab[index][new] == pytest.approx(said.mean[new], abs=3e-3)


@pytest.mark.parametrize("target", TARGETS, ids=str)
def test_the_short_list_misses_none_of_the_fifty_best(fitted, means, target):
    every = _real(means)
    expected = ranking.score(fitted, means, every, target, None)
    best = set(every[np.argsort(expected)[:50]].tolist())
    found, scored, nearest = ranking.best_of(fitted, means, target, None, 50, 2000)
    assert set(found.tolist()) == best
    assert scored <= len(every)
    assert nearest == pytest.approx(delta_e_2000(means.lab[every], target).min(), abs=1e-3)


def test_indices_and_layerings_lead_to_each_other(means):
    index = np.sort(np.random.default_rng(1).permutation(_real(means))[:300])
    material, coats = means.layers_of(index)
    assert means.index_of(material, coats).tolist() == index.tolist()
    twice, half = np.array([[3, 3, -1]]), np.array([[3, 4, -1]])
    assert not len(means.index_of(twice, np.array([[1.0, 1.0, 0.0]])))
    assert not len(means.index_of(half, np.array([[0.5, 1.0, 0.0]])))


def test_layerings_fired_before_are_scored_however_far_their_plug_in_colour_is(fitted, means):
    """Own tiles move an answer away from its plug-in colour; a target where they move it to must find it."""
    fired = ranking.fired_before(fitted, means)
    assert len(fired) > 10
    material, coats = means.layers_of(fired)
    k = len(fired)
    said = fitted.predict(material, coats, np.zeros(material.shape, bool), np.zeros(k, int), np.full(k, 6.0))
    moved = delta_e_2000(said.mean, means.lab[fired])
    for at in np.argsort(-moved)[:1]:
        every = _real(means)
        expected = ranking.score(fitted, means, every, said.mean[at], None)
        best = set(every[np.argsort(expected)[:50]].tolist())
        assert set(ranking.best_of(fitted, means, said.mean[at], None, 50, 200)[0].tolist()) == best


def test_answers_are_what_predict_says_of_them(fitted, means):
    for target in TARGETS[:3]:
        found = rank(fitted, means, target, top=20)
        k = len(found.material)
        asked = found.material, found.coats, np.zeros(found.material.shape, bool)
        said = fitted.predict(*asked, np.zeros(k, int), np.full(k, 6.0))
        assert found.mean == pytest.approx(said.mean)
        assert found.covariance == pytest.approx(said.covariance)


def test_the_best_are_ranked_by_expected_difference(fitted, means):
    found = rank(fitted, means, TARGETS[0], top=10, tolerance=3.0)
    assert len(found.material) == 10
    assert (np.diff(found.near.expected) >= 0).all()
    assert (found.near.low < found.near.expected).all()
    assert (found.near.expected < found.near.high).all()
    assert ((found.near.within >= 0) & (found.near.within <= 1)).all()
    assert found.searched == means.searched


def test_a_doubtful_target_is_harder_to_meet(fitted, means):
    sure = rank(fitted, means, TARGETS[0], top=3)
    unsure = rank(fitted, means, TARGETS[0], target_covariance=np.eye(3) * 25.0, top=3)
    assert unsure.near.expected[0] > sure.near.expected[0]


def test_masks_say_what_lies_where(fitted):
    m = len(fitted.kind)
    top, under, allowed = np.arange(m) >= 6, np.arange(m) != 7, np.arange(m) != 3
    space = _space(m, allowed=allowed, may_top=top, may_under=under, must_use=(0,))
    for materials, _coats in _layerings(all_means(fitted, space, 0, 6.0, silent)):
        assert materials[-1] >= 6
        assert 7 not in materials[:-1]
        assert 3 not in materials
        assert 0 in materials


def test_nothing_allowed_finds_nothing(fitted):
    m = len(fitted.kind)
    nothing = all_means(fitted, _space(m, allowed=np.zeros(m, dtype=bool)), 0, 6.0, silent)
    found = rank(fitted, nothing, TARGETS[0])
    assert found.searched == 0
    assert len(found.material) == 0


def test_two_that_must_be_used_together_are(fitted):
    m = len(fitted.kind)
    both = _layerings(all_means(fitted, _space(m, must_use=(1, 9)), 0, 6.0, silent))
    assert both
    assert all({1, 9} <= set(materials) for materials, _ in both)


def test_the_ten_shown_differ_from_each_other(fitted, means):
    found = rank(fitted, means, TARGETS[2], top=10, different=True)
    sets = [frozenset(row[row >= 0].tolist()) for row in found.material]
    assert len(set(sets)) == len(sets)
    assert (np.diff(found.near.expected) >= 0).all()


def test_too_large_a_space_is_refused(fitted):
    with pytest.raises(search.TooManyLayerings):
        all_means(fitted, _space(len(fitted.kind), max_layers=8, max_coats=16), 0, 6.0, silent)


def test_a_search_stops_when_told_to(fitted):
    def stop(done, total, what=""):
        raise Stopped

    with pytest.raises(Stopped):
        all_means(fitted, _space(len(fitted.kind)), 0, 6.0, stop)
