from __future__ import annotations

import numpy as np
import pytest

from swatch.science import optics, priors


def test_a_mixture_is_reached_through_its_quantiles():
    scipy_special = pytest.importorskip("scipy.special")
    mixture = priors.Mixture.of(((0.3, -2.0, 0.5), (0.7, 3.0, 1.0)))
    z = np.linspace(-3, 3, 25)
    value, slope = mixture(z)
    below = 0.3 * scipy_special.ndtr((value + 2) / 0.5) + 0.7 * scipy_special.ndtr(value - 3)
    assert below == pytest.approx(scipy_special.ndtr(z), abs=1e-4)
    assert (slope > 0).all()


def test_shapes_are_smooth_and_stand_apart_from_the_level():
    assert priors.MODES[0] == pytest.approx(np.ones(8))
    assert priors.MODES[1:].sum(axis=1) == pytest.approx(np.zeros(4), abs=1e-9)
    turns = [(np.diff(np.sign(mode)) != 0).sum() for mode in priors.MODES[1:]]
    assert turns == sorted(turns)


@pytest.mark.parametrize("lab", [(80, 5, 60), (35, 45, 25), (30, 5, -35), (50, -30, 20), (25, 0, 2), (90, 0, 3)])
def test_a_raw_colour_gives_a_spectrum_of_that_colour(lab):
    kind = priors.KINDS[priors.UNDERGLAZE]
    found, covariance = priors.spectrum_of_raw(np.array(lab, float), kind.mean[:5], kind.sd[:5])
    inside = optics.infinite_reflectance(np.exp(found @ priors.MODES))
    seen = optics.bands_to_lab(optics.through_surface(inside, np.full(8, priors.RAW_INNER)))
    assert np.linalg.norm(seen - lab) < 4
    assert (np.linalg.eigvalsh(covariance) > 0).all()


def test_the_raw_colour_of_a_glaze_teaches_nothing():
    raw = np.array([[40.0, 50, 20], [40.0, 50, 20]])
    two = np.array([priors.GLAZE, priors.UNDERGLAZE])
    told = priors.believe(two, raw, np.full((2, 2), np.nan))
    untold = priors.believe(two, np.full((2, 3), np.nan), np.full((2, 2), np.nan))
    assert (told.colour_mean[0] == untold.colour_mean[0]).all()
    assert not told.from_raw[0]
    assert told.from_raw[1]
    assert np.linalg.det(told.colour_root[1]) < np.linalg.det(untold.colour_root[1])
