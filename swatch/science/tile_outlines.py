"""Tiles on the photo sheet's white paper: which slots hold one, where its edges are, how it is parted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from swatch.science.colour_math import FloatArray
from swatch.science.sheet_finding import SheetPlace
from swatch.science.sheet_layout import EMPTY_MARK, GAP, empty_mark
from swatch.science.sheet_paper import BarePaper
from swatch.terms.sheet import Box, Slot, Split

PER_MM = 3
"""Pixels per mm in which outlines are sought."""
WHOLE_PART, SPLIT_PART = 0.86, 0.78
"""How much of a tile's side, or of a part's, a zone spans: edges are rounded, and coats overlap at the steps."""
_REACH = GAP / 2 - 0.5
_LEAST_CONTRAST, _NOISES = 0.03, 6.0
_MARK_SEEN = 0.55
_LEAST_COVER = 0.30
_SIDES = (0.94, 1.07)
"""Sides of a tile over the stated ones: firing shrinks unevenly, and a print at 97 % makes tiles larger."""
_MOST_TURN = 20.0
_MOST_RISE = 0.8
_EDGE_SHOWS = 0.02
"""Change of ln light across a tile's edge, 1.3 mm wide, from which it is an edge and not the paper's grain."""


@dataclass(frozen=True, slots=True)
class TileOnSheet:
    """One slot as the photo shows it.

    ``outline`` (4, 2) are the tile's corners in mm on the sheet, from its upper left round; the slot's own where
    the tile could not be told from the paper (``seen`` false). None where no tile lies.
    """

    slot: Slot
    outline: FloatArray | None
    seen: bool


def find_tiles(place: SheetPlace, paper: BarePaper) -> tuple[TileOnSheet, ...]:
    """Find the tile in every slot of a sheet."""
    return tuple(_tile(slot, paper) for slot in place.layout.slots)


def zone_outlines(outline: FloatArray, split: Split) -> list[tuple[str, FloatArray]]:
    """Part a tile's outline into zones: what follows the slot's number in each name, and the zone's corners.

    Steps are numbered by coats: 3 on the upper third, 1 on the lower (whole, two thirds, one third of the height,
    thickest at the top: bigceramicstore.com tip 25). Crossed tiles are numbered row by row from the upper left.
    """
    rows, columns = {Split.WHOLE: (1, 1), Split.STEPS: (3, 1), Split.CROSSED_4: (2, 2), Split.CROSSED_9: (3, 3)}[
        split
    ]
    part = WHOLE_PART if split is Split.WHOLE else SPLIT_PART
    zones = []
    for row in range(rows):
        for column in range(columns):
            number = rows - row if split is Split.STEPS else row * columns + column + 1
            across = (np.array([column, column + 1, column + 1, column]) + 0.0) / columns
            down = np.array([row, row, row + 1, row + 1]) / rows
            across = across.mean() + part * (across - across.mean())
            down = down.mean() + part * (down - down.mean())
            upper = outline[0] + across[:, None] * (outline[1] - outline[0])
            lower = outline[3] + across[:, None] * (outline[2] - outline[3])
            name = "" if split is Split.WHOLE else f".{number}"
            zones.append((name, upper + down[:, None] * (lower - upper)))
    return zones


def split_of(slot: Slot, sheet: Split, planned: Mapping[int, Split] | None) -> Split:
    """How a slot's tile is parted: as planned for it, else as the sheet's code says."""
    return (planned or {}).get(slot.number, sheet)


def _tile(slot: Slot, paper: BarePaper) -> TileOnSheet:
    nominal = np.array(slot.box.corners())
    region = slot.box.grown(_REACH)
    off = paper.off(region, PER_MM)
    if _mark_seen(off, slot, region):
        return TileOnSheet(slot, None, False)
    blob = _blob(off, max(_LEAST_CONTRAST, _NOISES * paper.noise), slot)
    if blob is None:
        return TileOnSheet(slot, nominal, False)
    corners, sure = _aligned(off, blob, slot)
    return TileOnSheet(slot, corners / PER_MM + [region.left, region.top], sure)


def _mark_seen(off: NDArray[np.float32], slot: Slot, region: Box) -> bool:
    """Whether the mark in the slot's middle is seen: by correlation with what was printed."""
    mark = empty_mark(slot)
    left, top = round((mark.left - region.left) * PER_MM), round((mark.top - region.top) * PER_MM)
    side = round(mark.wide * PER_MM)
    seen = off[top : top + side, left : left + side].mean(axis=2)
    wanted = cv2.resize(-np.array(EMPTY_MARK, np.float32), (side, side), interpolation=cv2.INTER_NEAREST)
    wanted = cv2.GaussianBlur(wanted, (0, 0), 1.0)
    seen, wanted = seen - seen.mean(), wanted - wanted.mean()
    spread = float(np.sqrt((seen**2).sum() * (wanted**2).sum()))
    return spread > 0 and seen.std() > 0.05 and float((seen * wanted).sum()) / spread > _MARK_SEEN


