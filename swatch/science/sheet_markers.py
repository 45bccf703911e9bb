"""The markers at the sheet's corners: their cells, and their corners in a photo."""

from __future__ import annotations

from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from swatch.science.colour_math import FloatArray
from swatch.terms.sheet import FIRST_MARKER, Cells

_CELLS = 6
"""4 × 4 bits and a dark cell around."""


def marker_cells(number: int) -> Cells:
    """Cells of one marker of DICT_4X4_50, its dark border with it."""
    image = cv2.aruco.generateImageMarker(_dictionary(), number, _CELLS)
    return tuple(tuple(bool(cell == 0) for cell in row) for row in image)


def find_markers(grey: NDArray[np.uint8]) -> dict[int, list[FloatArray]]:
    """Find the sheet's markers, every sighting of each; all other markers mean nothing.

    Parameters
    ----------
    grey : (h, w) uint8

    Returns
    -------
    dict
        Marker 0 to 3 (upper left and on round the sheet) to its corners (4, 2), from its own upper left round.
    """
    settings = cv2.aruco.DetectorParameters()
    settings.cornerRefinementMethod = cv2.aruco.CORNER_REFINE_SUBPIX
    settings.cornerRefinementWinSize = 3
    # With fewer, a blurred marker's bits are read wrongly.
    settings.perspectiveRemovePixelPerCell = 8
    # A sheet far away in a large photo: a marker's outline from 1 % of the photo's longer side.
    settings.minMarkerPerimeterRate = 0.04
    corners, ids, _ = cv2.aruco.ArucoDetector(_dictionary(), settings).detectMarkers(grey)
    found: dict[int, list[FloatArray]] = {}
    for outline, number in zip(corners, [] if ids is None else ids.ravel().tolist(), strict=True):
        if FIRST_MARKER <= number < FIRST_MARKER + 4:
            found.setdefault(number - FIRST_MARKER, []).append(np.asarray(outline, float).reshape(4, 2))
    return found


def _dictionary() -> Any:
    return cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
