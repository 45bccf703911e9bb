"""The sheet in a photo: found however it lies, and nothing else taken for it."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from bench.sheet import PER_MM, photograph, picture_of, printed_sheet
from swatch.science.icc import curve_of_srgb
from swatch.science.picture import Picture
from swatch.science.sheet_finding import find_sheet_place
from swatch.science.sheet_reading import zones_from_sheet
from swatch.terms.problems import StudioProblem
from swatch.terms.sheet import Paper

SIZE = (1500, 1120)


def flat(paper=Paper.A4, per_mm=4.0, **given) -> np.ndarray:
    """A sheet scanned, as 8-bit levels (h, w, 3)."""
    image, _ = printed_sheet(paper, **given)
    levels = (255 * np.clip(image, 0, 1) ** (1 / 2.2)).astype(np.uint8)
    return cv2.resize(levels, None, fx=per_mm / PER_MM, fy=per_mm / PER_MM, interpolation=cv2.INTER_AREA)


def picture(levels: np.ndarray) -> Picture:
    return Picture("p.png", np.ascontiguousarray(levels), curve_of_srgb(256))


@pytest.mark.parametrize("quarter", range(4))
def test_a_sheet_is_found_at_every_quarter_turn(quarter):
    place = find_sheet_place(picture(np.rot90(flat(), quarter)))
    assert place.layout.code.paper is Paper.A4
    assert place.markers == (0, 1, 2, 3)
    assert place.misfit_mm < 0.2


@pytest.mark.parametrize("hidden", range(4))
def test_one_marker_may_be_hidden_and_what_lies_there_is_still_known(hidden):
    levels = flat()
    box = printed_sheet(Paper.A4)[1].markers[hidden].grown(2)
    levels[int(box.top * 4) : int(box.low * 4), int(box.left * 4) : int(box.right * 4)] = (150, 110, 90)
    place = find_sheet_place(picture(levels))
    assert hidden not in place.markers
    centre = place.points(np.array([box.centre]))[0]
    assert centre == pytest.approx(4 * np.array(box.centre), abs=2.0)


def test_with_two_hidden_nothing_is_said():
    levels = flat()
    levels[: 26 * 4] = 200
    assert find_sheet_place(picture(levels)) is None


@pytest.mark.parametrize("copy", range(2))
def test_one_copy_of_the_code_is_enough(copy):
    levels = flat()
    box = printed_sheet(Paper.A4)[1].codes[copy]
    levels[int(box.top * 4) + 8 : int(box.low * 4), int(box.left * 4) : int(box.right * 4)] = 30
    assert find_sheet_place(picture(levels)) is not None


def test_markers_without_the_code_mean_nothing():
    levels = flat()
    for box in printed_sheet(Paper.A4)[1].codes:
        levels[int(box.top * 4) : int(box.low * 4), int(box.left * 4) : int(box.right * 4)] = 255
    assert find_sheet_place(picture(levels)) is None


def test_markers_0_to_3_in_our_places_mean_nothing_and_beside_ours_do_no_harm():
    dictionary = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    layout = printed_sheet(Paper.A4)[1]
    others, beside = flat(), flat()
    for number, box in enumerate(layout.markers):
        marker = cv2.aruco.generateImageMarker(dictionary, number, 56)[..., None]
        left, top = round(box.left * 4), round(box.top * 4)
        others[top : top + 56, left : left + 56] = marker
        beside[600:656, 100 + 90 * number : 156 + 90 * number] = marker
    assert find_sheet_place(picture(others)) is None
    assert find_sheet_place(picture(beside)).markers == (0, 1, 2, 3)


def test_a_mirrored_sheet_is_refused():
    with pytest.raises(StudioProblem) as problem:
        zones_from_sheet(picture(flat()[:, ::-1]))
    assert problem.value.code == "sheet-mirrored"


def test_a_photo_without_a_sheet_has_none():
    noise = np.random.default_rng(4).integers(0, 255, (700, 900, 3), dtype=np.uint8)
    assert zones_from_sheet(picture(noise)) is None


def test_a_sheet_without_tiles_has_no_zones():
    found = zones_from_sheet(picture(flat()))
    assert found.zones == ()
    assert found.empty == (1, 2, 3, 4)
    assert [notice.code for notice in found.notices] == ["sheet-no-tiles"]


def test_sixteen_bits_and_a_small_photo():
    shot = photograph(5, Paper.A4, size=SIZE, empty=0.0)
    eight = picture_of(shot)
    deep = Picture("p.tif", eight.pixels.astype(np.uint16) * 257, curve_of_srgb(65536))
    one, two = zones_from_sheet(eight), zones_from_sheet(deep)
    assert [z.zone for z in one.zones] == [z.zone for z in two.zones] == ["1", "2", "3", "4"]
    for a, b in zip(one.zones, two.zones, strict=True):
        assert np.abs(np.array(a.polygon) - np.array(b.polygon)).max() < 2.0


def test_the_card_s_place_is_told():
    shot = photograph(6, Paper.A4, size=SIZE)
    found = zones_from_sheet(picture_of(shot))
    card = np.array(shot.layout.card.corners())
    truth = np.column_stack([card, np.ones(4)]) @ shot.to_photo.T
    assert found.card_outline == pytest.approx(truth[:, :2] / truth[:, 2:], abs=3.0)
