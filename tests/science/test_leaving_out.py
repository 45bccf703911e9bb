from __future__ import annotations

import numpy as np
import pytest

from swatch.science import folds, leaving_out
from swatch.science.shifts import fit_studio
from swatch.terms.report import silent


@pytest.fixture(scope="module")
def left(fired, fitted):
    return leaving_out.left_out(fired, fitted, silent)


def test_every_kind_of_question_beats_the_nearest_tile(left):
    for question in (leaving_out.LAYERING, leaving_out.CONE, leaving_out.FIRING):
        some = left.of(question)
        assert len(some.row) > 8
        assert np.median(some.de00) < np.median(some.nearest)
        assert np.median(some.de00) < np.median(some.shifted)
        assert np.median(some.de00) < np.median(some.alike)
        assert np.mean(some.distance <= 7.815) > 0.75


def test_whole_layerings_are_left_out_and_each_once(fired):
    masks = [folds.by_layering(fired, fold) for fold in range(folds.FOLDS)]
    assert (np.sum(masks, axis=0) == folds.tested(fired)).all()
    code = folds.layering_codes(fired)
    for mask in masks:
        assert not set(code[mask]) & set(code[~mask])


def test_a_cone_is_left_out_only_of_materials_fired_at_another(fired):
    asked = fired.cones_asked()
    for group in folds.cone_groups(fired):
        shared = set.intersection(*(set(row[row >= 0].tolist()) for row in fired.material[group]))
        assert any(
            (np.abs(asked[(fired.material == m).any(axis=1)] - asked[group][0]) > 0.75).any() for m in shared
        )


def test_twins_are_found_and_repeats_are_not(fired):
    lone = np.flatnonzero((fired.material >= 0).all(axis=1))[:2]
    doubled = fired.only(np.append(np.arange(len(fired.lab)), lone))
    assert not folds.twins(fired)[lone].any()
    assert folds.twins(doubled)[-2:].all()
    zone = np.full(len(doubled.lab), -1)
    zone[[lone[0], -2]] = 0
    assert folds.twins(doubled.with_readings({"zone": zone}))[-2:].tolist() == [False, True]


def test_a_studio_too_small_to_leave_any_out_says_nothing(fired):
    few = fired.only(np.arange(4))
    fit = fit_studio(few, silent)
    assert len(leaving_out.left_out(few, fit, silent).row) == 0
