"""How the scene's light changes over the photo, from the sheet the card and tiles lie on.

The light is a smooth surface in ln: a polynomial whose higher orders are held to nothing unless the sheet says
otherwise. Any plain, even surface around the card tells it, white or not, since only changes are used.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from swatch.science.calibration import GreyCurve
from swatch.science.colour_math import FloatArray
from swatch.science.picture import Picture, highest, lowest, shrunk

LONG_SIDE = 480
ORDER = 4
ORDER_SPREAD = (0.0, 0.5, 0.4, 0.15, 0.10)
"""Expected size of ln light's terms by order, over half the photo; order 0 is the sheet's own colour."""
MISFIT = 0.006
"""Standard deviation of ln light that a polynomial leaves, alike over about a sixth of the photo."""
_INDEPENDENT_SPOTS = 36.0
_CELLS = 16
_EVEN = 0.02
"""Standard deviation of ln light within 5 × 5 pixels of the small photo, above which a place is no plain sheet."""
_LEAST_SHARE, _LEAST_PART, _LEAST_TOUCH = 0.03, 0.004, 10
_ALIKE_LIGHT, _ALIKE_HUE = 0.4, 0.08
_SHADOW_HUE = 0.15
"""How much of another hue a shadow may have, per ln light that it takes: the room's light fills it."""
_DARKEST, _DARK_STEP, _DARK_GRAIN = 0.003, 0.001, 0.0025
"""Light below which nothing is seen of a surface in a shadow; the step and the grain of light there."""
_BESIDE = (0.35, 0.8, 1.6)
"""How far around a zone the sheet tells the zone's light, over the square root of the zone's area; farther where
nothing of it is nearer."""
_FEWEST_BESIDE = 8
_ALIKE_TILE = 0.15
"""Ln light within which what lies beside a zone may be more of the same tile."""
TOP_LIGHT = 0.985
_MOST_POINTS = 2000


@dataclass(frozen=True, slots=True)
class Sheet:
    """Places of a plain surface in the photo: ``points`` (n, 2) in pixels, camera ``light`` (n, 3).

    ``share`` is its part of the photo, ``clipped`` the part of the card's surroundings that is too bright.
    ``other_points`` (m, 2) and ``other_light`` (m, 3) are plain places of about its colour that were not counted
    as part of it: another surface, or the same one in a shadow.
    """

    points: FloatArray
    light: FloatArray
    share: float
    clipped: float
    other_points: FloatArray = field(default_factory=lambda: np.empty((0, 2)))
    other_light: FloatArray = field(default_factory=lambda: np.empty((0, 3)))

    @property
    def seen(self) -> bool:
        """Whether there is a sheet at all."""
        return len(self.points) > 0


@dataclass(frozen=True, slots=True)
class Field:
    """Ln of the scene's light over that at the card's centre, per channel.

    ``level`` (3,) is ln light of the sheet there, where one is seen.
    """

    middle: FloatArray
    half: float
    terms: FloatArray
    covariance: FloatArray
    origin: FloatArray
    residual: float
    level: FloatArray | None = None

    def ln(self, points: FloatArray) -> FloatArray:
        """Ln light at pixels (n, 2): (n, 3)."""
        return np.asarray((self._design(points) - self.origin) @ self.terms)

    def at(self, points: FloatArray) -> FloatArray:
        """The factor itself: (n, 3)."""
        return np.asarray(np.exp(self.ln(points)))

    def doubt(self, points: FloatArray) -> FloatArray:
        """Standard uncertainty of ln light at pixels (n, 2): (n,)."""
        away = self._design(points) - self.origin
        return np.asarray(np.sqrt(np.einsum("ni,ij,nj->n", away, self.covariance, away)))

    def _design(self, points: FloatArray) -> FloatArray:
        return surface_terms((np.asarray(points) - self.middle) / self.half, len(self.terms))


def surface_terms(at: FloatArray, count: int | None = None) -> FloatArray:
    """Powers x^i y^j with i + j from 1 to `ORDER`, lowest order first: (n, k)."""
    x, y = at[:, 0], at[:, 1]
    columns = [x ** (order - j) * y**j for order in range(1, ORDER + 1) for j in range(order + 1)]
    return np.stack(columns[:count], axis=1)


