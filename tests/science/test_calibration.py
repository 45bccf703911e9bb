import numpy as np
import pytest

from swatch.science import calibration as cal
from swatch.science.colour_math import delta_e_2000, lab_to_xyz, srgb_encode

RNG = np.random.default_rng(8)
LAB = np.vstack([
    np.column_stack([RNG.uniform(25, 85, 24), RNG.uniform(-35, 35, (24, 2))]),
    np.column_stack([np.linspace(20, 95, 6), np.zeros((6, 2))]),
])  # fmt: skip
NEUTRAL = np.arange(30) >= 24
# Camera light whose white is grey: its primaries are a mixture of XYZ over the white.
MIX = np.array([[1.3, -0.25, -0.05], [-0.35, 1.3, 0.05], [0.02, -0.1, 1.08]])
FLAT = np.ones((30, 3))


def camera(lab, gain=(0.8, 0.9, 0.7), gamma=1.0):
    from swatch.science.colour_math import D50

    return np.clip(lab_to_xyz(lab) / D50 @ MIX.T, 1e-3, None) ** gamma * gain


def test_a_camera_that_is_a_matrix_is_undone():
    made = cal.calibrate(camera(LAB), LAB, NEUTRAL, FLAT)
    assert delta_e_2000(made.lab(camera(LAB)), LAB).max() < 0.6


@pytest.mark.parametrize("gamma", [0.8, 1.25])
def test_another_tone_curve_is_undone(gamma):
    made = cal.calibrate(camera(LAB, gamma=gamma), LAB, NEUTRAL, FLAT)
    assert np.median(delta_e_2000(made.lab(camera(LAB, gamma=gamma)), LAB)) < 0.8


def test_exposure_and_white_balance_do_not_matter():
    dim = cal.calibrate(camera(LAB, (0.4, 0.3, 0.5)), LAB, NEUTRAL, FLAT).lab(camera(LAB, (0.4, 0.3, 0.5)))
    bright = cal.calibrate(camera(LAB), LAB, NEUTRAL, FLAT).lab(camera(LAB))
    assert delta_e_2000(dim, bright).max() < 0.1


def test_a_known_field_is_divided_out():
    field = np.exp(RNG.normal(0, 0.1, (30, 1))) * FLAT
    made = cal.calibrate(camera(LAB) * field, LAB, NEUTRAL, field)
    assert np.median(delta_e_2000(made.lab(camera(LAB) * field, field), LAB)) < 0.6


def test_root_terms_scale_with_exposure():
    z = RNG.uniform(0.01, 1, (10, 3))
    np.testing.assert_allclose(cal.root_terms(3 * z), 3 * cal.root_terms(z))


def test_the_fit_is_nearer_in_de00_than_least_squares_of_xyz():
    seen = srgb_encode(camera(LAB)) ** 2.0 + RNG.normal(0, 0.003, (30, 3))
    curve = cal.fit_grey_curve(seen[NEUTRAL], lab_to_xyz(LAB[NEUTRAL])[:, 1], FLAT[NEUTRAL])
    z = curve(seen)
    terms = cal.root_terms(z)
    plain = np.linalg.lstsq(terms, lab_to_xyz(LAB), rcond=None)[0].T
    from swatch.science.colour_math import xyz_to_lab

    ours = cal.fit_correction(z, LAB, gp_share=0.0)(z)
    assert (delta_e_2000(ours, LAB) ** 2).mean() < (delta_e_2000(xyz_to_lab(terms @ plain.T), LAB) ** 2).mean()
