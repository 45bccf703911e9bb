"""A form laid over the outline of the next piece: its regions are placed once and found again."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from swatch.science.colour_math import FloatArray
from swatch.science.locate import project
from swatch.science.picture import Picture
from swatch.terms.forms import Form, FormZone
from swatch.terms.measured import Point

SURE, PERHAPS = 0.90, 0.80
"""Overlap with the form's outline from which a piece is of that form, and from which it may be."""
_TURNS = 72
_RASTER = 96
_NEARLY = 0.05
"""Turns whose overlap is this near the best are told apart by the regions' tones, then by the smallest turn."""
_TONE_COUNTS, _UPRIGHT_COUNTS = 0.25, 0.01
_ROUNDS = 8
_STRETCHED = 1.6
"""A piece is of a form only where it is not drawn out more than this one way: the same bowl is not a plate."""
_EDGE = 0.035
"""Width left out along the outline and where regions meet, over the square root of the piece's area: lips, feet
and masked edges are of mixed colour."""
_FINE = 320
"""Side of the raster in which regions are trimmed."""
_LEAST_LEFT = 0.3


@dataclass(frozen=True)
class Laid:
    """A form on one outline: ``matrix`` (3, 3) leads from form to pixels, ``alike`` is their overlap, 0 to 1."""

    matrix: FloatArray
    alike: float


def form_of(name: str, outline: FloatArray, zones: Sequence[tuple[str, FloatArray]], picture: Picture) -> Form:
    """Make a form from one piece: its outline (k, 2) and its regions' outlines, in pixels of `picture`."""
    middle, size = _middle(outline)
    around = _evenly(outline, 160)
    tones = tones_of(picture, [polygon for _, polygon in zones])
    return Form(
        name,
        _spots((around - middle) / size),
        tuple(
            FormZone(region, _spots((polygon - middle) / size), None if tone is None else _tone(tone))
            for (region, polygon), tone in zip(zones, tones, strict=True)
        ),
    )


def bands_of(name: str, outline: FloatArray, regions: Sequence[str], picture: Picture) -> Form:
    """A first guess at a form: its regions as bands from the top down, to be nudged."""
    (left, top), (right, low) = outline.min(axis=0), outline.max(axis=0)
    zones = []
    for k, region in enumerate(regions):
        upper, lower = (top + (low - top) * share / len(regions) for share in (k, k + 1))
        across = _width_at(outline, 0.5 * (upper + lower))
        one, other = across if across is not None else (left, right)
        keep, trim = 0.15 * (other - one), 0.12 * (lower - upper)
        box = [[one + keep, upper + trim], [other - keep, upper + trim]]
        box += [[other - keep, lower - trim], [one + keep, lower - trim]]
        zones.append((region, np.array(box)))
    return form_of(name, outline, zones, picture)


def lay(form: Form, outline: FloatArray, picture: Picture) -> Laid:
    """Lay a form over an outline (k, 2): moved, turned, scaled, and leant as a camera sees it from aside."""
    template = np.array(form.outline, dtype=float)
    flat, round_ = _whitener(template), _whitener(outline)
    if flat is None or round_ is None:
        return Laid(np.eye(3), 0.0)
    even, seen = _through(flat, template), _through(round_, outline)
    stretched = np.linalg.svd(np.linalg.inv(round_[:2, :2]) @ flat[:2, :2], compute_uv=False)
    drawn = _filled(seen)
    turned = []
    for k in range(_TURNS):
        turn = _turn(2 * np.pi * k / _TURNS)
        turned.append((_overlap(_filled(_through(turn, even)), drawn), turn))
    best = max(one for one, _ in turned)
    whole = [(one, np.linalg.inv(round_) @ turn @ flat) for one, turn in turned if one >= best - _NEARLY]
    scored = [(one - _tone_cost(form, matrix, picture) + _upright(matrix), matrix) for one, matrix in whole]
    matrix = _settled(max(scored, key=lambda one: one[0])[1], template, outline)
    if len(whole) > _TURNS // 2:  # round: its outline says nothing of its turn
        matrix = _turned_by_regions(form, matrix, picture)
    alike = _overlap(*_filled_together(project(matrix, template), outline))
    return Laid(matrix, alike if stretched[0] / stretched[1] <= _STRETCHED else min(alike, PERHAPS - 0.01))


