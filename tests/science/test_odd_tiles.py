"""Readings that do not fit the others are named, and hardly ever any other."""

from __future__ import annotations

import numpy as np
import pytest

from swatch.science import leaving_out
from swatch.science.colour_math import delta_e_2000
from swatch.science.odd_tiles import FALSE_ALARMS, TAIL_FREEDOM, chance_of, improbable, odd_tiles
from swatch.science.shifts import fit_studio
from swatch.science.studio_data import MAKER
from swatch.terms.report import silent


def _odd(data):
    fit = fit_studio(data, silent)
    return odd_tiles(data, fit, leaving_out.left_out(data, fit, silent))


def test_tiles_with_the_wrong_label_are_named(studios, studio):
    random = np.random.default_rng(4)
    plan = studios.plan_tiles(studio, 70, random)
    data = studios.fire(studio, plan, random).data
    wrong = [20, 33, 51]
    material = data.material.copy()
    for i in wrong:
        used = material[i][material[i] >= 0]
        far = delta_e_2000(data.lab, data.lab[i]) * (data.material[:, 1] < 0)
        stranger = int(np.argmax(far))
        material[i] = data.material[stranger]
        assert set(used.tolist()) != set(material[i][material[i] >= 0].tolist())
    coats = np.where(material >= 0, np.maximum(data.coats, 1), 0)
    mixed = data.with_readings({"material": material, "coats": coats})
    odd = _odd(mixed)
    assert len(set(wrong) & set(odd.row.tolist())) >= 2
    assert len(odd.row) <= 5


def test_a_studio_without_a_fault_names_none_or_one(fired, fitted):
    assert len(odd_tiles(fired, fitted, leaving_out.left_out(fired, fitted, silent)).row) <= 1


def _moved(fired, row, by):
    lab = fired.lab.copy()
    lab[row] += by
    return fired.with_readings({"lab": lab})


def test_a_reading_is_judged_by_the_doubt_it_states_itself(fired):
    row, by = 20, np.array([0.0, 30.0, 0.0])
    moved = _moved(fired, row, by)
    assert row in _odd(moved).row
    covariance = fired.covariance.copy()
    covariance[row] = 15.0**2 * np.eye(3)
    assert row not in _odd(moved.with_readings({"covariance": covariance})).row


def test_a_makers_chart_is_never_named(fired):
    row = 20
    stage = fired.stage.copy()
    stage[row] = MAKER
    moved = _moved(fired, row, np.array([0.0, 30.0, 0.0])).with_readings({"stage": stage})
    assert row not in _odd(moved).row


def test_the_chance_of_a_distance_is_that_of_a_student_t():
    from scipy import stats

    distance = np.array([0.0, 3.0, 7.815, 25.0])
    stretch = 3 * stats.f.ppf(0.95, 3, TAIL_FREEDOM) / 7.815
    assert chance_of(distance) == pytest.approx(stats.f.sf(distance * stretch / 3, 3, TAIL_FREEDOM))
    assert chance_of(np.array([7.815]))[0] == pytest.approx(0.05)


def test_where_several_are_improbable_each_may_be_a_little_less_so():
    assert improbable(np.array([0.0019, 0.0039, 0.0059, 0.5]), 100) == 3
    assert improbable(np.array([0.0021, 0.0041, 0.0061, 0.5]), 100) == 0
    assert improbable(np.array([0.0019, 0.5, 0.5]), 100) == 1
    assert improbable(np.zeros(0), 100) == 0


def test_sound_readings_are_rarely_called_improbable():
    chances = np.sort(np.random.default_rng(5).random((2000, 100)), axis=1)
    assert np.mean([improbable(row, 100) > 0 for row in chances]) == pytest.approx(FALSE_ALARMS, abs=0.03)
