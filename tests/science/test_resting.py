"""The tiles said to carry a prediction are those that move it."""

from __future__ import annotations

import numpy as np

from swatch.science import folds, resting
from swatch.science.shifts import fit_once
from swatch.terms.report import silent


def _question(fired, row):
    material, coats, wiped, body, cone = folds.question_of(fired, np.array([row]))
    return material, coats + (material >= 0), wiped, body, cone


def _found(fitted, question, top=40):
    return resting.resting_on(fitted, question, fitted.predict(*question), top)


def test_a_tile_that_carries_much_moves_the_answer_more_than_one_that_carries_little(fired, fitted):
    question = _question(fired, 24)
    found = _found(fitted, question)
    assert (np.diff(found.pull) <= 0).all()
    assert ((found.pull > 0) & (found.pull <= 1)).all()
    was = fit_once(fired, silent).predict(*question).mean[0]
    moved = []
    for row in (int(found.row[0]), int(found.row[-1])):
        lab = fired.lab.copy()
        lab[row] += 3.0
        now = fit_once(fired.with_readings({"lab": lab}), silent).predict(*question).mean[0]
        moved.append(np.linalg.norm(now - was))
    assert moved[0] > 2.0 * moved[1]


def test_only_tiles_with_its_materials_are_named(fired, fitted):
    question = _question(fired, 30)
    used = set(question[0][question[0] >= 0].tolist())
    for row in _found(fitted, question).row:
        assert used & set(fired.material[row].tolist())


def test_one_more_tile_leaves_less_doubt_but_never_less_than_a_tiles_own_scatter(fired, fitted):
    question = _question(fired, 24)
    now = fitted.predict(*question).covariance[0]
    then = _found(fitted, question).one_more
    assert np.linalg.eigvalsh(now - then).min() > -1e-9
    assert np.trace(then) < np.trace(now)
    assert np.linalg.eigvalsh(then - fitted.measuring).min() > -1e-9
