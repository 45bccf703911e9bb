import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from swatch.science import colour_math as cm

LABS = np.random.default_rng(3).uniform([2, -80, -80], [98, 80, 80], (400, 3))
channel = st.floats(0.0, 1.0)


def test_lab_and_xyz_are_inverse():
    np.testing.assert_allclose(cm.xyz_to_lab(cm.lab_to_xyz(LABS)), LABS, atol=1e-9)


def test_white_is_l_100():
    np.testing.assert_allclose(cm.xyz_to_lab(cm.D50), [100, 0, 0], atol=1e-9)


def test_float32_is_kept_and_close():
    single = LABS.astype(np.float32)
    found = cm.delta_e_2000(single[:200], single[200:])
    assert found.dtype == np.float32
    np.testing.assert_allclose(found, cm.delta_e_2000(LABS[:200], LABS[200:]), atol=2e-3)


def test_shapes_broadcast():
    assert cm.delta_e_2000(LABS[:, None], LABS[None, :5]).shape == (400, 5)


def test_colour_science_agrees():
    import colour

    ours = cm.delta_e_2000(LABS[:200], LABS[200:])
    np.testing.assert_allclose(ours, colour.delta_E(LABS[:200], LABS[200:], method="CIE 2000"), atol=1e-8)
    np.testing.assert_allclose(
        cm.lab_to_xyz(LABS), colour.Lab_to_XYZ(LABS, colour.CCS_ILLUMINANTS["cie_2_1931"]["D50"]), atol=1e-9
    )


def test_the_metric_is_the_small_difference():
    steps = np.random.default_rng(4).normal(size=LABS.shape) * 1e-3
    metric = cm.de00_metric(LABS)
    near = np.sqrt(np.einsum("ni,nij,nj->n", steps, metric, steps))
    # The mean hue of a pair turns with the step, so the match is to first order only.
    np.testing.assert_allclose(near, cm.delta_e_2000(LABS - steps / 2, LABS + steps / 2), rtol=1e-3)
    assert (np.linalg.eigvalsh(metric) > 0).all()


def test_the_metric_of_grey_is_finite():
    metric = cm.de00_metric([50.0, 0.0, 0.0])
    np.testing.assert_allclose(metric, np.diag([1.0, 1.5**2, 1.0]), atol=1e-9)


@given(channel, channel, channel)
def test_every_screen_colour_survives_the_way_there_and_back(r, g, b):
    import colour

    xyz = colour.sRGB_to_XYZ([r, g, b], chromatic_adaptation_transform=None)
    lab = colour.XYZ_to_Lab(
        colour.chromatic_adaptation(xyz, cm.D65, cm.D50, transform="Bradford"),
        colour.CCS_ILLUMINANTS["cie_2_1931"]["D50"],
    )
    rgb, fits = cm.lab_to_srgb(lab)
    assert fits
    np.testing.assert_allclose(rgb, [r, g, b], atol=4e-3)


def test_what_the_screen_cannot_show_keeps_lightness_and_hue():
    lab = np.array([50.0, -100.0, 30.0])
    rgb, fits = cm.lab_to_srgb(lab)
    assert not fits
    back = cm.xyz_to_lab(np.linalg.inv(cm._XYZ50_TO_SRGB) @ cm.srgb_decode(rgb))
    assert back[0] == pytest.approx(50, abs=0.3)
    assert np.arctan2(back[2], back[1]) == pytest.approx(np.arctan2(30, -100), abs=0.01)
