"""Where the reference card lies in a photo: the 24-patch chart by itself, any card from four corners."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from swatch.science.card import PATCH_SHARE, Card, grid_centres, grid_corners
from swatch.science.colour_math import FloatArray, lab_to_srgb, srgb_decode
from swatch.science.picture import Picture, eight_bits, shrunk
from swatch.science.settle import CELL, settled
from swatch.terms.measured import Point
from swatch.terms.problems.photo import card_corners_wrong

SURE_SCORE = 0.85
ASK_SCORE = 0.75
LONG_SIDES = (900, 1500, 2400)
_NARROWEST_PATCH = 6.0


@dataclass(frozen=True, slots=True)
class Place:
    """A card found in a photo: ``to_photo`` (3, 3) leads from the card's grid to pixels.

    ``share`` is the side of a patch over the distance between patches.
    """

    to_photo: FloatArray
    score: float
    share: float = PATCH_SHARE

    def points(self, on_grid: FloatArray) -> FloatArray:
        """Pixels of points given on the card's grid: (n, 2)."""
        return project(self.to_photo, on_grid)


def project(matrix: FloatArray, points: FloatArray) -> FloatArray:
    """Carry points (n, 2) through a homography (3, 3)."""
    carried = np.column_stack([points, np.ones(len(points))]) @ matrix.T
    return np.asarray(carried[:, :2] / carried[:, 2:])


def find_chart(picture: Picture, card: Card) -> Place | None:
    """Find the 24-patch chart; the best place of all that look like one, None where nothing does."""
    best: Place | None = None
    for long_side in LONG_SIDES:
        for place in _candidates(picture, card, long_side):
            if best is None or place.score > best.score:
                best = place
        if best is not None and best.score >= SURE_SCORE:
            break
    return None if best is None else _settled(picture, card, best)


def _settled(picture: Picture, card: Card, place: Place) -> Place:
    """Move the grid onto the patches, where enough of them stand out, and it fits no worse."""
    # Enough pixels for the straightened card; more would only be averaged.
    scale = min(1.0, 2.0 * CELL / max(_patch_side(place.to_photo, card), 1.0))
    small = shrunk(picture.pixels, max(1, round(scale * max(picture.size))))
    zoom = np.diag([small.shape[1] / picture.size[0], small.shape[0] / picture.size[1], 1.0])
    better = settled(eight_bits(small), zoom @ place.to_photo, card.rows, card.columns)
    if better is None:
        return place
    to_photo, share = np.linalg.inv(zoom) @ better[0], better[1]
    moved = replace(_scored(picture, small, card, to_photo / to_photo[2, 2]), share=share)
    return moved if moved.score > place.score - 0.02 else place


def place_from_corners(picture: Picture, card: Card, corners: Sequence[Point]) -> Place:
    """Place a card by the outer corners of its outermost patches, patch 1 first, then round it.

    Corners that start at another patch are turned to where the colours fit, when they fit there well and
    do not as given.

    Raises
    ------
    StudioProblem
        ``card-corners-wrong``.
    """
    points = np.array(corners, dtype=float)
    wide, high = picture.size
    if points.shape != (4, 2) or not np.isfinite(points).all():
        raise card_corners_wrong("four")
    if (points < 0).any() or (points > [wide, high]).any():
        raise card_corners_wrong("outside")
    sides = np.roll(points, -1, axis=0) - points
    turns = sides[:, 0] * np.roll(sides[:, 1], -1) - sides[:, 1] * np.roll(sides[:, 0], -1)
    if not (turns > 0).all():
        raise card_corners_wrong("mirrored" if (turns < 0).all() else "crossed")
    if np.hypot(*sides.T).min() < _NARROWEST_PATCH * min(card.rows, card.columns):
        raise card_corners_wrong("small")
    small = shrunk(picture.pixels, 1200)
    places = [_scored(picture, small, card, _homography(card, np.roll(points, -k, axis=0))) for k in range(4)]
    given = places[0]
    best = max(places, key=lambda place: place.score)
    chosen = best if given.score < ASK_SCORE and best.score >= SURE_SCORE else given
    return _settled(picture, card, chosen) if chosen.score >= ASK_SCORE else chosen


def _homography(card: Card, points: FloatArray) -> FloatArray:
    matrix = cv2.getPerspectiveTransform(
        grid_corners(card.rows, card.columns).astype(np.float32), points.astype(np.float32)
    )
    return np.asarray(matrix, dtype=float)


def _candidates(picture: Picture, card: Card, long_side: int) -> list[Place]:
    if long_side > LONG_SIDES[0] and max(picture.size) <= LONG_SIDES[LONG_SIDES.index(long_side) - 1]:
        return []
    small = shrunk(picture.pixels, long_side)
    scale = picture.size[0] / small.shape[1]
    image = np.ascontiguousarray(eight_bits(small)[:, :, ::-1])
    detector = cv2.mcc.CCheckerDetector.create()
    detector.setColorChartType(cv2.mcc.MCC24)  # it starts with no type at all
    detector.setUseDnnModel(False)
    detector.process(image, 4)
    places = []
    for found in detector.getListColorChecker():  # the best one alone crashes where there is none
        quads = np.array(found.getColorCharts(), dtype=float).reshape(-1, 4, 2)
        if len(quads) != len(card.lab) or not np.isfinite(quads).all():
            continue
        centres = quads.mean(axis=1) * scale
        matrix, _ = cv2.findHomography(grid_centres(card.rows, card.columns), centres)
        # A mirrored chart passes the order check: its grid then turns the other way round.
        if matrix is None or np.linalg.det(matrix) <= 0:
            continue
        place = _scored(picture, small, card, np.asarray(matrix, dtype=float))
        corners = place.points(grid_corners(card.rows, card.columns))
        if (corners >= 0).all() and (corners <= picture.size).all():
            places.append(place)
    return places


def _scored(picture: Picture, small: NDArray[Any], card: Card, to_photo: FloatArray) -> Place:
    """Score a place by the correlation of the patches' log light with the card's, each channel about its mean."""
    scale = small.shape[1] / picture.size[0]
    centres = project(to_photo, grid_centres(card.rows, card.columns)) * scale
    step = _patch_side(to_photo, card) * scale
    radius = max(1, round(0.2 * step))
    seen = np.empty((len(centres), 3))
    for k, (x, y) in enumerate(np.round(centres).astype(int)):
        window = small[max(0, y - radius) : y + radius + 1, max(0, x - radius) : x + radius + 1]
        seen[k] = window.reshape(-1, 3).mean(axis=0) if window.size else 0.0
    # 2 % of light is added so that the few darkest patches do not decide.
    read = np.log(srgb_decode(seen / picture.top) + 0.02)
    wanted = np.log(srgb_decode(lab_to_srgb(card.lab)[0]) + 0.02)
    read, wanted = read - read.mean(axis=0), wanted - wanted.mean(axis=0)
    spread = float(np.sqrt((read**2).sum() * (wanted**2).sum()))
    return Place(to_photo, float((read * wanted).sum() / spread) if spread > 0 else 0.0)


def _patch_side(to_photo: FloatArray, card: Card) -> float:
    middle = np.array([card.columns / 2, card.rows / 2])
    around = project(to_photo, middle + 0.5 * np.array([[-1, 0], [1, 0], [0, -1], [0, 1]]))
    return float(min(np.hypot(*(around[1] - around[0])), np.hypot(*(around[3] - around[2]))))
