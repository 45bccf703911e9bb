"""Colours from likeness alone."""

from __future__ import annotations

import numpy as np
import pytest

from swatch.science import likeness
from swatch.science.colour_math import delta_e_2000


def test_a_tile_like_another_is_foretold_near_it(fired):
    last = np.array([len(fired.lab) - 1])
    twin = fired.only(np.append(np.arange(len(fired.lab)), last))
    lab = twin.lab.copy()
    lab[-1] = 0.0
    setting = likeness.Setting(1.0, 0.05)
    said = likeness.colours(fired, twin.with_readings({"lab": lab}), last + 1, setting)
    middle = fired.lab.mean(axis=0)
    assert delta_e_2000(said[0], fired.lab[-1]) < 0.5 * delta_e_2000(middle, fired.lab[-1])


def test_what_is_like_nothing_is_foretold_as_the_mean(fired):
    far = fired.with_readings({"cone": np.full(len(fired.lab), 400.0)})
    said = likeness.colours(fired, far, np.array([0]), likeness.Setting(1.0, 0.05))
    assert said[0] == pytest.approx(fired.lab[likeness.told(fired)].mean(axis=0))


def test_the_setting_is_the_most_likely_of_those_tried(fired):
    random = np.random.default_rng(1)
    noise = fired.with_readings({"lab": random.normal(50, 10, fired.lab.shape)})
    assert likeness.best_setting(noise).noise == max(likeness._NOISES)
    assert likeness.best_setting(noise).length == min(likeness._LENGTHS)