def _blob(off: NDArray[np.float32], threshold: float, slot: Slot) -> FloatArray | None:
    """Corners of the smallest rectangle round what differs from paper, in pixels, upper left first."""
    differs = (np.sqrt((cv2.GaussianBlur(off, (0, 0), 1.0) ** 2).mean(axis=2)) > threshold).astype(np.uint8)
    kernel = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (2 * PER_MM + 1, 2 * PER_MM + 1))
    # A glare spot looks like paper and is closed; the printed angles are thin and are opened away.
    closed = cv2.morphologyEx(cv2.morphologyEx(differs, cv2.MORPH_CLOSE, kernel), cv2.MORPH_OPEN, kernel)
    outlines, _ = cv2.findContours(closed, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    if not outlines:
        return None
    largest = max(outlines, key=cv2.contourArea)
    if cv2.contourArea(largest) < _LEAST_COVER * slot.box.wide * slot.box.high * PER_MM**2:
        return None
    corners = cv2.boxPoints(cv2.minAreaRect(cv2.convexHull(largest))).astype(float) + 0.5
    # Clockwise from the corner nearest to the upper left, so that the tile stands as the slot does.
    corners = np.roll(corners, -int(np.argmin(corners.sum(axis=1))), axis=0)
    return corners if abs(_turn(corners)) <= _MOST_TURN else None


def _turn(corners: FloatArray) -> float:
    """How far a rectangle is turned, degrees; by its longer sides, whose ends are known best."""
    across, down = corners[1] - corners[0], corners[3] - corners[0]
    if np.hypot(*across) >= np.hypot(*down):
        return float(np.degrees(np.arctan2(across[1], across[0])))
    return float(np.degrees(np.arctan2(-down[0], down[1])))


def _aligned(off: NDArray[np.float32], blob: FloatArray, slot: Slot) -> tuple[FloatArray, bool]:
    """Lay a tile of about the stated size round what differs from paper, where its edges are sharpest.

    A shadow beside a tile differs from paper too, but its own edge is soft; a part of the tile may be as white as
    the paper, but its end still shows.

    Returns
    -------
    corners, sure
        In pixels; not sure where one of the sides shows no edge.
    """
    smooth = cv2.GaussianBlur(off, (0, 0), 1.0)
    turn = _turn(blob)
    # A shadow turns the rectangle round what differs by up to a degree.
    tried = {away: _laid(smooth, blob, turn + away, slot) for away in (-0.9, 0.0, 0.9)}
    best = max(tried, key=lambda away: tried[away].score)
    tried |= {away: _laid(smooth, blob, turn + away, slot) for away in (best - 0.45, best + 0.45)}
    laid = max(tried.values(), key=lambda one: one.score)
    return laid.corners, laid.sure


@dataclass(frozen=True, slots=True)
class _Laid:
    corners: FloatArray
    sure: bool
    score: float


def _laid(smooth: NDArray[np.float32], blob: FloatArray, degrees: float, slot: Slot) -> _Laid:
    """The tile's best place at one turn, and how sharp its edges are there."""
    high, wide = smooth.shape[:2]
    turn = np.radians(degrees)
    c, s = float(np.cos(turn)), float(np.sin(turn))
    middle = np.array([wide / 2, high / 2])
    rotate = np.array([[c, -s], [s, c]])
    shift = middle - rotate @ middle
    straight = cv2.warpAffine(
        smooth,
        np.column_stack([rotate, shift]),
        (wide, high),
        flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP,
        borderMode=cv2.BORDER_REPLICATE,
    )
    lies = (blob - shift) @ rotate
    (left, top), (right, low) = lies.min(axis=0), lies.max(axis=0)
    rows, columns = _inner(top, low, high), _inner(left, right, wide)
    x = _sides(straight[rows], left, right, slot.box.wide * PER_MM)
    y = _sides(straight[:, columns].transpose(1, 0, 2), top, low, slot.box.high * PER_MM)
    on = np.array([[x.begin, y.begin], [x.end, y.begin], [x.end, y.end], [x.begin, y.end]])
    return _Laid(np.asarray(on @ rotate.T + shift), x.sure and y.sure, x.score + y.score)


def _inner(low: float, high: float, end: int) -> slice:
    """The middle three quarters of a stretch."""
    eighth = (high - low) / 8
    return slice(max(0, int(low + eighth)), min(end, int(high - eighth) + 1))


@dataclass(frozen=True, slots=True)
class _Stretch:
    begin: float
    end: float
    sure: bool
    score: float


def _sides(straight: NDArray[np.float32], low: float, high: float, nominal: float) -> _Stretch:
    """Where along x a tile begins and ends, and whether both edges show; it differs from `low` to `high`."""
    step = 2
    strength = np.zeros(straight.shape[1])
    rise = np.linalg.norm(straight[:, 2 * step :] - straight[:, : -2 * step], axis=2)
    # A tile may be pale for most of an edge and dark for the rest; a shadow's edge is soft all along.
    strength[step:-step] = (rise * _MOST_RISE / (rise + _MOST_RISE)).mean(axis=0)
    least, most = round(_SIDES[0] * nominal), round(_SIDES[1] * nominal)
    # What differs may reach beyond the tile by a shadow, but not the tile beyond what differs by much.
    slack = max(float(PER_MM), high - low - least)
    ones, spans = np.arange(len(strength))[:, None], np.arange(least, most + 1)[None]
    others = np.minimum(ones + spans, len(strength) - 1)
    fits = (ones + spans < len(strength)) & (ones <= low + slack) & (others >= high - slack)
    if not fits.any():
        return _Stretch(low, high, False, 0.0)
    # The weaker of the two decides: a shadow's sharp side must not buy a soft one.
    weak = np.minimum(strength[ones], strength[others])
    score = np.where(fits, weak + 0.25 * (strength[ones] + strength[others]), -1.0)
    one, span = np.unravel_index(int(np.argmax(score)), score.shape)
    sure = bool(weak[one, span] >= _EDGE_SHOWS)
    return _Stretch(float(one) + 0.5, float(one + span + least) + 0.5, sure, float(score[one, span]))
