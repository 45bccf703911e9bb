"""Whether a decoded JPEG is torn: a bit gone wrong shifts all that follows it, and no decoder notices."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

STEP = 8
"""Levels between two rows of pixels that count as a step."""
_ACROSS, _CALM = 0.9, 0.3
"""Share of the width a tear takes, and the most that steps alike take a little above it or below it."""
_ALIKE, _ALIKE_PART, _ALIKE_SHARE = 6.0, 0.15, 0.6
"""Within how many levels, or what part of it, a shift is one shift; what share of the width must show it."""
_BLOCK = 8
_PLAIN = 2
"""Levels by which the pixels of a bar at the picture's edge may differ."""


def is_torn(pixels: NDArray[np.uint8]) -> bool:
    """Tell whether a step runs along the coding blocks from one side of the picture to the other.

    What follows a damaged block is shifted by one amount: from that block to the right end of its row, and on
    the row beneath from the left end to it. Edges of paper and tiles do not lie so exactly, nor right across.

    Parameters
    ----------
    pixels : (height, width, 3) of 8 bits
        As coded, before any turning. Blocks are 8 or 16 rows high (ITU-T T.81, annex A.2).
    """
    high, wide = pixels.shape[:2]
    rows = np.arange(_BLOCK, high - 4, _BLOCK)
    if len(rows) < 4 or wide < 2 * _BLOCK:
        return False
    step, room_down, room_up = _steps(pixels, rows)
    calm = np.minimum(*((np.abs(_steps(pixels, rows + away)[0]) >= STEP).mean(axis=1) for away in (-3, 3))) < _CALM
    # Beneath a tear all is shifted one way, as far as the scale allows, or all is nonsense that steps at the
    # following blocks too.
    wild = np.abs(step) >= STEP
    goes_on = np.append(wild.mean(axis=1)[1:] > _CALM, False)
    for below in (0, 1, 2):
        for way in ((step <= -STEP) | ~room_down, (step >= STEP) | ~room_up, wild & goes_on[:, None]):
            for row, start in _across(way, below):
                shift = np.concatenate([step[row + below, :start], step[row, start:]])
                one = _is_one(shift) or bool(goes_on[row + below] and (np.abs(shift) >= STEP).mean() >= _ACROSS)
                if calm[row] and one and not _is_bar(pixels, int(rows[row])):
                    return True
    return False


def _across(at: NDArray[np.bool_], below: int) -> list[tuple[int, int]]:
    """Rows that step right across, their left part `below` blocks lower, and the strip where they part."""
    from_left = np.pad(np.cumsum(at, axis=1), ((0, 0), (1, 0))) / at.shape[1]
    count = len(at) - below
    both = from_left[:count, -1:] - from_left[:count] + from_left[below:]
    best = both.argmax(axis=1)
    return [(int(row), int(best[row])) for row in np.flatnonzero(both.max(axis=1) >= _ACROSS)]


def _is_one(shift: NDArray[np.float32]) -> bool:
    """Whether steps are of one size but for where the scale ends."""
    stepped = shift[np.abs(shift) >= STEP]
    if not len(stepped):
        return False
    size = float(np.median(stepped))
    # A few steps up and down among clipped strips have a middle near nothing, which all the calm ones share.
    if abs(size) < STEP:
        return False
    return bool((np.abs(shift - size) <= _ALIKE + _ALIKE_PART * abs(size)).mean() >= _ALIKE_SHARE)


def _steps(
    pixels: NDArray[Any], rows: NDArray[np.intp]
) -> tuple[NDArray[np.float32], NDArray[np.bool_], NDArray[np.bool_]]:
    """Step of rows from the row above, by strips of eight pixels, and whether there is room to step either way."""
    strips = pixels.shape[1] // _BLOCK
    # One channel tells: a shift of lightness or of either colour difference moves green.
    green = pixels[:, : strips * _BLOCK, 1]
    before, after = (
        green[at].reshape(len(rows), strips, _BLOCK).mean(axis=2, dtype=np.float32) for at in (rows - 1, rows)
    )
    return after - before, before >= 2 * STEP, before <= 255 - 2 * STEP


def _is_bar(pixels: NDArray[Any], row: int) -> bool:
    """Whether the picture is plain from there to its upper or lower edge, as where bars were added."""
    parts = (pixels[[0, row - 3]], pixels[[-1, min(row + 3, len(pixels) - 1)]])
    return any(int(np.ptp(part, axis=(0, 1)).max()) <= _PLAIN for part in parts)
