from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from swatch.science import predicting, priors
from swatch.science.colour_math import delta_e_2000
from swatch.science.shifts import StudioFit, fit_once, fit_studio
from swatch.science.studio_data import RAW
from swatch.terms.report import Stopped, silent


def _ask(fit, rows, body=0, cone=6.0):
    width = max(len(row) for row in rows)
    material, coats = np.full((len(rows), width), -1), np.zeros((len(rows), width))
    for i, row in enumerate(rows):
        for j, (m, c) in enumerate(row):
            material[i, j], coats[i, j] = m, c
    k = len(rows)
    return fit.predict(material, coats, np.zeros((k, width), bool), np.full(k, body), np.full(k, float(cone)))


def test_new_layerings_are_foretold_far_better_than_by_the_nearest_colour(studios, studio, fired, fitted):
    random = np.random.default_rng(2)
    asked = studios.new_questions(studio, fired, 60, random, "new layering")
    new = studios.fire(studio, asked, random, load=4).data
    said = fitted.predict(new.material, new.coats, new.wiped, new.body, new.cones_asked())
    assert (said.refused == 0).all()
    off = delta_e_2000(new.lab, said.mean)
    tops = np.array([row[row >= 0][-1] for row in fired.material])
    same_top = [fired.lab[tops == row[row >= 0][-1]].mean(axis=0) for row in new.material]
    assert np.median(off) < 0.6 * np.median(delta_e_2000(new.lab, np.array(same_top)))
    assert np.median(off) < 5.5
    d = new.lab - said.mean
    distance = np.einsum("ni,nij,nj->n", d, np.linalg.inv(said.covariance), d)
    assert np.mean(distance <= 7.815) > 0.85


def test_the_same_tiles_teach_the_same_to_the_last_digit(fired, fitted):
    again = fit_studio(fired, silent)
    for name, value in fitted.arrays().items():
        assert np.array_equal(value, again.arrays()[name]), name


def test_the_order_of_the_tiles_hardly_matters(fired, fitted):
    turned = fit_once(fired.only(np.arange(len(fired.lab))[::-1]), silent)
    rows = [[(0, 2)], [(1, 1), (9, 2)], [(3, 1), (8, 1), (10, 1)]]
    assert delta_e_2000(_ask(turned, rows).mean, _ask(fitted, rows).mean).max() < 0.3


def test_a_fit_comes_back_from_its_arrays(fitted):
    kept = {name: value.copy() for name, value in fitted.arrays().items()}
    assert all(value.dtype.kind in "fib" for value in kept.values())
    back = StudioFit.from_arrays(kept)
    rows = [[(0, 2)], [(1, 1), (9, 2)]]
    one, two = _ask(fitted, rows), _ask(back, rows)
    assert np.array_equal(one.mean, two.mean)
    assert np.array_equal(one.covariance, two.covariance)


def test_a_tile_says_most_about_its_own_layering(fired, fitted):
    rows = np.flatnonzero(fired.cones_asked() == 6.0)[:20]
    said = fitted.predict(
        fired.material[rows], fired.coats[rows], fired.wiped[rows], fired.body[rows], fired.cones_asked()[rows]
    )
    assert (said.novelty == predicting.ANOTHER_TILE).all()
    assert (said.basis == predicting.OWN_TILES).all()
    assert (said.same_layering >= 1).all()
    assert np.median(delta_e_2000(said.mean, fired.lab[rows])) < 2.0