def find_sheet(picture: Picture, card_outline: FloatArray, taken: Sequence[FloatArray]) -> Sheet:
    """Find the plain surface the card lies on.

    Parameters
    ----------
    card_outline : (4, 2)
        What the card covers, its frame included.
    taken : sequence of (k, 2)
        Outlines of the zones.

    Returns
    -------
    Sheet
        Without points where no plain surface takes a fair part of the photo near the card.
    """
    small = shrunk(picture.pixels, LONG_SIDE)
    scale = small.shape[1] / picture.size[0]
    light = _light_of(small, picture)
    ln = np.log(np.maximum(light, 1e-3)).astype(np.float32)
    free = np.ones(small.shape[:2], np.uint8)
    for outline in (card_outline, *taken):
        cv2.fillPoly(free, [np.round(outline * scale).astype(np.int32)], 0)
    free = cv2.erode(free, np.ones((5, 5), np.uint8), borderValue=1)
    clipped = highest(light) >= TOP_LIGHT
    rough, darkest = _roughness(ln), lowest(light)
    open_to = (free > 0) & ~clipped
    even = (rough < _EVEN) & open_to & (darkest > 0.02)
    shaded = (
        (rough < np.maximum(_EVEN, _DARK_GRAIN / np.maximum(darkest, _DARKEST))) & open_to & (darkest > _DARKEST)
    )
    ring = _ring(small.shape[:2], card_outline * scale) & (free > 0)
    mask, others = _same_surface(even, shaded & ~even, ln, ring)
    ring_clipped = float(clipped[ring].mean()) if ring.any() else 0.0
    return Sheet(*_some(mask, light, scale), float(mask.mean()), ring_clipped, *_some(others, light, scale))


