"""Chances of sheen and faults among the tiles most like a layering."""

from __future__ import annotations

import numpy as np
import pytest

from swatch.science import surface


def _one(layers, coats, cone):
    return np.array([layers]), np.array([coats], dtype=float), np.array([float(cone)])


TILES = (
    np.array([[0, 1, -1], [0, 1, -1], [2, 1, -1], [1, 0, -1], [1, -1, -1]]),
    np.array([[1, 2, 0], [1, 2, 0], [1, 2, 0], [1, 2, 0], [2, 0, 0]], dtype=float),
    np.array([6.0, 4.0, 6.0, 6.0, np.nan]),
)


def test_a_tile_counts_by_the_layers_it_shares_from_the_top_and_by_its_cone():
    counts = surface.likeness(_one([0, 1], [1, 2], 6), TILES)[0]
    assert counts == pytest.approx([1.0, np.exp(-2.0), surface.SAME_TOP, 0.0, 0.0])


def test_two_layers_alike_below_another_count_less_than_all():
    tiles = (np.array([[3, 0, 1]]), np.array([[1, 1, 2.0]]), np.array([6.0]))
    assert surface.likeness(_one([0, 1], [1, 2], 6), tiles)[0, 0] == surface.SAME_TWO


def test_a_bare_body_is_like_no_tile():
    assert surface.likeness((np.zeros((1, 0), int), np.zeros((1, 0)), np.array([6.0])), TILES).sum() == 0


def test_without_tiles_like_it_the_studios_share_stands_and_with_many_their_own():
    seen = np.array([[1.0], [0.0], [0.0], [0.0]])
    none, worth = surface.chances(np.zeros((1, 4)), seen)
    assert (none[0, 0], worth[0]) == (pytest.approx(1.5 / 5), 0.0)
    many, worth = surface.chances(np.array([[500.0, 0.0, 0.0, 0.0]]), seen)
    assert many[0, 0] == pytest.approx(1.0, abs=0.01)


def test_chances_come_true_where_a_glaze_alone_decides():
    random = np.random.default_rng(2)
    chance = random.beta(0.6, 2.0, 12)
    top = random.integers(0, 12, 400)
    seen = (random.random(400) < chance[top])[:, None].astype(float)
    layers = np.stack([12 + random.integers(0, 5, 400), top], axis=1)
    data = (layers, np.ones((400, 2)), np.full(400, 6.0))
    some = slice(0, 200)
    asked = (layers[200:], np.ones((200, 2)), np.full(200, 6.0))
    said, _worth = surface.chances(
        surface.likeness(asked, (data[0][some], data[1][some], data[2][some])), seen[some]
    )
    usual = seen[some].mean()
    came = seen[200:, 0]
    assert ((said[:, 0] - came) ** 2).mean() < 0.9 * ((usual - came) ** 2).mean()
    likely = said[:, 0] > 0.5
    assert came[likely].mean() == pytest.approx(said[likely, 0].mean(), abs=0.15)
