"""Backs of tiles in a photo: where they lie on the photo sheet, and an upright picture of each."""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np

from swatch.science.picture import Picture, eight_bits
from swatch.science.sheet_reading import zones_from_sheet
from swatch.terms.measured import Point, TileBack

_BEYOND = 1.06
"""How far beyond its outline a tile is shown, so that a number at its very edge is seen whole."""


def backs_on_sheet(picture: Picture) -> tuple[TileBack, ...]:
    """Outlines of the tiles on the photo sheet, by slot, pixels; empty where no sheet is seen."""
    found = zones_from_sheet(picture)
    if found is None:
        return ()
    lying = [tile for tile in found.tiles if tile.outline is not None]
    return tuple(
        TileBack(str(tile.slot.number), tuple((float(x), float(y)) for x, y in found.place.points(tile.outline)))
        for tile in lying
        if tile.outline is not None
    )


def picture_of_back(picture: Picture, polygon: Sequence[Point], long_side: int) -> bytes:
    """A tile as the bytes of an upright JPEG, its longer side at most `long_side` pixels, never enlarged.

    Where the outline has four corners they come in order from the upper left; other outlines are shown in the
    rectangle around them.
    """
    corners = np.array(polygon, dtype=float)
    if len(corners) != 4:
        (left, top), (right, low) = corners.min(axis=0), corners.max(axis=0)
        corners = np.array([(left, top), (right, top), (right, low), (left, low)])
    corners = corners.mean(axis=0) + _BEYOND * (corners - corners.mean(axis=0))
    sides = np.linalg.norm(corners - np.roll(corners, -1, axis=0), axis=1)
    size = np.array([max(sides[0], sides[2]), max(sides[1], sides[3])])
    wide, high = np.maximum(1, np.round(size * min(1.0, long_side / max(1.0, size.max())))).astype(int).tolist()
    low = np.clip(np.floor(corners.min(axis=0)) - 1, 0, np.array(picture.size) - 1).astype(int)
    high_end = np.clip(np.ceil(corners.max(axis=0)) + 2, low + 1, picture.size).astype(int)
    part = eight_bits(picture.pixels[low[1] : high_end[1], low[0] : high_end[0]])
    shrink = max(1.0, size.max() / long_side)
    if shrink > 1:
        part = cv2.resize(part, None, fx=1 / shrink, fy=1 / shrink, interpolation=cv2.INTER_AREA)
    scale = np.array(part.shape[1::-1]) / (high_end - low)
    place = np.array([(0, 0), (wide, 0), (wide, high), (0, high)], dtype=np.float32)
    matrix = cv2.getPerspectiveTransform(((corners - low) * scale).astype(np.float32), place)
    upright = cv2.warpPerspective(part, matrix, (wide, high), borderMode=cv2.BORDER_REPLICATE)
    fine, coded = cv2.imencode(".jpg", upright[:, :, ::-1], [cv2.IMWRITE_JPEG_QUALITY, 88])
    if not fine:
        raise RuntimeError("the picture could not be coded")
    return coded.tobytes()