def _some(mask: NDArray[np.bool_], light: FloatArray, scale: float) -> tuple[FloatArray, FloatArray]:
    """At most so many places of a mask, in pixels of the photo, and their light."""
    rows, columns = np.nonzero(mask)
    step = max(1, -(-len(rows) // _MOST_POINTS))
    points = (np.stack([columns, rows], axis=1)[::step] + 0.5) / scale
    return points.astype(float), light[rows[::step], columns[::step]]


def sheet_of_blank(blank: Picture, size: tuple[int, int]) -> Sheet:
    """Every even place of a photo of a blank sheet, as if it were the sheet in a photo of `size`."""
    small = shrunk(blank.pixels, LONG_SIDE)
    light = _light_of(small, blank)
    ln = np.log(np.maximum(light, 1e-3)).astype(np.float32)
    rows, columns = np.nonzero((_roughness(ln) < _EVEN) & (lowest(light) > 0.02))
    step = max(1, -(-len(rows) // _MOST_POINTS))
    points = (np.stack([columns, rows], axis=1)[::step] + 0.5) * (size[0] / small.shape[1])
    chosen = light[rows[::step], columns[::step]]
    clipped = float((chosen >= 0.985).any(axis=1).mean()) if len(chosen) else 0.0
    return Sheet(points.astype(float), chosen, len(rows) / small[..., 0].size, clipped)


def fit_field(sheet: Sheet, curve: GreyCurve, picture_size: tuple[int, int], centre: FloatArray) -> Field:
    """Fit the light's surface to the sheet, odd places (a crease, a shadow's edge) counting little.

    Parameters
    ----------
    centre : (2,)
        Where the field is 1: the card's centre, in pixels.
    """
    middle, half = np.array(picture_size) / 2.0, max(picture_size) / 2.0
    design = surface_terms((sheet.points - middle) / half)
    whole = np.column_stack([np.ones(len(design)), design])
    target = np.log(curve(sheet.light))
    orders = [0, *(order for order in range(1, ORDER + 1) for _ in range(order + 1))]
    spread = np.array([ORDER_SPREAD[order] for order in orders])
    # As many independent witnesses as the sheet has spots of a sixth of the photo's side.
    worth = _INDEPENDENT_SPOTS * max(sheet.share, 0.02) / len(whole)
    weight = np.ones(len(whole))
    misfit = MISFIT
    for _ in range(4):
        pull = np.diag(np.where(spread > 0, misfit**2 / np.maximum(spread, 1e-9) ** 2, 0.0))
        weighted = whole * (weight * worth)[:, None]
        normal = weighted.T @ whole + pull
        terms = np.linalg.solve(normal, weighted.T @ target)
        left = target - whole @ terms
        off = np.abs(left).max(axis=1)
        reach = max(4.0 * 1.48 * float(np.median(off)), 0.01)
        weight = np.where(off < reach, (1 - (off / reach) ** 2) ** 2, 0.0)
        residual = _patchiness(sheet.points, left, weight, max(picture_size))
        misfit = max(MISFIT, residual)
    covariance = np.linalg.inv(normal)[1:, 1:] * misfit**2
    origin = surface_terms((centre[None] - middle) / half)[0]
    return Field(middle, half, terms[1:], covariance, origin, residual, terms[0] + origin @ terms[1:])


def light_beside(
    sheet: Sheet, field: Field, curve: GreyCurve, outline: FloatArray, own: FloatArray | None = None
) -> FloatArray:
    """How far the sheet around a zone or card is from the light reckoned with there: ln of each place, (n,).

    Parameters
    ----------
    outline : (k, 2)
        The zone's or card's, in pixels.
    own : (3,), optional
        Straightened light of the zone itself: places that look the same are more of the tile, and no sheet.

    Returns
    -------
    (n,)
        Below 0 in a shadow; empty where no sheet is seen near it.
    """
    nothing = np.empty(0)
    if field.level is None:
        return nothing
    points = np.vstack([sheet.points, sheet.other_points])
    light = np.vstack([sheet.light, sheet.other_light])
    shape = outline.astype(np.float32)
    side = float(np.sqrt(max(cv2.contourArea(shape), 1.0)))
    far = _BESIDE[-1] * side
    box = ((points > outline.min(axis=0) - far) & (points < outline.max(axis=0) + far)).all(axis=1)
    points, z = points[box], curve(light[box])
    if own is not None:
        other = ~_more_of_the_tile(z, own, np.exp(field.level))
        points, z = points[other], z[other]
    away = np.array([-cv2.pointPolygonTest(shape, (float(x), float(y)), True) for x, y in points])
    for reach in _BESIDE:
        close = away < reach * side
        if close.sum() >= _FEWEST_BESIDE:
            left = np.log(z[close]) - field.level - field.ln(points[close])
            return np.asarray(left.mean(axis=1))
    return nothing


def _more_of_the_tile(z: FloatArray, own: FloatArray, sheet: FloatArray) -> NDArray[np.bool_]:
    """Which places look like more of the tile: as light, or of a hue nearer to the tile's than to the sheet's."""
    ln, tile = np.log(z + _DARK_STEP), np.log(own + _DARK_STEP)
    hue, tile_hue, sheet_hue = (x - x.mean(axis=-1, keepdims=True) for x in (ln, tile, np.log(sheet)))
    to_tile, to_sheet = np.abs(hue - tile_hue).max(axis=1), np.abs(hue - sheet_hue).max(axis=1)
    return np.asarray((np.abs(ln - tile).max(axis=1) < _ALIKE_TILE) | (to_tile < to_sheet))


def other_light(beside: FloatArray, part: float) -> float:
    """What at least this `part` of the places beside something is off by, darker or brighter; 0 where none are."""
    if not len(beside):
        return 0.0
    low, high = np.quantile(beside, [part, 1.0 - part])
    return float(low if -low > high else high)


def _patchiness(points: FloatArray, left: FloatArray, weight: FloatArray, long_side: float) -> float:
    """Root mean square of what the surface leaves, by sixteenths of the photo: no grain of paper or sensor."""
    cell = np.floor(points * (_CELLS / long_side)).astype(int)
    where = cell[:, 1] * (_CELLS + 1) + cell[:, 0]
    count = np.bincount(where, weight)
    full = count >= 0.3 * len(points) / max(int(np.count_nonzero(count)), 1)
    means = np.stack([np.bincount(where, weight * left[:, c])[full] / count[full] for c in range(3)], axis=1)
    return float(np.sqrt((means**2).mean()))


def fit_plane(
    points: FloatArray, ln_left: FloatArray, picture_size: tuple[int, int], centre: FloatArray, doubt: float
) -> Field:
    """A plane over the card's own residuals, where no sheet is seen.

    Parameters
    ----------
    points : (n, 2)
        Centres of the patches.
    ln_left : (n,)
        Ln of the light read over the light expected, of each patch.
    doubt : float
        Standard deviation of one patch's `ln_left`.
    """
    middle, half = np.array(picture_size) / 2.0, max(picture_size) / 2.0
    design = surface_terms((points - middle) / half)[:, :2]
    whole = np.column_stack([np.ones(len(design)), design])
    pull = np.diag([0.0, *(doubt**2 / np.full(2, 0.25) ** 2)])
    normal = whole.T @ whole + pull
    terms = np.linalg.solve(normal, whole.T @ ln_left)
    origin = surface_terms((centre[None] - middle) / half)[0, :2]
    covariance = np.linalg.inv(normal)[1:, 1:] * doubt**2
    return Field(middle, half, np.tile(terms[1:, None], (1, 3)), covariance, origin, 0.0)


def flat(picture_size: tuple[int, int], centre: FloatArray) -> Field:
    """Even light: what is assumed before anything is known."""
    middle, half = np.array(picture_size) / 2.0, max(picture_size) / 2.0
    origin = surface_terms((centre[None] - middle) / half)[0, :2]
    return Field(middle, half, np.zeros((2, 3)), np.diag([0.25**2] * 2), origin, 0.0)


def _light_of(small: NDArray[Any], picture: Picture) -> FloatArray:
    return np.stack([picture.curve[c][small[..., c]] for c in range(3)], axis=-1)


def _roughness(ln: NDArray[np.float32]) -> FloatArray:
    grey = ln.mean(axis=2)
    mean = cv2.blur(grey, (5, 5))
    return np.asarray(np.sqrt(np.maximum(cv2.blur(grey * grey, (5, 5)) - mean * mean, 0.0)))


def _ring(shape: tuple[int, ...], outline: FloatArray) -> NDArray[np.bool_]:
    """What lies close around the card."""
    ring = np.zeros(shape, np.uint8)
    cv2.fillPoly(ring, [np.round(outline).astype(np.int32)], 1)
    reach = max(3, round(0.25 * float(np.ptp(outline, axis=0).min())))
    return np.asarray(cv2.dilate(ring, np.ones((2 * reach + 1, 2 * reach + 1), np.uint8)) > 0)


def _same_surface(
    even: NDArray[np.bool_], dark: NDArray[np.bool_], ln: NDArray[np.float32], ring: NDArray[np.bool_]
) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
    """The plain surface near the card with the most light on it, with all its parts: folds and tiles divide it.

    Beside it what has its colour, and is too dark or too bright to be taken for it.
    """
    labels, means, sizes = _parts(even, ln)
    touching = np.bincount(labels[ring], minlength=labels.max() + 1)
    near = [k for k in means if touching[k] >= _LEAST_TOUCH]
    nothing = np.zeros_like(even)
    if not near:
        return nothing, nothing
    first = means[max(near, key=lambda k: float(sizes[k] * np.exp(means[k].mean())))]
    parts = [k for k, mean in means.items() if _is_alike(mean - first)]
    mask = np.isin(labels, parts)
    if mask.mean() < _LEAST_SHARE:
        return nothing, nothing
    others = np.isin(labels, [k for k, mean in means.items() if k not in parts and _may_be_shaded(mean - first)])
    labels, means, _ = _parts(dark, ln)
    return mask, others | np.isin(labels, [k for k, mean in means.items() if _may_be_shaded(mean - first)])


def _parts(
    mask: NDArray[np.bool_], ln: NDArray[np.float32]
) -> tuple[NDArray[Any], dict[int, FloatArray], FloatArray]:
    """Labels of a mask's connected parts, and of the large ones their mean; all parts' share of the photo."""
    count, labels, stats, _ = cv2.connectedComponentsWithStats(mask.astype(np.uint8), connectivity=4)
    sizes = stats[:, cv2.CC_STAT_AREA] / labels.size
    large = [k for k in range(1, count) if sizes[k] >= _LEAST_PART]
    return labels, {k: ln[labels == k].mean(axis=0) for k in large}, sizes


def _is_alike(off: FloatArray) -> bool:
    return bool(abs(off.mean()) < _ALIKE_LIGHT and np.abs(off - off.mean()).max() < _ALIKE_HUE)


def _may_be_shaded(off: FloatArray) -> bool:
    return bool(np.abs(off - off.mean()).max() < _ALIKE_HUE + _SHADOW_HUE * min(abs(off.mean()), 1.0))