def regions_on(form: Form, laid: Laid, outline: FloatArray) -> list[tuple[str, tuple[Point, ...]]]:
    """The form's regions on a piece, in pixels, with its edge and the edges between regions left out."""
    polygons = [project(laid.matrix, np.array(zone.polygon, dtype=float)) for zone in form.zones]
    low, high = outline.min(axis=0), outline.max(axis=0)
    scale = _FINE / float((high - low).max())
    piece = _drawn((outline - low) * scale)
    edge = max(1, round(_EDGE * float(np.sqrt(piece.sum()))))
    kernel = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (2 * edge + 1, 2 * edge + 1))
    half = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (2 * (edge // 2) + 1, 2 * (edge // 2) + 1))
    within = cv2.erode(piece, kernel, borderValue=0)
    each = [_drawn((polygon - low) * scale) for polygon in polygons]
    placed = []
    for k, zone in enumerate(form.zones):
        # Half as much of its own edge: it may be that of a mask, and was placed by hand.
        trimmed = cv2.erode(each[k], half, borderValue=0) & within
        for n, other in enumerate(each):
            if n != k:
                trimmed &= 1 - cv2.dilate(other, kernel)
        if trimmed.sum() < _LEAST_LEFT * each[k].sum():
            trimmed = each[k] & piece  # a narrow one, a lip: all of it rather than none
        polygon = _outline_of(trimmed)
        if polygon is not None:
            on_photo = polygon / scale + low
            placed.append((zone.region, tuple((float(x), float(y)) for x, y in on_photo)))
    return placed


def tones_of(picture: Picture, polygons: Sequence[FloatArray]) -> list[FloatArray | None]:
    """ln of camera light in each polygon, over the mean of them all; None where a polygon is out of the photo."""
    tones = [_ln_light(picture, polygon) for polygon in polygons]
    known = [tone for tone in tones if tone is not None]
    if not known:
        return tones
    middle = np.mean(known, axis=0)
    return [None if tone is None else tone - middle for tone in tones]


def _ln_light(picture: Picture, polygon: FloatArray) -> FloatArray | None:
    levels = _levels(picture, polygon)
    if levels is None:
        return None
    light = np.array([picture.curve[c][levels[:, c]].mean() for c in range(3)])
    return np.asarray(np.log(np.maximum(light, 1e-3)))


def _levels(picture: Picture, polygon: FloatArray) -> NDArray[np.integer] | None:
    """Levels of some pixels spread over a polygon, (m, 3)."""
    wide, high = picture.size
    x0, y0 = np.maximum(np.floor(polygon.min(axis=0)).astype(int), 0)
    x1, y1 = np.minimum(np.ceil(polygon.max(axis=0)).astype(int) + 1, [wide, high])
    if x1 - x0 < 2 or y1 - y0 < 2:
        return None
    step = max(1, int(min(x1 - x0, y1 - y0) / 24))
    window = picture.pixels[y0:y1:step, x0:x1:step]
    mask = np.zeros(window.shape[:2], np.uint8)
    cv2.fillPoly(mask, [np.rint((polygon - [x0, y0]) / step).astype(np.int32)], 1)
    levels = window[mask > 0]
    return levels if len(levels) else None


def _tone_cost(form: Form, matrix: FloatArray, picture: Picture) -> float:
    known = [zone for zone in form.zones if zone.tone is not None]
    if len(known) < 2:
        return 0.0
    now = tones_of(picture, [project(matrix, np.array(zone.polygon, dtype=float)) for zone in known])
    off = [
        np.subtract(tone, np.array(zone.tone)) for tone, zone in zip(now, known, strict=True) if tone is not None
    ]
    return _TONE_COUNTS * min(1.0, float(np.sqrt(np.mean(np.square(off))))) if off else _TONE_COUNTS


def _turned_by_regions(form: Form, matrix: FloatArray, picture: Picture) -> FloatArray:
    """Turn a round form a little further, to where its regions are plainest within."""
    middle = np.array(form.outline).mean(axis=0)
    there, back = np.eye(3), np.eye(3)
    there[:2, 2], back[:2, 2] = middle, -middle

    def rough(further: FloatArray) -> float:
        laid = [project(further, 0.8 * polygon + 0.2 * polygon.mean(axis=0)) for polygon in polygons]
        spreads = [_spread(picture, polygon) for polygon in laid]
        return float(np.mean([one for one in spreads if one is not None] or [np.inf]))

    polygons = [np.array(zone.polygon, dtype=float) for zone in form.zones]
    tried = [matrix @ there @ _turn(np.radians(angle)) @ back for angle in np.arange(-6.0, 6.1, 1.0)]
    return min(tried, key=rough)


def _spread(picture: Picture, polygon: FloatArray) -> float | None:
    levels = _levels(picture, polygon)
    if levels is None:
        return None
    ln = np.log(np.maximum(np.stack([picture.curve[c][levels[:, c]] for c in range(3)], axis=1), 3e-3))
    return float(np.sqrt(ln.var(axis=0).sum()))


def _upright(matrix: FloatArray) -> float:
    """A little for lying as the first piece lay: of a round form nothing else may tell."""
    return _UPRIGHT_COUNTS * float(np.cos(np.arctan2(matrix[1, 0] - matrix[0, 1], matrix[0, 0] + matrix[1, 1])))


def _settled(matrix: FloatArray, template: FloatArray, outline: FloatArray) -> FloatArray:
    """Move a form's outline onto the piece's: nearest points in turn, at first without leaning."""
    from scipy.spatial import cKDTree

    around = _evenly(outline, 480)
    tree = cKDTree(around)
    _, size = _middle(outline)
    best, least = matrix, np.inf
    for k in range(_ROUNDS):
        carried = project(matrix, template)
        distance, at = tree.query(carried)
        spread = float(np.sqrt(np.mean(distance**2)))
        if spread < least:
            best, least = matrix, spread
        near = distance < 0.25 * size
        if near.sum() < 12:
            break
        matrix = _fitted(template[near], around[at[near]], leaning=k >= _ROUNDS // 2)
    return best


def _fitted(spots: FloatArray, points: FloatArray, *, leaning: bool) -> FloatArray:
    """Least squares of a map from the form to pixels: affine, or with a little leaning."""
    middle, size = points.mean(axis=0), float(points.std())
    wanted = (points - middle) / size
    ones = np.column_stack([spots, np.ones(len(spots))])
    nothing = np.zeros_like(ones)
    rows = np.vstack([np.hstack([ones, nothing]), np.hstack([nothing, ones])])
    seen = np.concatenate([wanted[:, 0], wanted[:, 1]])
    if leaning:
        lean = np.vstack([-wanted[:, :1] * spots, -wanted[:, 1:] * spots])
        held = np.hstack([np.zeros((2, 6)), 0.3 * np.sqrt(len(spots)) * np.eye(2)])
        rows = np.vstack([np.hstack([rows, lean]), held])
        seen = np.concatenate([seen, [0.0, 0.0]])
    found = np.linalg.lstsq(rows, seen, rcond=None)[0]
    matrix = np.vstack([found[:3], found[3:6], [*(found[6:] if leaning else (0.0, 0.0)), 1.0]])
    back = np.array([[size, 0, middle[0]], [0, size, middle[1]], [0, 0, 1.0]])
    return np.asarray(back @ matrix)


def _whitener(outline: FloatArray) -> FloatArray | None:
    """The map that makes an outline's area as wide as it is high, in every direction, about its own middle."""
    moments = cv2.moments(outline.astype(np.float32).reshape(-1, 1, 2))
    if moments["m00"] <= 0:
        return None
    middle = np.array([moments["m10"], moments["m01"]]) / moments["m00"]
    spread = np.array([[moments["mu20"], moments["mu11"]], [moments["mu11"], moments["mu02"]]]) / moments["m00"]
    values, vectors = np.linalg.eigh(spread)
    if values[0] <= 0:
        return None
    even = (vectors / np.sqrt(values)) @ vectors.T
    return np.vstack([np.column_stack([even, -even @ middle]), [0.0, 0.0, 1.0]])


def _turn(angle: float) -> FloatArray:
    c, s = np.cos(angle), np.sin(angle)
    return np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]])


