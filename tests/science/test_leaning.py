"""The leaning of glazes beyond the card: smaller errors on cameras not learnt from, less of it where in doubt."""

import numpy as np
import pytest

from bench.leanings import drawn
from bench.measure import chart
from swatch.science.card import Card
from swatch.science.colour_math import delta_e_2000
from swatch.science.leaning import FURTHEST, Leaning, lab_terms, leaning_of, learnt_leanings

ALL = np.ones(24, bool)


@pytest.mark.parametrize("kind", ["bands", "colourants", "measured"])
def test_glazes_of_cameras_not_learnt_from_are_read_no_worse_and_mostly_better(kind):
    shipped = learnt_leanings()
    plain, leant = [], []
    for seed in range(950_000, 950_012):
        z, seen, read, truth = drawn(seed, kind)
        plain.append(delta_e_2000(read, truth))
        leant.append(delta_e_2000(shipped.of(z, seen)(read), truth))
    before, after = (np.concatenate(one) for one in (plain, leant))
    assert after.mean() < (1.03 if kind == "measured" else 1.0) * before.mean()


def test_a_patch_that_cannot_be_used_is_not_needed():
    z, _, read, _ = drawn(960_000, "bands")
    hidden = ALL.copy()
    hidden[[3, 11]] = False
    wrong = z.copy()
    wrong[[3, 11]] = 0.7
    shipped = learnt_leanings()
    same, near = (shipped.of(one, hidden)(read) for one in (z, wrong))
    np.testing.assert_array_equal(same, near)
    whole = shipped.of(z, ALL)(read)
    assert np.median(delta_e_2000(same, whole)) < 0.5


def test_the_stranger_a_camera_the_less_is_taken():
    z, seen, _, _ = drawn(960_001, "bands")
    shipped = learnt_leanings()
    strange = z * np.exp(np.random.default_rng(1).normal(0, 0.5, z.shape))
    assert shipped.scores(strange, seen)[1] > 20 * shipped.scores(z, seen)[1]
    scores = np.concatenate([[1.0], shipped.scores(strange, seen)[0]])
    full = np.tensordot(scores, shipped.weights, axes=1)
    assert np.abs(shipped.of(strange, seen).weights).max() < 0.15 * np.abs(full).max()


def test_no_colour_is_moved_far():
    far = Leaning(np.full((20, 3), 100.0))
    assert np.abs(far(np.array([[50.0, 0.0, 0.0]])) - [50.0, 0.0, 0.0]).max() == FURTHEST
    assert lab_terms(np.zeros((2, 5, 3))).shape == (2, 5, 20)


def test_another_card_has_no_leaning():
    card = chart()
    other = Card("of my own", card.rows, card.columns, card.lab)
    assert leaning_of(other, np.full((24, 3), 0.5), ALL) is None
    assert leaning_of(card, np.full((24, 3), 0.5), ALL) is not None
