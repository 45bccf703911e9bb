"""Colours by one neutral point: rough but within their doubt, and refused where the point cannot serve."""

import numpy as np
import pytest

from bench import photo_formats
from bench.painted import jpeg_of, paint
from swatch.science.colour_math import SRGB_TO_XYZ50
from swatch.science.icc import primaries_of_profile
from swatch.science.measuring import decode
from swatch.science.neutral import doubt_by_neutral, measure_by_neutral
from swatch.terms.measured import Verdict
from swatch.terms.problems import StudioProblem

PAPER, FRAME = (450.0, 40.0), (53.0, 300.0)


def test_a_tinted_photo_is_read_within_its_doubt_by_its_paper():
    painted = paint(tint=(1.1, 1.0, 0.75))
    picture = decode(jpeg_of(painted), "a.jpg")
    for lightness in (None, 93.0):
        found = measure_by_neutral(picture, painted.zones, PAPER, photo="a.jpg", lightness=lightness)
        assert found.verdict is Verdict.USABLE
        assert found.card is None
        assert [notice.code for notice in found.warnings] == ["neutral-only"]
        for zone in found.zones:
            off = np.array(zone.lab) - painted.truth[zone.zone]
            assert off @ np.linalg.solve(zone.covariance.rows(), off) < 7.815
            assert zone.u95_de00 > 5.0
            if lightness is not None:
                assert abs(off[0]) < 2.0


@pytest.mark.parametrize(
    ("point", "more", "reason"),
    [
        ((2.0, 2.0), {}, "outside"),
        ((5000.0, 10.0), {}, "outside"),
        (PAPER, {"exposure": 1.3}, "too bright"),
        (FRAME, {"exposure": 0.2}, "too dark"),
        ((500.0, 100.0), {}, "not even"),
        (PAPER, {"tint": (1.1, 1.0, 0.3)}, "coloured"),
    ],
)
def test_a_point_that_cannot_serve_is_told(point, more, reason):
    painted = paint(**more)
    with pytest.raises(StudioProblem, match="neutral-unusable") as told:
        measure_by_neutral(decode(jpeg_of(painted), "a.jpg"), painted.zones, point, photo="a.jpg")
    assert told.value.facts["reason"] == reason


def test_doubt_grows_with_chroma_and_shrinks_where_lightness_is_known():
    grey, strong = np.array([60.0, 1.0, 0.0]), np.array([60.0, 50.0, 0.0])
    assert np.trace(doubt_by_neutral(strong, False)) > np.trace(doubt_by_neutral(grey, False))
    assert np.trace(doubt_by_neutral(grey, True)) < np.trace(doubt_by_neutral(grey, False))


def test_primaries_are_those_the_profile_states():
    found = primaries_of_profile(photo_formats.matrix_profile("sRGB", 2.2))
    np.testing.assert_allclose(found, SRGB_TO_XYZ50, atol=2e-3)


def test_primaries_of_a_spoilt_profile_are_none():
    assert primaries_of_profile(b"") is None
    assert primaries_of_profile(b"x" * 400) is None
