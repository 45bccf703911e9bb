"""The photo sheet in a photo: its markers, its code, and from them where every mm of it lies."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from swatch.science.colour_math import FloatArray
from swatch.science.locate import project
from swatch.science.picture import Picture, eight_bits, shrunk
from swatch.science.sheet_code import COLUMNS, ROWS, code_of
from swatch.science.sheet_layout import code_boxes, layout_of, marker_boxes, pages
from swatch.science.sheet_markers import find_markers
from swatch.terms.problems.photo import sheet_mirrored
from swatch.terms.sheet import Box, Paper, SheetCode, SheetLayout, Size

LONG_SIDES = (1200, 1700, 2400)
FEWEST_MARKERS = 3
_LARGEST_MISFIT_MM = 1.5
"""Of the markers' corners: a lens or a wavy sheet bends by less, and another sheet does not fit."""
_MOST_SIGHTINGS = 3
_CELLS_OF_MARKER = 6
_CELL_PIXELS = 8
_LEAST_CONTRAST = 25.0


@dataclass(frozen=True, slots=True)
class SheetPlace:
    """A sheet found in a photo.

    ``to_photo`` (3, 3) leads from mm on the sheet to pixels; ``markers`` are the corners seen, 0 to 3 from the
    upper left round; ``misfit_mm`` is how far the markers' corners lie off, root mean square.
    """

    layout: SheetLayout
    to_photo: FloatArray
    markers: tuple[int, ...]
    misfit_mm: float

    def points(self, on_sheet: FloatArray) -> FloatArray:
        """Pixels of points given in mm: (n, 2)."""
        return project(self.to_photo, on_sheet)

    def outline(self, box: Box) -> FloatArray:
        """Pixels of a box's corners: (4, 2)."""
        return self.points(np.array(box.corners()))


def find_sheet_place(picture: Picture) -> SheetPlace | None:
    """Find the photo sheet by its corner markers and read its code.

    At any rotation, with one marker hidden, printed at any scale. Markers with other numbers mean nothing, and
    ours mean nothing without the code.

    Raises
    ------
    StudioProblem
        ``sheet-mirrored``.
    """
    tried = None
    for long_side in LONG_SIDES:
        small = shrunk(picture.pixels, long_side)
        if tried is not None and small.shape == tried:
            break
        tried = small.shape
        grey = cv2.cvtColor(eight_bits(small), cv2.COLOR_RGB2GRAY)
        found = _found_in(grey)
        if found is not None:
            return _sharpened(picture, found, picture.size[0] / small.shape[1])
        # A mirrored marker is none of ours, so a mirrored sheet shows itself only when turned back.
        if long_side == LONG_SIDES[0] and _found_in(np.ascontiguousarray(grey[:, ::-1])) is not None:
            raise sheet_mirrored()
    return None


@dataclass(frozen=True, slots=True)
class _Fit:
    paper: Paper
    page: Size
    numbers: tuple[int, ...]
    seen: FloatArray
    to_photo: FloatArray
    misfit: float


def _found_in(grey: NDArray[np.uint8]) -> tuple[SheetLayout, _Fit] | None:
    sightings = find_markers(grey)
    if len(sightings) < FEWEST_MARKERS:
        return None
    numbers = sorted(sightings)
    choices = itertools.product(*(sightings[number][:_MOST_SIGHTINGS] for number in numbers))
    fits = sorted(
        (fit for corners in choices for fit in _fits(tuple(numbers), corners)), key=lambda fit: fit.misfit
    )
    for fit in fits:
        for code in _codes_in(grey, fit):
            layout = layout_of(code)
            if code.paper is fit.paper and layout is not None and layout.page == fit.page:
                return layout, fit
    return None


def _fits(numbers: tuple[int, ...], corners: tuple[FloatArray, ...]) -> Iterator[_Fit]:
    """Every page whose markers lie like these."""
    seen = np.vstack(corners)
    for paper, page in pages():
        matrix, misfit = _homography(page, numbers, seen, 0.0)
        if np.isfinite(matrix).all() and np.linalg.det(matrix) > 0 and misfit <= _LARGEST_MISFIT_MM:
            yield _Fit(paper, page, numbers, seen, matrix, misfit)


def _homography(page: Size, numbers: tuple[int, ...], seen: FloatArray, grown: float) -> tuple[FloatArray, float]:
    """From mm to pixels through the markers' corners, and how far these lie off, mm; NaN where there is none."""
    boxes = marker_boxes(page)
    on_sheet = np.vstack([np.array(boxes[number].grown(grown).corners()) for number in numbers])
    matrix, _ = cv2.findHomography(on_sheet, seen)
    if matrix is None or abs(np.linalg.det(matrix)) < 1e-12:
        return np.full((3, 3), np.nan), float("inf")
    back = project(np.linalg.inv(matrix), seen)
    return np.asarray(matrix, dtype=float), float(np.sqrt(((back - on_sheet) ** 2).sum(axis=1).mean()))


