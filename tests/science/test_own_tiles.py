"""What own tiles of a layering say of the next one."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from swatch.science import predicting
from swatch.science.own_tiles import with_own_tiles
from swatch.science.shifts import fit_studio
from swatch.terms.report import silent


@pytest.fixture(scope="module")
def small(studios):
    """Studios of 14 tiles, two layerings fired four times in each, and twenty more of those two."""
    found = []
    for seed in range(200, 208):
        studio, random = studios.make_studio(seed, "home", 4), np.random.default_rng(seed)
        base = studios.plan_tiles(studio, 8, random)
        fired = studios.fire(studio, base[:6] + [base[-1]] * 4 + [base[-2]] * 4, random, load=5)
        fit = fit_studio(fired.data, silent)
        new = studios.fire(studio, [base[-1], base[-2]] * 10, random, load=2).data
        found.append((fit, new, fit.predict(new.material, new.coats, new.wiped, new.body, new.cones_asked())))
    return found


def test_a_layering_fired_four_times_is_stated_as_tightly_as_its_tiles_and_truly(small):
    inside = []
    for _fit, new, said in small:
        assert (said.same_layering >= 4).all()
        deviation = np.sqrt(np.diagonal(said.covariance, axis1=1, axis2=2))
        assert deviation.max() < 7.0
        off = new.lab - said.mean
        inside.extend(
            np.einsum("ni,ni->n", off, np.linalg.solve(said.covariance, off[..., None])[..., 0]) <= 7.815
        )
    assert 0.90 <= np.mean(inside) <= 0.99


def test_the_models_doubt_alone_would_run_away(small, monkeypatch):
    widest = []
    monkeypatch.setattr(predicting, "beside_own_tiles", lambda _f, _s, _c, _l, mean, wide: (mean, wide))
    for fit, new, _said in small:
        alone = fit.predict(new.material, new.coats, new.wiped, new.body, new.cones_asked())
        widest.append(np.sqrt(np.diagonal(alone.covariance, axis1=1, axis2=2)).max())
    assert max(widest) > 10.0


def _joined(small, lab, rows, mean, covariance):
    fit = small[0][0]
    tiles = fit.tile_lab.copy()
    tiles[rows] = lab + fit.tile_offset[rows]
    noise = np.eye(3)
    return with_own_tiles(replace(fit, tile_lab=tiles), rows, mean, covariance, noise, noise)


def test_own_tiles_never_widen_the_doubt_and_pull_most_where_the_model_knows_least(small):
    rows, mean = np.arange(4), np.array([50.0, 10.0, 10.0])
    model = np.diag([100.0, 0.5, 9.0])
    found, covariance = _joined(small, mean + np.array([6.0, 1.0, 0.0]), rows, mean, model)
    assert np.linalg.eigvalsh(model - covariance).min() > -1e-9
    assert covariance[0, 0] < 9.0
    assert covariance[1, 1] == pytest.approx(0.5)
    assert 5.0 < found[0] - mean[0] < 6.0
    assert 0.0 < found[1] - mean[1] < 0.2
    assert found[2] == pytest.approx(mean[2])


def test_one_tile_that_contradicts_a_sure_model_hardly_counts(small):
    mean, model = np.array([50.0, 10.0, 10.0]), np.eye(3)
    found, _covariance = _joined(small, mean + np.array([40.0, 0.0, 0.0]), np.arange(1), mean, model)
    assert abs(found[0] - mean[0]) < 1.5
