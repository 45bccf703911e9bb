"""The light of one zone of a tile, with what shines on it left out."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from swatch.science.calibration import GreyCurve
from swatch.science.colour_math import FloatArray
from swatch.science.picture import Picture, highest, lowest
from swatch.terms.measured import ZoneShape
from swatch.terms.problems import Where
from swatch.terms.problems.photo import zone_outline_wrong

CENTRAL_SIDE = 0.8
"""Side of the part of a zone that is read over the zone's own: edges are blurred and often shaded."""
FEWEST_PIXELS = 60
_WINDOW = 180
"""Longest side of the window a zone is read in; larger zones are averaged down to it."""
_SEED_STEP, _SEED_SPREADS = 0.10, 6.0
_BASE = 0.2
_LAMP_ALIKE, _SURELY_LAMP = 0.9, 0.985
_GROW_STEP, _GROW_SPREADS = 0.012, 2.5
_DILATED = 0.04
_RADII_AWAY, _LEAST_LEFT = 4.0, 0.20
_DARKEST_SHARE = 0.35
_TRIMMED = 0.05
_BLOCKS = 8
_SAMPLED = 1500
"""Pixels kept to tell a mottled zone's colours by."""
NEAR_TOP, NEAR_BOTTOM = 252, 3


@dataclass(frozen=True, slots=True)
class ZoneLight:
    """Straightened light of a zone: mean ``z`` (3,), its blocks' means (k, 3), and how it came about.

    ``used_share`` is what of the zone's central part is free of glare; ``glare_share`` what shone there and
    ``lingering`` what still seems to, as a difference of z within it;
    ``sample`` (m, 3) is z of pixels spread over all that is free of glare, their grain smoothed;
    ``parts`` (64, 4): z of what does not glare on an 8 × 8 grid, NaN where nothing is, and its share of the zone;
    ``high_share`` and ``low_share`` what was near either end of the scale where it was averaged.
    """

    z: FloatArray
    blocks: FloatArray
    used_share: float
    glare_share: float
    lingering: float
    high_share: float
    low_share: float
    centre: FloatArray
    sample: FloatArray = field(default_factory=lambda: np.empty((0, 3)))
    parts: FloatArray = field(default_factory=lambda: np.empty((0, 4)))


def outline_of(zone: ZoneShape, photo: str) -> FloatArray:
    """A zone's outline (n, 2), or ``zone-outline-wrong``, placed."""
    outline = np.array(zone.polygon, dtype=float).reshape(-1, 2)
    if len(outline) < 3 or not np.isfinite(outline).all() or np.ptp(outline, axis=0).min() <= 0:
        raise zone_outline_wrong().at(Where(photo=photo, zone=zone.zone))
    return outline


def straight_levels(picture: Picture, curve: GreyCurve) -> FloatArray:
    """Straightened light of every level a pixel of `picture` can have: (3, levels)."""
    return np.asarray(curve(picture.curve.T.astype(float)).T)


