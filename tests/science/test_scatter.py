"""What a studio's own tiles tell of scatter: by method, and of makers' charts."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from swatch.science import fit
from swatch.science.scatter import scatter_of_materials
from swatch.science.shifts import fit_once
from swatch.science.studio_data import BRUSHED, DIPPED, MAKER, METHOD_UNKNOWN, POURED, SPRAYED
from swatch.terms.report import silent


@pytest.fixture(scope="module")
def half_sprayed(studios):
    """120 tiles, half brushed with ln thickness scattering .15, half sprayed with .3."""
    studio = studios.make_studio(8, "home", 10)
    random = np.random.default_rng(4)
    return studios.fire(studio, studios.plan_tiles(studio, 120, random), random, sprayed=0.5).data


def test_scatter_is_learnt_whatever_the_method_is_called(half_sprayed):
    told = fit_once(half_sprayed, silent)
    assert told.method_sd[SPRAYED] > 1.5 * told.method_sd[BRUSHED]
    other = np.where(half_sprayed.method == BRUSHED, DIPPED, POURED)
    found = fit_once(replace(half_sprayed, method=other), silent).method_sd
    assert found[POURED] > 1.2 * found[DIPPED]
    assert found[SPRAYED] == pytest.approx(fit.THICKNESS_SD[SPRAYED])  # nobody sprayed


def test_a_material_that_is_sprayed_is_less_sure(half_sprayed):
    brushed = fit_once(replace(half_sprayed, method=np.full(120, BRUSHED)), silent)
    sprayed = fit_once(replace(half_sprayed, method=np.full(120, SPRAYED)), silent)
    assert (sprayed.thickness_sd > brushed.thickness_sd).all()


def test_materials_take_the_scatter_of_the_methods_they_are_put_on_by():
    material = np.array([[0, -1]] * 20 + [[1, 0]] * 20)
    method = np.array([BRUSHED] * 20 + [SPRAYED] * 20)
    sd = scatter_of_materials(material, method, fit.THICKNESS_SD, 3)
    assert fit.THICKNESS_SD[BRUSHED] < sd[0] < sd[1] < fit.THICKNESS_SD[SPRAYED]
    assert sd[0] < sd[2] < sd[1]
    none = scatter_of_materials(np.zeros((0, 2), int), np.zeros(0, int), fit.THICKNESS_SD, 2)
    assert none == pytest.approx(fit.THICKNESS_SD[METHOD_UNKNOWN])


def charts_of(data, bias, scatter):
    """The studio's readings, and the first layers of each once more as a maker prints them."""
    random = np.random.default_rng(6)
    rows = np.arange(0, len(data.lab), 2)
    twice = data.only(np.concatenate([np.arange(len(data.lab)), rows]))
    lab, stage = twice.lab.copy(), twice.stage.copy()
    lab[-len(rows) :] += np.array(bias) + random.normal(0, scatter, (len(rows), 3))
    stage[-len(rows) :] = MAKER
    new = np.arange(len(lab)) >= len(data.lab)
    none = {name: np.where(new, -1, getattr(twice, name)) for name in ("firing", "session", "shelf", "body")}
    cone = np.where(new, twice.cones_asked(), twice.cone)
    return twice.with_readings({**none, "lab": lab, "stage": stage, "cone": cone})


def test_charts_that_are_all_off_alike_hardly_move_a_prediction(fired, fitted):
    questions = (fired.material, fired.coats, fired.wiped, fired.body, fired.cones_asked())
    plain = fit_once(fired, silent).predict(*questions).mean
    bias = np.array([9.0, 5.0, -4.0])
    charted = fit_once(charts_of(fired, bias, 1.0), silent)
    assert np.median(np.linalg.norm(charted.predict(*questions).mean - plain, axis=1)) < 1.5
    s = charted.layout.starts
    learnt = fit.MAKER_BIAS_SD * charted.z[s["offset"] : s["firing_heat"]].reshape(-1, 3)[-1]
    assert learnt == pytest.approx(bias, abs=3.0)


def test_charts_that_scatter_count_for_less(fired):
    unseen = int(fired.material[:, 0].max())
    said = []
    for scatter in (1.0, 12.0):
        data = charts_of(fired, (4.0, 0.0, 0.0), scatter)
        own = (data.stage != MAKER) & (data.material == unseen).any(axis=1)
        fit_ = fit_once(data.only(~own), silent)
        ask = (np.array([[unseen]]), np.array([[2.0]]), np.array([[False]]), np.array([0]), np.array([6.0]))
        answer = fit_.predict(*ask)
        assert answer.refused[0] == 0
        said.append(np.trace(answer.covariance[0]))
    assert said[0] < said[1]
