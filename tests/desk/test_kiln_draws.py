from __future__ import annotations

import numpy as np

from swatch.desk.kiln_draws import draws, draws_of
from swatch.screens.gallery_samples import suggestions
from swatch.terms.colour import Covariance, Lab

MEAN, SPREAD = Lab(50.0, 10.0, -20.0), Covariance(4.0, 1.0, -0.5, 3.0, 0.8, 2.0)


def test_draws_never_flicker():
    prediction = suggestions()[0].prediction
    assert draws_of(prediction) == draws_of(suggestions()[0].prediction)
    assert draws_of(prediction) != draws_of(suggestions()[1].prediction)
    assert len(draws_of(prediction)) == 12


def test_many_draws_have_the_mean_and_covariance_asked_for():
    many = np.array(draws(MEAN, SPREAD, "many", 20_000))
    assert np.abs(many.mean(axis=0) - MEAN).max() < 0.06
    assert np.abs(np.cov(many.T) - np.array(SPREAD.rows())).max() < 0.12


def test_a_small_change_of_the_prediction_moves_each_draw_a_little():
    moved = Covariance(4.05, 1.0, -0.5, 3.0, 0.8, 2.02)
    before, after = np.array(draws(MEAN, SPREAD, "s")), np.array(draws(MEAN, moved, "s"))
    assert np.abs(before - after).max() < 0.1


def test_a_covariance_that_rounding_left_indefinite_still_draws():
    out = draws(MEAN, Covariance(1.0, 1.001, 0.0, 1.0, 0.0, 0.0), "x")
    assert np.isfinite(np.array(out)).all()
    assert all(lab.b == MEAN.b for lab in out)


def test_lightness_stays_on_the_scale():
    out = draws(Lab(1.0, 0.0, 0.0), Covariance(400.0, 0, 0, 1.0, 0, 1.0), "dark", 200)
    assert min(lab.L for lab in out) == 0.0