def test_what_cannot_be_known_is_refused_with_its_reason(fired):
    with_strangers = replace(
        fired,
        kind=np.append(fired.kind, [priors.GLAZE, priors.UNDERGLAZE]),
        raw_lab=np.vstack([fired.raw_lab, [[50, 20, 10], [45, 35, 25]]]),
        rated=np.vstack([fired.rated, [[5, 6], [np.nan, np.nan]]]),
        bodies=3,
    )
    fit = fit_once(with_strangers, silent)
    glaze, underglaze = len(fired.kind), len(fired.kind) + 1
    said = _ask(fit, [[(glaze, 1)], [(0, 1), (glaze, 1)], [(underglaze, 2)], [(0, 2)]])
    assert said.refused.tolist() == [predicting.MATERIAL_UNKNOWN] * 2 + [0, 0]
    assert said.refused_material.tolist() == [glaze, glaze, -1, -1]
    assert np.isnan(said.mean[:2]).all()
    assert said.novelty[2] == predicting.UNSEEN_MATERIAL
    assert said.basis[2] == predicting.RAW_ONLY
    assert np.trace(said.covariance[2]) > 2 * np.trace(said.covariance[3])
    assert _ask(fit, [[(0, 1)]], body=2).refused[0] == predicting.BODY_UNKNOWN
    assert _ask(fit, [[(0, 1)]], cone=14.0).refused[0] == predicting.CONE_BEYOND
    assert _ask(fit, [[(0, 1)]], cone=-12.0).refused[0] == predicting.CONE_BEYOND


def test_an_underglaze_known_only_raw_is_answered_near_its_raw_colour(fired):
    odd = replace(
        fired,
        kind=np.append(fired.kind, priors.UNDERGLAZE),
        raw_lab=np.vstack([fired.raw_lab, [[40, 45, 25]]]),
        rated=np.vstack([fired.rated, [[np.nan, np.nan]]]),
    )
    said = _ask(fit_once(odd, silent), [[(len(fired.kind), 3)]])
    assert delta_e_2000(said.mean[0], np.array([40.0, 45, 25])) < 12


def test_raw_readings_do_not_count_as_tiles(fired, fitted):
    stage = fired.stage.copy()
    stage[5] = RAW
    fit = fit_once(replace(fired, stage=stage), silent)
    assert fit.learnt_from == fitted.learnt_from - 1


def test_a_cone_further_from_the_tiles_is_less_sure(fired, fitted):
    m = int(fired.material[0, 0])
    spread = [np.trace(_ask(fitted, [[(m, 1)]], cone=c).covariance[0]) for c in (6.0, 7.9)]
    assert spread[0] < spread[1]


def test_witness_cones_and_missing_facts_are_taken_in_stride(fired):
    data = replace(
        fired,
        firing=np.where(np.arange(len(fired.lab)) % 5 == 0, -1, fired.firing),
        cone=np.where(np.arange(len(fired.lab)) % 10 == 0, 6.0, np.nan),
        session=np.where(np.arange(len(fired.lab)) % 3 == 0, -1, fired.session),
        witness_firing=np.array([0, 0, 1]),
        witness_shelf=np.array([0, 9, 1]),
        witness_cone=fired.firing_cone[[0, 0, 1]] + 0.7,
    )
    said = _ask(fit_once(data, silent), [[(0, 2)], [(1, 1), (9, 2)]])
    assert np.isfinite(said.mean).all()
    assert (np.linalg.eigvalsh(said.covariance) > 0).all()


def test_a_witness_cone_moves_a_firing_the_way_it_says(fired):
    shelves = np.arange(3)
    told = replace(
        fired,
        witness_firing=np.zeros(3, int),
        witness_shelf=shelves,
        witness_cone=np.full(3, fired.firing_cone[0] + 0.8),
    )
    fit, plain = fit_once(told, silent), fit_once(fired, silent)
    at, was = fit.layout.starts["firing_heat"], plain.layout.starts["firing_heat"]
    assert fit.z[at] > plain.z[was]


def test_too_little_to_learn_from_is_still_an_answer(fired):
    none = fit_once(fired.only(np.arange(0)), silent)
    assert none.learnt_from == 2  # the two bare bodies
    one = fit_studio(fired.only(np.arange(1)), silent)
    m = int(fired.material[0, 0])
    assert _ask(one, [[(m, 1)]], body=int(fired.body[0]), cone=fired.cones_asked()[0]).refused[0] == 0


def test_learning_stops_when_told_to(fired):
    def stop(done, total, what=""):
        raise Stopped

    with pytest.raises(Stopped):
        fit_studio(fired, stop)