def _through(matrix: FloatArray, points: FloatArray) -> FloatArray:
    return np.asarray(points @ matrix[:2, :2].T + matrix[:2, 2])


def _filled(even: FloatArray) -> NDArray[np.uint8]:
    """A whitened outline on a small raster."""
    return _drawn(even * (_RASTER / 7.0) + _RASTER / 2, (_RASTER, _RASTER))


def _filled_together(one: FloatArray, other: FloatArray) -> tuple[NDArray[np.uint8], NDArray[np.uint8]]:
    low = np.minimum(one.min(axis=0), other.min(axis=0))
    scale = 2.0 * _RASTER / float((np.maximum(one.max(axis=0), other.max(axis=0)) - low).max())
    size = (2 * _RASTER + 2, 2 * _RASTER + 2)
    return _drawn((one - low) * scale, size), _drawn((other - low) * scale, size)


def _drawn(points: FloatArray, size: tuple[int, int] | None = None) -> NDArray[np.uint8]:
    wide, high = size or (_FINE + 2, _FINE + 2)
    mask = np.zeros((high, wide), np.uint8)
    cv2.fillPoly(mask, [np.rint(np.clip(points, -4e3, 4e3) * 16).astype(np.int32)], 1, shift=4)
    return mask


def _overlap(one: NDArray[np.uint8], other: NDArray[np.uint8]) -> float:
    return float((one & other).sum() / max(int((one | other).sum()), 1))


