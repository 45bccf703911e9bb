"""Tiles on the sheet: which slots hold one, and how a tile is parted."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from bench.sheet import PER_MM, linear, printed_sheet
from swatch.science.icc import curve_of_srgb
from swatch.science.picture import Picture
from swatch.science.sheet_reading import zones_from_sheet
from swatch.science.tile_outlines import zone_outlines
from swatch.terms.sheet import Paper, Split

TILE = np.array([[0.0, 0.0], [50.0, 0.0], [50.0, 100.0], [0.0, 100.0]])


@pytest.mark.parametrize(
    ("split", "names"),
    [
        (Split.WHOLE, [""]),
        (Split.STEPS, [".3", ".2", ".1"]),
        (Split.CROSSED_4, [".1", ".2", ".3", ".4"]),
        (Split.CROSSED_9, [f".{k}" for k in range(1, 10)]),
    ],
)
def test_zones_are_named_and_lie_apart_within_the_tile(split, names):
    zones = zone_outlines(TILE, split)
    assert [name for name, _ in zones] == names
    total = 0.0
    for _, corners in zones:
        assert (corners > 0).all()
        assert (corners < [50, 100]).all()
        total += cv2.contourArea(corners.astype(np.float32))
    cover = np.zeros((100, 50), np.uint8)
    for _, corners in zones:
        one = np.zeros_like(cover)
        cv2.fillPoly(one, [np.round(corners).astype(np.int32)], 1)
        cover += one
    assert cover.max() == 1
    assert 0.5 < total / 5000 < 0.8


def test_three_coats_are_at_the_top():
    heights = {name: corners[:, 1].mean() for name, corners in zone_outlines(TILE, Split.STEPS)}
    assert heights[".3"] == pytest.approx(100 / 6)
    assert heights[".1"] == pytest.approx(500 / 6)


def photo_with(corners_mm, colour, slot=1, glare=None) -> Picture:
    """An A4 sheet with one tile, seen straight on."""
    image, _ = printed_sheet(Paper.A4)
    image = image.copy()
    cv2.fillPoly(image, [np.round(np.asarray(corners_mm) * PER_MM).astype(np.int32)], colour.tolist())
    if glare is not None:
        cv2.circle(image, np.round(np.asarray(glare) * PER_MM).astype(int).tolist(), 5 * PER_MM, (0.95,) * 3, -1)
    levels = cv2.resize((255 * np.clip(image, 0, 1) ** (1 / 2.2)), None, fx=2 / 3, fy=2 / 3)
    return Picture("p.png", np.ascontiguousarray(levels.astype(np.uint8)), curve_of_srgb(256))


def box_of(number: int):
    return next(slot.box for slot in printed_sheet(Paper.A4)[1].slots if slot.number == number)


@pytest.mark.parametrize("lab", [(20, 0, 0), (60, 40, 30), (85, -3, 5), (50, 0, 0)])
def test_a_tile_s_edges_are_found_to_a_millimetre(lab):
    corners = np.array(box_of(3).grown(-0.5).corners()) + np.array([2.0, -1.5])
    found = zones_from_sheet(photo_with(corners, linear(lab)))
    assert found.empty == (1, 2, 4)
    (tile,) = [tile for tile in found.tiles if tile.outline is not None]
    assert tile.seen
    assert np.abs(tile.outline - corners).max() < 1.0


def test_glare_at_the_edge_does_not_move_it():
    corners = np.array(box_of(3).corners())
    found = zones_from_sheet(photo_with(corners, linear((30, 10, 10)), glare=corners[1] + [-1, 30]))
    (tile,) = [tile for tile in found.tiles if tile.outline is not None]
    assert np.abs(tile.outline - corners).max() < 1.0


def test_a_tile_as_white_as_the_paper_is_taken_where_its_slot_is_and_said_so():
    image, _ = printed_sheet(Paper.A4)
    found = zones_from_sheet(photo_with(box_of(2).corners(), image[-1, -1].astype(float)))
    (tile,) = [tile for tile in found.tiles if tile.outline is not None]
    assert tile.slot.number == 2
    assert not tile.seen
    assert [notice.code for notice in found.notices] == ["tile-edges-unsure"]
    assert found.notices[0].facts["slots"] == "2"


def test_a_slot_is_parted_as_planned():
    picture = photo_with(box_of(4).corners(), linear((40, 20, 20)))
    found = zones_from_sheet(picture, {4: Split.STEPS})
    assert [zone.zone for zone in found.zones] == ["4.3", "4.2", "4.1"]