def read_zone(picture: Picture, polygon: FloatArray, straight: FloatArray) -> ZoneLight | None:
    """Read one zone.

    Parameters
    ----------
    polygon : (n, 2)
        Its outline in pixels.
    straight : (3, levels)
        Straightened light of every level, by channel; see `straight_levels`.

    Returns
    -------
    ZoneLight or None
        None where fewer than `FEWEST_PIXELS` pixels of it lie in the photo.
    """
    centre = _centroid(polygon)
    window, inside = _window(picture, centre + CENTRAL_SIDE * (polygon - centre))
    total = int(inside.sum())
    if total < FEWEST_PIXELS:
        return None
    top = float(picture.top)
    smooth = cv2.GaussianBlur(window, (0, 0), 1.0) if min(window.shape[:2]) > 12 else window
    smallest = lowest(smooth).astype(np.float32) / top
    z_all = np.zeros((*window.shape[:2], 3))
    levels = window[inside]
    z_all[inside] = np.stack([straight[c][levels[:, c]] for c in range(3)], axis=1)
    glare = _glare(smallest, lowest(window) >= 0.99 * top, inside, z_all)
    away = _away_from(glare, inside, total)
    enough = away.sum() >= FEWEST_PIXELS / 4
    chosen, lingering = (away if enough else inside), 0.0
    if glare.any() and enough:
        order = np.argsort(smallest[away], kind="stable")
        darkest = z_all[away][order]
        chosen = away & (smallest <= smallest[away][order[int(_DARKEST_SHARE * (len(order) - 1))]])
        third, tenth = (darkest[: max(1, int(share * len(order)))].mean(axis=0) for share in (_DARKEST_SHARE, 0.1))
        lingering = float((third - tenth).mean())
    eight = window[chosen] / (top / 255.0)
    z = z_all[chosen]
    return ZoneLight(
        z=_trimmed_mean(z),
        blocks=_blocks(z, chosen),
        used_share=float((inside & ~glare).sum() / total),
        glare_share=float((glare & inside).sum() / total),
        lingering=lingering,
        high_share=float((highest(eight) >= NEAR_TOP).mean()),
        low_share=float((lowest(eight) <= NEAR_BOTTOM).mean()),
        centre=centre,
        sample=_sample(smooth, away if enough else inside, straight),
        parts=_parts(z_all, inside & ~glare, total),
    )


def _centroid(polygon: FloatArray) -> FloatArray:
    """Centre of a polygon's area; of its corners where it has none."""
    x, y = polygon.T
    cross = x * np.roll(y, -1) - np.roll(x, -1) * y
    area = cross.sum() / 2.0
    if abs(area) < 1e-9:
        return np.asarray(polygon.mean(axis=0))
    moments = np.array([((x + np.roll(x, -1)) * cross).sum(), ((y + np.roll(y, -1)) * cross).sum()])
    return np.asarray(moments / (6.0 * area))


def _window(picture: Picture, polygon: FloatArray) -> tuple[NDArray[Any], NDArray[np.bool_]]:
    """The pixels around a polygon, averaged down where many, and which of them lie inside."""
    wide, high = picture.size
    left, top = np.clip(np.floor(polygon.min(axis=0)).astype(int), 0, [wide, high])
    right, low = np.clip(np.ceil(polygon.max(axis=0)).astype(int) + 1, 0, [wide, high])
    if right - left < 2 or low - top < 2:
        return np.empty((0, 0, 3), picture.pixels.dtype), np.zeros((0, 0), bool)
    window = picture.pixels[top:low, left:right]
    scale = min(1.0, _WINDOW / max(window.shape[:2]))
    if scale < 1.0:
        size = (max(2, round(window.shape[1] * scale)), max(2, round(window.shape[0] * scale)))
        window = cv2.resize(window, size, interpolation=cv2.INTER_AREA)
    mask = np.zeros(window.shape[:2], np.uint8)
    cv2.fillPoly(mask, [np.round((polygon - [left, top]) * scale).astype(np.int32)], 1)
    return window, mask > 0


def _glare(
    smallest: NDArray[np.float32], clipped: NDArray[np.bool_], inside: NDArray[np.bool_], z: FloatArray
) -> NDArray[np.bool_]:
    """Where the surface mirrors a light: bright spots, grown to where their slope ends, a little widened."""
    values = smallest[inside]
    # The zone's own level is its darker part, since glare only adds; its grain is what a blur takes away, so that
    # a wide soft glare is not taken for grain.
    base = float(np.quantile(values, _BASE))
    fine = (smallest - cv2.GaussianBlur(smallest, (0, 0), max(1.5, 0.04 * max(inside.shape))))[inside]
    grain = 1.4826 * float(np.median(np.abs(fine)))
    seed = inside & (clipped | (smallest > base + max(_SEED_STEP, _SEED_SPREADS * grain)))
    if not seed.any() or not _lamp_coloured(z, seed & ~clipped, inside & (smallest <= base)):
        return np.zeros_like(inside)
    around = inside & (smallest > base + max(_GROW_STEP, _GROW_SPREADS * grain))
    _, labels = cv2.connectedComponents((around | seed).astype(np.uint8), connectivity=8)
    grown = np.isin(labels, np.unique(labels[seed])) & (labels > 0)
    reach = max(1, round(_DILATED * max(inside.shape)))
    kernel = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (2 * reach + 1, 2 * reach + 1))
    return np.asarray(cv2.dilate(grown.astype(np.uint8), kernel) > 0)


