from __future__ import annotations

import numpy as np
import pytest

from swatch.science import layered, priors
from swatch.science.layered import Latents, Stack

KINDS = np.arange(6)
RAW = np.full((6, 3), np.nan)
RAW[0] = [45, 30, 20]
RATED = np.full((6, 2), np.nan)
RATED[1] = [5, 6]


@pytest.fixture(scope="module")
def beliefs():
    return priors.believe(KINDS, RAW, RATED)


def _case(layers, seed=0, n=12):
    random = np.random.default_rng([seed, layers])
    material = np.array([random.permutation(6)[:layers] for _ in range(n)], dtype=int).reshape(n, layers)
    coats = random.integers(1, 4, (n, layers)).astype(float)
    stack = Stack(material, coats, random.random((n, layers)) < 0.3, random.integers(0, 2, n))
    at = [random.normal(size=(6, 16)), random.normal(size=(2, 7)), random.normal(size=3)]
    return stack, at, random.uniform(0, 9, n)


@pytest.mark.parametrize("layers", [0, 1, 2, 3, 4])
def test_slopes_are_those_of_small_steps(beliefs, layers):
    stack, at, cone = _case(layers)
    _, slopes = layered.colour_with_slopes(beliefs, Latents(*at), stack, cone)
    step = 1e-4

    def moved(part, index, by):
        near = [x.copy() for x in at]
        near[part][index] += by
        return layered.colour_with_slopes(beliefs, Latents(*near), stack, cone)[0]

    up = layered.colour_with_slopes(beliefs, Latents(*at), stack, cone + step)[0]
    down = layered.colour_with_slopes(beliefs, Latents(*at), stack, cone - step)[0]
    assert slopes.heat == pytest.approx((up - down) / 2 / step, abs=1e-4, rel=1e-4)
    random = np.random.default_rng(layers)
    for material, latent in zip(random.integers(0, 6, 24), random.permutation(np.arange(24) % 16)):
        numeric = (moved(0, (material, latent), step) - moved(0, (material, latent), -step)) / 2 / step
        here = (stack.material == material)[:, None, :]
        # Quantile maps are read from tables, so their slopes are those of the tables.
        assert (slopes.material[:, :, :, latent] * here).sum(axis=2) == pytest.approx(numeric, abs=0.03, rel=0.02)
    for latent in range(7):
        numeric = (moved(1, (1, latent), step) - moved(1, (1, latent), -step)) / 2 / step
        assert slopes.body[:, :, latent] * (stack.body == 1)[:, None] == pytest.approx(numeric, abs=1e-4)
    for latent in range(3):
        numeric = (moved(2, latent, step) - moved(2, latent, -step)) / 2 / step
        assert slopes.shared[:, :, latent] == pytest.approx(numeric, abs=1e-4)


def test_thickness_slopes_are_those_of_more_coats(beliefs):
    stack, at, cone = _case(2)
    lab, slopes = layered.colour_with_slopes(beliefs, Latents(*at), stack, cone)
    thicker = Stack(stack.material, stack.coats * np.array([1.0, np.exp(1e-4)]), stack.wiped, stack.body)
    more, _ = layered.colour_with_slopes(beliefs, Latents(*at), thicker, cone)
    assert slopes.thickness[:, :, 1] == pytest.approx((more - lab) / 1e-4, abs=0.02, rel=1e-3)


def test_wiping_leaves_less_of_a_wash(beliefs):
    wash = int(np.flatnonzero(KINDS == priors.WASH)[0])
    at = Latents(np.zeros((6, 16)), np.zeros((1, 7)), np.zeros(3))
    body = Stack(np.zeros((1, 0), int), np.zeros((1, 0)), np.zeros((1, 0), bool), np.zeros(1, int))

    def light(wiped):
        stack = Stack(np.array([[wash]]), np.ones((1, 1)), np.array([[wiped]]), np.zeros(1, int))
        return layered.colour_with_slopes(beliefs, at, stack, np.array([6.0]))[0][0, 0]

    bare = layered.colour_with_slopes(beliefs, at, body, np.array([6.0]))[0][0, 0]
    assert light(False) < light(True) < bare


def test_colour_creeps_up_into_a_melting_glaze_but_not_into_a_cold_one(beliefs):
    gate = layered.creep_gate(np.array([-3.0, 6.0]), np.array([6.0, 6.0]))
    assert gate[0] < 0.15
    assert gate[1] > 0.9