def _outline_of(mask: NDArray[np.uint8]) -> FloatArray | None:
    outlines, _ = cv2.findContours(mask, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_SIMPLE)
    if not outlines:
        return None
    largest = max(outlines, key=cv2.contourArea)
    polygon = cv2.approxPolyDP(largest, 2.0, True)[:, 0, :].astype(float) + 0.5
    return polygon if len(polygon) >= 3 else None


def _middle(outline: FloatArray) -> tuple[FloatArray, float]:
    moments = cv2.moments(outline.astype(np.float32).reshape(-1, 1, 2))
    area = max(moments["m00"], 1e-9)
    return np.array([moments["m10"], moments["m01"]]) / area, float(np.sqrt(area))


def _evenly(outline: FloatArray, count: int) -> FloatArray:
    """So many points round an outline, evenly apart."""
    closed = np.vstack([outline, outline[:1]])
    along = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(closed, axis=0), axis=1))])
    at = np.linspace(0.0, along[-1], count, endpoint=False)
    return np.stack([np.interp(at, along, closed[:, c]) for c in range(2)], axis=1)


def _width_at(outline: FloatArray, y: float) -> tuple[float, float] | None:
    closed = np.vstack([outline, outline[:1]])
    found = []
    for (x0, y0), (x1, y1) in itertools.pairwise(closed):
        if (y0 - y) * (y1 - y) < 0:
            found.append(x0 + (x1 - x0) * (y - y0) / (y1 - y0))
    return (min(found), max(found)) if len(found) >= 2 else None


def _spots(points: FloatArray) -> tuple[Point, ...]:
    return tuple((round(float(x), 5), round(float(y), 5)) for x, y in points)


def _tone(tone: FloatArray) -> tuple[float, float, float]:
    red, green, blue = (round(float(part), 4) for part in tone)
    return red, green, blue
