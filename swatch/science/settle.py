"""Settle a card's grid on its patches: from about right to a hundredth of a patch."""

from __future__ import annotations

from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from swatch.science.card import grid_centres
from swatch.science.colour_math import FloatArray

CELL = 40
"""Pixels from patch to patch in the straightened card."""
ALIKE = 14
"""How many 8-bit levels a pixel may lie from a patch's middle and still be of it."""
SMALLEST, LARGEST = 0.35, 0.99
LEAST_SHARE_SEEN = 0.5
FURTHEST = 0.3
MOST_LEFT = 0.08


def settled(
    pixels: NDArray[np.uint8], to_photo: FloatArray, rows: int, columns: int
) -> tuple[FloatArray, float] | None:
    """Move a grid so that its cells lie centred on the patches.

    Parameters
    ----------
    pixels : (h, w, 3) uint8
    to_photo : (3, 3)
        Leads from the grid, one unit from patch to patch, to pixels; right to about a quarter of a patch.

    Returns
    -------
    (3, 3), float or None
        The better homography, and the side of a patch over the distance between patches; None where too few
        patches stand out from what is around them.
    """
    straight = _straightened(pixels, to_photo, rows, columns)
    found, wanted, sides = [], [], []
    for k, (x, y) in enumerate(grid_centres(rows, columns)):
        blob = _patch_blob(straight, x, y)
        if blob is not None:
            found.append(blob[0])
            sides.append(blob[1])
            wanted.append(k)
    if len(found) < LEAST_SHARE_SEEN * rows * columns or len(found) < 6:
        return None
    centres = grid_centres(rows, columns)[wanted]
    shift, kept = cv2.findHomography(centres, np.array(found), cv2.RANSAC, 0.06)
    if shift is None or kept.mean() < LEAST_SHARE_SEEN:
        return None
    inside = kept.ravel() > 0
    carried = np.column_stack([centres, np.ones(len(centres))]) @ shift.T
    left = np.hypot(*(carried[:, :2] / carried[:, 2:] - np.array(found)).T)
    if float(np.median(left[inside])) > MOST_LEFT:
        return None
    share = float(np.clip(np.median(np.array(sides)[inside]), 0.6, 1.0))
    return np.asarray(to_photo @ shift), share


def _straightened(pixels: NDArray[np.uint8], to_photo: FloatArray, rows: int, columns: int) -> NDArray[Any]:
    """The card as if seen squarely, half a cell of its surroundings included."""
    size = ((columns + 1) * CELL, (rows + 1) * CELL)
    to_grid = np.array([[1 / CELL, 0, -0.5], [0, 1 / CELL, -0.5], [0, 0, 1.0]])
    flags = cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP
    return np.asarray(cv2.warpPerspective(pixels, to_photo @ to_grid, size, flags=flags))


def _patch_blob(straight: NDArray[Any], x: float, y: float) -> tuple[tuple[float, float], float] | None:
    """Centre and side, on the grid, of the area coloured like the middle of the cell at (x, y)."""
    reach = round(0.8 * CELL)
    at_x, at_y = round((x + 0.5) * CELL), round((y + 0.5) * CELL)
    left, top = max(0, at_x - reach), max(0, at_y - reach)
    window = straight[top : at_y + reach, left : at_x + reach]
    middle = straight[at_y - 3 : at_y + 4, at_x - 3 : at_x + 4].reshape(-1, 3)
    colour = np.median(middle, axis=0)
    alike = (np.abs(window.astype(np.int16) - colour.astype(np.int16)).max(axis=2) <= ALIKE).astype(np.uint8)
    alike = cv2.morphologyEx(alike, cv2.MORPH_OPEN, np.ones((5, 5), np.uint8))
    _, labels, stats, centroids = cv2.connectedComponentsWithStats(alike, connectivity=4)
    label = labels[at_y - top, at_x - left]
    if label == 0:
        return None
    side = float(np.sqrt(stats[label, cv2.CC_STAT_AREA])) / CELL
    wide, high = stats[label, cv2.CC_STAT_WIDTH] / CELL, stats[label, cv2.CC_STAT_HEIGHT] / CELL
    if not SMALLEST < side < LARGEST or max(wide, high) > 1.25 * side + 0.05:
        return None
    centre_x = (left + centroids[label][0] + 0.5) / CELL - 0.5
    centre_y = (top + centroids[label][1] + 0.5) / CELL - 0.5
    if np.hypot(centre_x - x, centre_y - y) > FURTHEST:
        return None
    return (float(centre_x), float(centre_y)), side
