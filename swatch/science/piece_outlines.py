"""Pieces in a photo by their outlines: what differs from the plain ground that they and the card lie on."""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np
from numpy.typing import NDArray

from swatch.science.colour_math import FloatArray
from swatch.science.flat_field import find_sheet
from swatch.science.picture import Picture, shrunk

LONG_SIDE = 900
"""Longer side of the small photo in which outlines are sought."""
_LEAST, _NOISES = 0.10, 7.0
"""How far ln light differs from the ground on a piece: at least so much, and so many of the ground's spreads."""
_SHADE = 0.3
"""How much of an even darkening counts: a shadow takes all three channels alike and is no piece."""
SMALLEST, LARGEST = 0.0008, 0.4
"""Parts of the photo that a piece may take."""
_SLIMMEST = 0.35
"""Share of its convex hull that a piece fills at least; words, cords and edges of the table fill less."""
_FEWEST_PLACES = 60


def find_pieces(picture: Picture, card: FloatArray | None = None) -> list[FloatArray]:
    """Find everything that lies apart on the ground, the card left out.

    Parameters
    ----------
    picture : Picture
    card : (4, 2), optional
        What the card covers, with its frame, in pixels.

    Returns
    -------
    list of (k, 2)
        Outlines in pixels of the photo, row by row as one reads. Empty where the ground is not plain.
    """
    small = shrunk(picture.pixels, LONG_SIDE)
    scale = small.shape[1] / picture.size[0]
    covered = card if card is not None else np.empty((0, 2))
    ground = find_sheet(picture, _whole(picture) if card is None else card, ())
    if len(ground.points) < _FEWEST_PLACES:
        return []
    ln = np.log(np.maximum(_light(small, picture), 1e-3))
    off, noise = _off_ground(ln, ground.points * scale, np.log(np.maximum(ground.light, 1e-3)))
    differs = (off > max(_LEAST, _NOISES * noise)).astype(np.uint8)
    for _ in range(len(covered) and 1):
        cv2.fillPoly(differs, [np.rint(covered * scale).astype(np.int32)], 0)
    side = max(3, round(LONG_SIDE / 250) | 1)
    kernel = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (side, side))
    tidy = cv2.morphologyEx(cv2.morphologyEx(differs, cv2.MORPH_CLOSE, kernel), cv2.MORPH_OPEN, kernel)
    outlines, _ = cv2.findContours(tidy, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    found = [one[:, 0, :].astype(float) + 0.5 for one in outlines if _is_piece(one, small.shape)]
    return in_reading_order([outline / scale for outline in found])


def in_reading_order(outlines: Sequence[FloatArray]) -> list[FloatArray]:
    """Sort outlines into rows from the top, each from the left: the order in which a kiln is unloaded and laid."""
    left = sorted(outlines, key=lambda one: float(one[:, 1].mean()))
    ordered: list[FloatArray] = []
    while left:
        first = left[0]
        top, low = first[:, 1].min(), first[:, 1].max()
        row = [one for one in left if top <= one[:, 1].mean() <= low]
        ordered += sorted(row, key=lambda one: float(one[:, 0].mean()))
        chosen = {id(one) for one in row}
        left = [one for one in left if id(one) not in chosen]
    return ordered


def _whole(picture: Picture) -> FloatArray:
    """A small frame in the photo's middle: the ground is then what surrounds it."""
    wide, high = picture.size
    middle, half = np.array([wide / 2, high / 2]), 0.02 * min(wide, high)
    return np.asarray(middle + half * np.array([[-1.0, -1], [1, -1], [1, 1], [-1, 1]]))


def _light(small: NDArray[np.integer], picture: Picture) -> FloatArray:
    return np.stack([picture.curve[c][small[..., c]] for c in range(3)], axis=-1)


def _off_ground(ln: FloatArray, points: FloatArray, light: FloatArray) -> tuple[FloatArray, float]:
    """How far each pixel's ln light is from the ground's, which changes smoothly; and the ground's spread."""
    high, wide = ln.shape[:2]
    terms = _terms(points[:, 0] / wide, points[:, 1] / high)
    keep = np.ones(len(points), dtype=bool)
    fit: FloatArray = np.zeros((terms.shape[1], 3))
    for _ in range(4):
        fit = np.linalg.lstsq(terms[keep], light[keep], rcond=None)[0]
        away = np.abs(light - terms @ fit).max(axis=1)
        keep = away < 3.0 * max(float(np.median(away[keep])), 0.005)
    x, y = np.meshgrid((np.arange(wide) + 0.5) / wide, (np.arange(high) + 0.5) / high)
    ground = (_terms(x.ravel(), y.ravel()) @ fit).reshape(high, wide, 3)
    return _size_of(cv2.GaussianBlur(ln - ground, (0, 0), 1.0)), float(_size_of((light - terms @ fit)[keep]).std())


def _size_of(off: FloatArray) -> FloatArray:
    """Size of a difference of ln light, an even darkening counted for less."""
    even = off.mean(axis=-1, keepdims=True)
    hue = np.sqrt(((off - even) ** 2).sum(axis=-1))
    return np.asarray(np.hypot(hue * 1.5, np.where(even[..., 0] < 0, _SHADE, 1.0) * even[..., 0]))


def _terms(x: FloatArray, y: FloatArray) -> FloatArray:
    return np.stack([np.ones_like(x), x, y, x * x, x * y, y * y], axis=-1)


def _is_piece(outline: NDArray[np.int32], shape: tuple[int, ...]) -> bool:
    high, wide = shape[:2]
    size = cv2.contourArea(outline)
    left, top, across, down = cv2.boundingRect(outline)
    inside = left > 1 and top > 1 and left + across < wide - 1 and top + down < high - 1
    hull = cv2.contourArea(cv2.convexHull(outline))
    return inside and SMALLEST * wide * high <= size <= LARGEST * wide * high and size >= _SLIMMEST * hull
