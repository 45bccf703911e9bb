"""Mean light of areas of a photo, by histograms: exact, quick, and blind to a few odd pixels."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from swatch.science.card import Card, grid_centres
from swatch.science.colour_math import FloatArray
from swatch.science.locate import Place
from swatch.science.picture import Picture, highest, lowest

CENTRAL_HALF = 0.25
"""Half the side of the part of a patch that is read, over the distance between patches."""
TRIMMED = 0.25
CLIPPED_HIGH, CLIPPED_LOW = 254, 1
MOST_CLIPPED_SHARE = 0.02
MOST_UNEVEN = 28.0
"""8-bit levels between a patch's lowest and highest tenth above which a shadow's edge or a glare lies on it."""
_MOST_PIXELS = 10_000


@dataclass(frozen=True, slots=True)
class PatchLight:
    """Each patch of the card as seen: mean linear light (n, 3), and what of it is clipped.

    ``odd`` marks patches that something lies or shines on, once that is known.
    """

    light: FloatArray
    clipped_high: FloatArray
    clipped_low: FloatArray
    centres: FloatArray
    odd: NDArray[np.bool_]

    @property
    def clear(self) -> NDArray[np.bool_]:
        """Which patches can be used: hardly a pixel at either end of the scale, and nothing on them."""
        inside = (self.clipped_high <= MOST_CLIPPED_SHARE) & (self.clipped_low <= MOST_CLIPPED_SHARE)
        return np.asarray(inside & ~self.odd)


def read_patches(picture: Picture, card: Card, place: Place) -> PatchLight:
    """Read the central half of every patch."""
    centres = grid_centres(card.rows, card.columns)
    square = CENTRAL_HALF * np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]])
    rows = []
    for centre in centres:
        levels = pixels_inside(picture, place.points(centre + square))
        rows.append(_patch(levels, picture))
    light, high, low, uneven = (np.array(column) for column in zip(*rows, strict=True))
    return PatchLight(light, high, low, place.points(centres), uneven > MOST_UNEVEN)


def pixels_inside(picture: Picture, polygon: FloatArray) -> NDArray[Any]:
    """Levels of the pixels inside a convex or simple polygon: (n, 3); empty where it lies outside the photo."""
    wide, high = picture.size
    left, top = np.maximum(np.floor(polygon.min(axis=0)).astype(int), 0)
    right, low = np.minimum(np.ceil(polygon.max(axis=0)).astype(int) + 1, [wide, high])
    if right <= left or low <= top:
        return np.empty((0, 3), picture.pixels.dtype)
    mask = np.zeros((low - top, right - left), np.uint8)
    cv2.fillPoly(mask, [np.round(polygon - [left, top]).astype(np.int32)], 1)
    window = picture.pixels[top:low, left:right]
    step = max(1, int(np.sqrt(mask.size / _MOST_PIXELS)))
    return np.asarray(window[::step, ::step][mask[::step, ::step] > 0])


def _patch(levels: NDArray[Any], picture: Picture) -> tuple[FloatArray, float, float, float]:
    """Mean light, shares clipped high and low, and how uneven in 8-bit levels."""
    if len(levels) < 4:
        return np.zeros(3), 0.0, 1.0, 0.0
    eight = levels if picture.top == 255 else levels.astype(np.float32) / (picture.top / 255.0)
    high = float((highest(eight) >= CLIPPED_HIGH).mean())
    low = float((lowest(eight) <= CLIPPED_LOW).mean())
    tenth = len(eight) // 10
    tenths = np.partition(eight, (tenth, len(eight) - 1 - tenth), axis=0)[[tenth, len(eight) - 1 - tenth]].astype(
        float
    )
    histograms = (np.bincount(levels[:, c], minlength=picture.top + 1) for c in range(3))
    light = np.array([_trimmed(histogram, picture.curve[c]) for c, histogram in enumerate(histograms)])
    return light, high, low, float((tenths[1] - tenths[0]).max())


def _trimmed(histogram: NDArray[np.intp], curve: FloatArray) -> float:
    """Mean of a histogram's light without its lowest and highest quarter."""
    total = int(histogram.sum())
    cut = int(TRIMMED * total)
    reached = np.cumsum(histogram)
    kept = np.clip(np.minimum(reached, total - cut) - np.maximum(reached - histogram, cut), 0, None)
    return float((kept * curve.astype(float)).sum() / kept.sum())
