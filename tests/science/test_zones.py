import cv2
import numpy as np
import pytest

from swatch.science.calibration import GreyCurve
from swatch.science.colour_math import srgb_decode, srgb_encode
from swatch.science.gates import zone_warnings
from swatch.science.picture import decode
from swatch.science.zones import read_zone, straight_levels

AS_IT_IS = GreyCurve(np.array([[0.0, 1.0, 0.0]] * 3))
SQUARE = np.array([[50.0, 50.0], [250.0, 50.0], [250.0, 250.0], [50.0, 250.0]])
TILE = np.array([0.25, 0.12, 0.06])
YY, XX = np.mgrid[0:300, 0:300]


def picture(light):
    levels = np.round(255 * np.clip(srgb_encode(light), 0, 1)).astype(np.uint8)
    return decode(cv2.imencode(".png", levels[:, :, ::-1])[1].tobytes(), "zone.png")


def read(light, outline=SQUARE):
    shown = picture(light)
    return read_zone(shown, outline, straight_levels(shown, AS_IT_IS))


def plain():
    grain = np.exp(np.random.default_rng(2).normal(0, 0.02, (300, 300, 1)))
    return np.where(((XX - 150) ** 2 < 105**2)[..., None], TILE * grain, 0.8)


def spot(x, y, radius, height=0.8):
    return height * np.exp(-((XX - x) ** 2 + (YY - y) ** 2) / radius**2)[..., None]


def test_a_plain_zone_is_its_mean():
    zone = read(plain())
    np.testing.assert_allclose(zone.z, TILE, rtol=0.01)
    assert (zone.used_share, zone.glare_share, zone.lingering) == (1.0, 0.0, 0.0)


@pytest.mark.parametrize(("x", "y", "radius"), [(150, 150, 20), (90, 210, 35), (200, 120, 60)])
def test_glare_is_left_out(x, y, radius):
    zone = read(plain() + spot(x, y, radius))
    assert zone.glare_share > 0
    assert zone.used_share < 0.9
    assert zone.used_share + zone.glare_share == pytest.approx(1.0)
    assert bool(zone_warnings(zone)) == (radius > 50)
    np.testing.assert_allclose(zone.z, TILE, rtol=0.06)


def test_a_zone_mostly_lost_in_glare_is_warned_of():
    zone = read(plain() + spot(150, 150, 75))
    assert [notice.code for notice in zone_warnings(zone)] == ["zone-glare"]


def test_a_glaze_that_breaks_lighter_is_no_glare():
    lighter = np.where((np.abs(XX - 150) < 35)[..., None], np.array([2.6, 1.9, 1.2]), 1.0)
    zone = read(plain() * lighter)
    assert zone.glare_share == 0.0
    assert len(zone.blocks) > 20
    assert np.ptp(zone.blocks[:, 0]) > 0.2


def test_a_zone_wholly_lost_in_light_says_so():
    zone = read(np.ones((300, 300, 3)))
    assert zone.used_share == 0.0
    assert zone.high_share == 1.0


def test_dark_pixels_are_counted():
    assert read(np.full((300, 300, 3), 1e-5)).low_share == 1.0


@pytest.mark.parametrize("shift", [(1000, 0), (0, -1000), (248, 248)])
def test_a_zone_off_the_photo_is_none(shift):
    assert read(plain(), SQUARE + shift) is None


def test_levels_are_straightened_as_light():
    shown = picture(plain())
    np.testing.assert_allclose(straight_levels(shown, AS_IT_IS)[0, 100], srgb_decode(100 / 255), rtol=1e-4)


def test_a_colour_that_is_hardly_known_is_told_where_nothing_else_is():
    zone = read(plain())
    assert not zone_warnings(zone, u95=6.4)
    (notice,) = zone_warnings(zone, u95=6.64)
    assert (notice.code, notice.facts["u95"]) == ("zone-doubtful", 6.6)
