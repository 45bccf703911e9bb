import numpy as np
import pytest

from swatch.science.calibration import calibrate
from swatch.science.colour_math import de00_metric, delta_e_2000, lab_to_xyz
from swatch.science.uncertainty import CHI2_95, CardDoubts, ZoneDoubts, u95_of, unit_axes, zone_covariance

RNG = np.random.default_rng(5)
CARD_LAB = np.vstack([
    np.column_stack([RNG.uniform(25, 85, 18), RNG.uniform(-40, 40, (18, 2))]),
    np.column_stack([np.linspace(20, 95, 6), np.zeros((6, 2))]),
])  # fmt: skip
NEUTRAL = np.arange(24) >= 18
LIGHT = np.clip(lab_to_xyz(CARD_LAB) @ np.array([[2.0, -0.5, -0.2], [-0.6, 1.5, 0.0], [0.0, -0.1, 1.1]]), 0.005, 1)
CALIBRATION = calibrate(LIGHT, CARD_LAB, NEUTRAL, np.ones((24, 3)))
GOOD = CardDoubts(CARD_LAB, np.full(24, 1.5), 0.001)
PLAIN = ZoneDoubts(field_ln=0.005, glare_share=0.0, lingering=0.0, high_share=0.0, low_share=0.0, noise=0.05)
Z = CALIBRATION.curve(LIGHT[3])


def doubt(card=GOOD, z=Z, lab=None, **more):
    values = {name: getattr(PLAIN, name) for name in PLAIN.__slots__} | more
    lab = CALIBRATION.correction(z) if lab is None else np.array(lab)
    return zone_covariance(card, ZoneDoubts(**values), CALIBRATION, z, lab)


@pytest.mark.parametrize("lab", [[50, 0, 0], [70, 40, 60], [30, -20, -35], [92, 1, -2]])
def test_steps_along_the_axes_are_of_one_de00(lab):
    lab = np.array(lab, dtype=float)
    for axis in unit_axes(lab):
        assert delta_e_2000(lab - axis / 200, lab + axis / 200) == pytest.approx(0.01, rel=1e-3)


def test_u95_holds_19_of_20_draws():
    lab = np.array([55.0, 20.0, 30.0])
    covariance, u95 = doubt(lab=lab)
    draws = RNG.multivariate_normal(np.zeros(3), covariance, 20_000)
    size = np.sqrt(np.einsum("ni,ij,nj->n", draws, de00_metric(lab), draws))
    assert np.mean(size <= u95) == pytest.approx(0.95, abs=0.01)
    d2 = np.einsum("ni,ij,nj->n", draws, np.linalg.inv(covariance), draws)
    assert np.mean(d2 <= CHI2_95) == pytest.approx(0.95, abs=0.01)


@pytest.mark.parametrize(
    "worse",
    [
        {"field_ln": 0.05},
        {"glare_share": 0.4},
        {"lingering": 0.02},
        {"high_share": 0.05},
        {"low_share": 0.2},
        {"noise": 1.0},
        {"card": CardDoubts(CARD_LAB, np.full(24, 4.0), 0.001)},
        {"card": CardDoubts(CARD_LAB, np.full(24, 1.5), 0.015)},
        {"card": CardDoubts(CARD_LAB, np.full(24, 1.5), 0.001, uneven=2.5)},
        {"lab": [8.0, 1.0, 1.0]},
    ],
)
def test_every_trouble_widens_the_doubt(worse):
    lab = CALIBRATION.correction(Z)
    plain = doubt(lab=np.array([22.0, 1.0, 1.0]) if "lab" in worse else lab)[1]
    assert doubt(**worse)[1] > 1.02 * plain


def test_far_from_every_patch_more_is_doubted():
    lab = CALIBRATION.correction(Z)
    lone = CardDoubts(np.vstack([CARD_LAB[:1] * 0 + lab, CARD_LAB[18:]]), np.full(7, 1.5), 0.001)
    assert doubt(card=lone, lab=lab)[1] > 1.02 * doubt(lab=lab)[1]


def test_brightness_is_doubted_along_brightness():
    lab = CALIBRATION.correction(Z)
    more = doubt(field_ln=0.1)[0] - doubt(field_ln=0.0)[0]
    along = np.linalg.eigh(more)[1][:, -1]
    brighter = CALIBRATION.correction(Z * 1.05) - lab
    assert abs(along @ brighter) / np.linalg.norm(brighter) > 0.99


def test_u95_of_equal_doubt_all_round_is_its_chi_square():
    lab = np.array([50.0, 10.0, 10.0])
    assert u95_of(np.linalg.inv(de00_metric(lab)), lab) == pytest.approx(np.sqrt(CHI2_95), rel=0.02)