def _sharpened(picture: Picture, found: tuple[SheetLayout, _Fit], scale: float) -> SheetPlace:
    """The same place from the markers' corners in the whole photo; with one marker hidden every tenth counts."""
    layout, fit = found
    rough = (fit.seen + 0.5) * scale - 0.5
    seen = np.vstack([_refined(picture, corners) for corners in rough.reshape(-1, 4, 2)])
    # Blur and the camera's tone curve make dark markers look smaller or larger, all of them alike.
    ways = [_homography(fit.page, fit.numbers, seen, grown) for grown in np.linspace(-0.6, 0.6, 25)]
    matrix, misfit = min(ways, key=lambda way: way[1])
    return SheetPlace(layout, matrix, fit.numbers, misfit)


def _refined(picture: Picture, corners: FloatArray) -> FloatArray:
    """One marker's corners to a fraction of a pixel of the whole photo."""
    side = float(np.hypot(*(np.roll(corners, -1, axis=0) - corners).T).mean())
    reach = max(2, round(0.35 * side / _CELLS_OF_MARKER))
    low = np.maximum(np.floor(corners.min(axis=0)).astype(int) - 3 * reach, 0)
    high = np.minimum(np.ceil(corners.max(axis=0)).astype(int) + 3 * reach + 1, picture.size)
    part = eight_bits(np.ascontiguousarray(picture.pixels[low[1] : high[1], low[0] : high[0]]))
    start = (corners - low).astype(np.float32).reshape(-1, 1, 2)
    ends = (cv2.TERM_CRITERIA_EPS + cv2.TERM_CRITERIA_MAX_ITER, 40, 0.01)
    grey = cv2.cvtColor(part, cv2.COLOR_RGB2GRAY)
    found = cv2.cornerSubPix(grey, start.copy(), (reach, reach), (-1, -1), ends)
    strayed = np.hypot(*(found - start).reshape(-1, 2).T) > 2 * reach
    return np.where(strayed[:, None], corners, found.reshape(-1, 2) + low)


def _codes_in(grey: NDArray[np.uint8], fit: _Fit) -> Iterator[SheetCode]:
    """Codes read from both copies together, then from either."""
    copies = [copy for box in code_boxes(fit.page) if (copy := _cells_in(grey, fit.to_photo, box)) is not None]
    if len(copies) == 2:
        copies.insert(0, copies[0] + copies[1])
    for copy in copies:
        code = code_of(tuple(tuple(bool(cell < 0) for cell in row) for row in copy))
        if code is not None:
            yield code


def _cells_in(grey: NDArray[np.uint8], to_photo: FloatArray, box: Box) -> FloatArray | None:
    """How light each cell of a code is, −1 dark to 1 light: (rows, columns); None where nothing is printed."""
    levels = rectified(grey, to_photo, box, (COLUMNS * _CELL_PIXELS, ROWS * _CELL_PIXELS)).astype(float)
    edge = _CELL_PIXELS // 4
    cells = levels.reshape(ROWS, _CELL_PIXELS, COLUMNS, _CELL_PIXELS)[:, edge:-edge, :, edge:-edge]
    means = cells.mean(axis=(1, 3))
    low, high = np.quantile(means, [0.15, 0.85])
    if high - low < _LEAST_CONTRAST:
        return None
    return np.asarray(np.clip((means - (low + high) / 2) / ((high - low) / 2), -1.0, 1.0))


def rectified(pixels: NDArray[Any], to_photo: FloatArray, box: Box, size: tuple[int, int]) -> NDArray[Any]:
    """The part of a photo inside a box of the sheet, seen straight on: `size` (width, height) pixels.

    Parameters
    ----------
    to_photo : (3, 3)
        From mm on the sheet to pixel centres of `pixels`.
    """
    wide, high = size
    to_sheet = np.array(
        [
            [box.wide / wide, 0.0, box.left + 0.5 * box.wide / wide],
            [0.0, box.high / high, box.top + 0.5 * box.high / high],
            [0.0, 0.0, 1.0],
        ]
    )
    return np.asarray(
        cv2.warpPerspective(
            pixels,
            to_photo @ to_sheet,
            size,
            flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP,
            borderMode=cv2.BORDER_REPLICATE,
        )
    )
