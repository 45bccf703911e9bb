"""The bare white paper of a photo sheet: where nothing is printed or laid, and how much light it shows there."""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from swatch.science.colour_math import FloatArray
from swatch.science.flat_field import TOP_LIGHT, Sheet
from swatch.science.locate import project
from swatch.science.picture import Picture, eight_bits, shrunk
from swatch.science.sheet_finding import SheetPlace, rectified
from swatch.science.sheet_layout import printed
from swatch.terms.sheet import Box

LONG_SIDE = 2400
_FINE = 2
"""Samples per mm along each side, averaged to one a mm."""
_EDGE = 4
"""The paper's own rim, mm: the table shows beside it."""
_MOST_POINTS = 6000
_LEAST_WEIGHT = 0.3
_SHADED = 0.02
"""Ln light from which a place is left to count less: a shadow, a hand, a crease."""


class BarePaper:
    """A photo shrunk, and the light of bare paper all over its sheet: a smooth surface through what is white.

    Attributes
    ----------
    small, to_small
        The photo shrunk, and the matrix (3, 3) from mm to its pixel centres.
    noise : float
        Standard deviation of ln light on the paper, by its median.
    sheet : Sheet
        Bare paper that fits the surface, for the levelling of the light.
    """

    def __init__(self, picture: Picture, place: SheetPlace) -> None:
        self.small = eight_bits(shrunk(picture.pixels, LONG_SIDE))
        scale = self.small.shape[1] / picture.size[0]
        shift = 0.5 * scale - 0.5
        self.to_small = np.array([[scale, 0, shift], [0, scale, shift], [0, 0, 1]]) @ place.to_photo
        levels = picture.curve if picture.top == 255 else picture.curve[:, 128::256]
        self._curve = np.ascontiguousarray(levels.T[None], dtype=np.float32)
        self._page = place.layout.page
        at, light = self._bare(place)
        clipped = light.max(axis=1) >= TOP_LIGHT
        usable = ~clipped & (light.min(axis=1) > 0.02)
        at, light = at[usable], light[usable]
        step = max(1, -(-len(at) // _MOST_POINTS))
        at, light = at[::step], light[::step]
        target, design = np.log(light), self._design(at)
        weight = np.ones(len(at))
        self._terms, left = np.zeros((design.shape[1], 3)), np.zeros_like(target)
        for _ in range(8):
            pull = design.T * weight
            self._terms = np.linalg.solve(pull @ design + 1e-6 * np.eye(design.shape[1]), pull @ target)
            left = target - design @ self._terms
            off = np.abs(left).max(axis=1)
            reach = max(3.0 * 1.48 * float(np.median(off)) if len(off) else 0.0, _SHADED)
            weight = np.where(off < reach, (1 - (off / reach) ** 2) ** 2, 0.0) + 1e-6
        self.noise = 1.48 * float(np.median(np.abs(left))) if left.size else 0.0
        kept = weight >= _LEAST_WEIGHT
        page = place.outline(Box(0.0, 0.0, self._page.wide, self._page.high)).astype(np.float32)
        area = cv2.contourArea(page) / (self._page.wide * self._page.high)
        share = area * int(kept.sum()) * step / (picture.size[0] * picture.size[1])
        part = float(clipped.mean()) if len(clipped) else 1.0
        self.sheet = Sheet(place.points(at[kept]), light[kept], share, part, place.points(at[~kept]), light[~kept])

    def off(self, region: Box, per_mm: float) -> NDArray[np.float32]:
        """Ln light over that of bare paper within a box, seen straight on: (h, w, 3)."""
        size = (round(region.wide * per_mm), round(region.high * per_mm))
        ln = np.log(np.maximum(self._light(rectified(self.small, self.to_small, region, size)), np.float32(1e-3)))
        x = (region.left + (np.arange(size[0]) + 0.5) / per_mm) / self._page.wide * 2 - 1
        y = (region.top + (np.arange(size[1]) + 0.5) / per_mm) / self._page.high * 2 - 1
        one, tx, ty, txx, txy, tyy = self._terms[:, None, None, :]
        x, y = x[None, :, None], y[:, None, None]
        paper = (one + ty * y + tyy * y * y) + (tx * x + txx * x * x)
        paper += txy * x * y
        return np.asarray(ln - paper.astype(np.float32))

    def _light(self, levels: NDArray[np.uint8]) -> NDArray[np.float32]:
        return np.asarray(cv2.LUT(levels, self._curve))

    def _bare(self, place: SheetPlace) -> tuple[FloatArray, FloatArray]:
        """Places in mm where the paper should be bare and lies in the photo, one a square mm, and their light."""
        wide, high = int(self._page.wide), int(self._page.high)
        fine = rectified(self.small, self.to_small, Box(0.0, 0.0, wide, high), (wide * _FINE, high * _FINE))
        light = self._light(fine).reshape(high, _FINE, wide, _FINE, 3).mean(axis=(1, 3))
        bare = np.zeros((high, wide), bool)
        bare[_EDGE:-_EDGE, _EDGE:-_EDGE] = True
        for box in (*printed(place.layout), place.layout.card.grown(1.0)):
            across = slice(max(0, int(box.left)), int(np.ceil(box.right)))
            bare[max(0, int(box.top)) : int(np.ceil(box.low)), across] = False
        rows, columns = np.nonzero(bare)
        at = np.stack([columns + 0.5, rows + 0.5], axis=1)
        seen = project(self.to_small, at)
        inside = (seen >= 1).all(axis=1) & (seen <= np.array(self.small.shape[1::-1]) - 2).all(axis=1)
        return at[inside], light[rows[inside], columns[inside]].astype(float)

    def _design(self, at: FloatArray) -> FloatArray:
        x = at[:, 0] / self._page.wide * 2 - 1
        y = at[:, 1] / self._page.high * 2 - 1
        return np.stack([np.ones_like(x), x, y, x * x, x * y, y * y], axis=1)
