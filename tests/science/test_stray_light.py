"""Stray light: a zone darker than the card's black patch is not read too light, and others are left alone."""

import numpy as np
import pytest

from bench.painted import chart, jpeg_of, paint
from swatch.science.calibration import MOST_STRAY, STRAY, less_stray, stray_light
from swatch.science.measuring import decode, measure

BLACK = 20.5  # L* of the chart's blackest patch


def test_only_zones_darker_than_the_card_lose_stray_light():
    card = chart().lab
    taken = [stray_light(np.array([L, 0.0, 0.0]), card) for L in (2.0, 10.0, 18.0, 30.0, 80.0)]
    assert taken == sorted(taken, reverse=True)
    assert 0 < taken[1] < taken[0] <= STRAY
    assert taken[3] == taken[4] == 0.0


def test_light_is_never_taken_off_below_a_share_of_itself():
    z = np.array([[0.001, 0.02, 0.5]])
    np.testing.assert_allclose(less_stray(z, 0.003), [[0.001 * (1 - MOST_STRAY), 0.017, 0.497]])


@pytest.mark.parametrize("flare", [0.0, 0.004])
def test_dark_tiles_are_read_within_their_doubt_with_and_without_stray_light(flare):
    tiles = ((12.0, 2.0, -3.0), (8.0, 0.0, 0.0), (15.0, 4.0, 4.0))
    painted = paint(tiles)
    painted.light[:] += flare
    found = measure(decode(jpeg_of(painted), "dark.jpg"), chart(), painted.zones, photo="dark.jpg")
    for zone in found.zones:
        off = np.array(zone.lab) - painted.truth[zone.zone]
        assert off @ np.linalg.solve(zone.covariance.rows(), off) < 7.815
        assert abs(off[0]) < 3.0
