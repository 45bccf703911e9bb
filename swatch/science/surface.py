"""How a layering may shine and what may go wrong with it: shares among the tiles most like it, few held back."""

from __future__ import annotations

import numpy as np

from swatch.science.optics import FloatArray
from swatch.science.studio_data import layers_of

SAME_TOP, SAME_TWO, SAME_ALL = 0.4, 0.7, 1.0
"""What a tile counts that shares the uppermost material, the two uppermost, or all: common practice, no source."""

CONES_APART, COATS_APART = 1.0, 1.5
"""Cones and coats of the uppermost layer over which likeness fades."""

WORTH = 3.0
"""The studio's usual share counts as much as this many tiles."""

ENOUGH = 2.0
"""Tiles' worth of likeness from which a chance is told at all."""


def likeness(
    asked: tuple[np.ndarray, FloatArray, FloatArray], tiles: tuple[np.ndarray, FloatArray, FloatArray]
) -> FloatArray:
    """How much each tile (n) counts for each question (k): (k, n), 0 to 1.

    Both are materials (−1 padded, from the body outward), coats, and cones.
    """
    wide = max(asked[0].shape[1], tiles[0].shape[1])
    (material, coats, cone), (theirs, their_coats, their_cone) = (
        (_padded(m, wide, -1), _padded(c, wide, 0.0), at) for m, c, at in (asked, tiles)
    )
    top, below, thick = _uppermost(material, coats)
    their_top, their_below, their_thick = _uppermost(theirs, their_coats)
    one = (top[:, None] == their_top) & (top[:, None] >= 0)
    two = one & (below[:, None] == their_below)
    whole = two & (material[:, None, :] == theirs).all(axis=2)
    counts = np.select([whole, two, one], [SAME_ALL, SAME_TWO, SAME_TOP], 0.0)
    apart = ((cone[:, None] - their_cone) / CONES_APART) ** 2 + ((thick[:, None] - their_thick) / COATS_APART) ** 2
    return np.asarray(counts * np.exp(-0.5 * np.nan_to_num(apart, nan=np.inf)))


def chances(counts: FloatArray, seen: np.ndarray) -> tuple[FloatArray, FloatArray]:
    """Chance (k, c) of each thing that was seen or not on tiles (n, c), and the tiles' worth behind it (k,).

    The mean of a beta distribution whose prior is the studio's own share, `WORTH` tiles of it.
    """
    share = (seen.sum(axis=0) + 0.5) / (len(seen) + 1.0)
    worth = counts.sum(axis=1)
    return (WORTH * share + counts @ seen) / (WORTH + worth)[:, None], worth


def _padded(rows: np.ndarray, width: int, fill: float) -> np.ndarray:
    return np.pad(rows, ((0, 0), (0, width - rows.shape[1])), constant_values=fill)


def _uppermost(material: np.ndarray, coats: FloatArray) -> tuple[np.ndarray, np.ndarray, FloatArray]:
    """Uppermost material, the one below it (−1 none) and the uppermost one's coats, each (k,)."""
    if not material.shape[1]:
        none = np.full(len(material), -1)
        return none, none, np.zeros(len(material))
    row, last = np.arange(len(material)), layers_of(material) - 1
    top = np.where(last >= 0, material[row, np.maximum(last, 0)], -1)
    below = np.where(last >= 1, material[row, np.maximum(last - 1, 0)], -1)
    return top, below, coats[row, np.maximum(last, 0)]