def _lamp_coloured(z: FloatArray, bright: NDArray[np.bool_], dark: NDArray[np.bool_]) -> bool:
    """Whether what brightens a zone is the lamp's own colour, as glare is, and not the glaze's.

    In straightened light the lamp is grey: glare adds alike to all three channels.
    """
    if not bright.any() or not dark.any():
        return True
    ground = z[dark].mean(axis=0)
    added = z[bright].mean(axis=0) - ground
    grey = np.ones(3) / np.sqrt(3.0)
    to_lamp = added @ grey / max(float(np.linalg.norm(added)), 1e-9)
    to_glaze = added @ ground / max(float(np.linalg.norm(added) * np.linalg.norm(ground)), 1e-9)
    return bool(to_lamp > _LAMP_ALIKE and (to_lamp >= to_glaze or to_lamp > _SURELY_LAMP))


def _away_from(glare: NDArray[np.bool_], inside: NDArray[np.bool_], total: int) -> NDArray[np.bool_]:
    """What lies well away from glare: four of its radii, less where that would leave too little."""
    free = inside & ~glare
    if not glare.any() or free.sum() < FEWEST_PIXELS / 4:
        return free
    distance = cv2.distanceTransform((~glare).astype(np.uint8), cv2.DIST_L2, 3)
    radius = float(np.sqrt(glare.sum() / np.pi))
    least = min(_LEAST_LEFT * total, float(free.sum()))
    furthest = float(np.quantile(distance[free], 1.0 - least / free.sum()))
    return np.asarray(free & (distance >= min(_RADII_AWAY * radius, furthest)))


def _sample(smooth: NDArray[Any], where: NDArray[np.bool_], straight: FloatArray) -> FloatArray:
    levels = smooth[where]
    levels = levels[:: max(1, len(levels) // _SAMPLED)]
    return np.stack([straight[c][levels[:, c]] for c in range(3)], axis=1)


def _parts(z_all: FloatArray, where: NDArray[np.bool_], total: int) -> FloatArray:
    rows, columns = np.nonzero(where)
    block = (rows * _BLOCKS // where.shape[0]) * _BLOCKS + columns * _BLOCKS // where.shape[1]
    count = np.bincount(block, minlength=_BLOCKS**2)
    z = z_all[where]
    sums = np.stack([np.bincount(block, z[:, c], minlength=_BLOCKS**2) for c in range(3)], axis=1)
    enough = count >= max(4, 0.1 * where.size / _BLOCKS**2)
    mean = np.where(enough[:, None], sums / np.maximum(count, 1)[:, None], np.nan)
    return np.column_stack([mean, np.where(enough, count / total, 0.0)])


def _trimmed_mean(z: FloatArray) -> FloatArray:
    cut = int(_TRIMMED * len(z))
    if cut == 0:
        return np.asarray(z.mean(axis=0))
    return np.asarray(np.partition(z, (cut, len(z) - cut - 1), axis=0)[cut : len(z) - cut].mean(axis=0))


def _blocks(z: FloatArray, chosen: NDArray[np.bool_]) -> FloatArray:
    """Means over a grid of 8 × 8 blocks: what differs between them is the tile, not the sensor."""
    rows, columns = np.nonzero(chosen)
    block = (rows * _BLOCKS // chosen.shape[0]) * _BLOCKS + columns * _BLOCKS // chosen.shape[1]
    count = np.bincount(block, minlength=_BLOCKS**2)
    full = count >= max(4, 0.25 * chosen.size / _BLOCKS**2)
    if not full.any():
        return np.asarray(z.mean(axis=0, keepdims=True))
    sums = np.stack([np.bincount(block, z[:, c], minlength=_BLOCKS**2) for c in range(3)], axis=1)
    return np.asarray(sums[full] / count[full, None])
