"""Things on the bench: tiles with their zones, smears, the chart, a painted board; each with its truth."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np

from demo_tiles.bench import PX, Bench, smooth_noise
from demo_tiles.camera import chart_spectra
from demo_tiles.physics import SURFACE, body_reflectance, parse, raw_reflectance, reflectances, surface_of
from demo_tiles.spectra import FloatArray, band, edge, flat, lab_of, nudge_to
from demo_tiles.studio import BODIES
from demo_tiles.tiles import FIRINGS, REFERENCE_LAB, Tile

NODES = np.array([0.6, 0.75, 0.9, 1.0, 1.12, 1.3, 1.55])
"""Thicknesses, as shares of a zone's own, at which its spectrum is computed; spots between are mixed."""
BARE_FOOT_MM = 4.0


@dataclass(frozen=True)
class Drawn:
    """A zone as drawn by hand: its corners in scene mm, and the true Lab of what they enclose."""

    zone: str
    corners: FloatArray
    lab: FloatArray


def _outline(size: tuple[int, int], corner_mm: float) -> FloatArray:
    width, height = size
    r = round(corner_mm * PX)
    mask = np.zeros((height, width), np.float32)
    cv2.rectangle(mask, (r, 1), (width - r - 1, height - 2), 1.0, -1)
    cv2.rectangle(mask, (1, r), (width - 2, height - r - 1), 1.0, -1)
    for cx in (r, width - r - 1):
        for cy in (r, height - r - 1):
            cv2.circle(mask, (cx, cy), r - 1, 1.0, -1, cv2.LINE_AA)
    return mask


def _from_edge(mask: FloatArray) -> FloatArray:
    """Distance from the outline, mm."""
    padded = cv2.copyMakeBorder((mask > 0.5).astype(np.uint8), 1, 1, 1, 1, cv2.BORDER_CONSTANT)
    return cv2.distanceTransform(padded, cv2.DIST_L2, 5)[1:-1, 1:-1] / PX


def zone_spectra(tile: Tile, rng: np.random.Generator) -> dict[str, FloatArray]:
    """Spectra (nodes, 36) of each zone of a tile as this one came out: the kiln's and the brush's doing in it."""
    if tile.stage == "raw":
        return {
            zone.name: np.repeat(raw_reflectance(zone.layers)[None], len(NODES), axis=0) for zone in tile.zones
        }
    firing = next(f for f in FIRINGS if f.name == tile.firing)
    cone = float(firing.cone) + firing.offset + firing.shelves[tile.shelf] + rng.normal(0, 0.05)
    hand = rng.normal(0, 0.05)
    spectra = {}
    for zone in tile.zones:
        stack = parse(zone.layers)
        own = np.exp(hand + rng.normal(0, 0.09, len(stack)))
        spectra[zone.name] = reflectances([stack] * len(NODES), tile.body, cone, [own * node for node in NODES])
    return spectra


def bare_spectrum(tile: Tile) -> FloatArray:
    """(36,) reflectance of a tile's bare body; bisque, a touch pinker and lighter, where nothing is fired yet."""
    cone = 1.0 if tile.stage == "raw" else float(next(f for f in FIRINGS if f.name == tile.firing).cone)
    inside = body_reflectance(tile.body, cone)
    back, skin = SURFACE["bare"]
    return 0.95 * (1 - back) * inside / (1 - back * inside) + skin - (edge(590, 30, 0.035) if cone < 4 else 0)


def _zone_shares(tile: Tile, shape: tuple[int, int], rng: np.random.Generator) -> FloatArray:
    """(zones + 1, h, w) share of each zone at each pixel, bare body last; borders waver as a brush leaves them."""
    height, width = shape
    foot = BARE_FOOT_MM if tile.stage == "fired" and any(zone.layers for zone in tile.zones) else 0.0
    covered = height - foot * PX
    y, x = np.mgrid[:height, :width].astype(np.float32)
    wave_y = 0.7 * PX * smooth_noise(rng, (1, width), (22.0, 22.0))
    wave_x = 0.7 * PX * smooth_noise(rng, (height, 1), (22.0, 22.0))
    shares = np.zeros((len(tile.zones) + 1, height, width), np.float32)
    for k, zone in enumerate(tile.zones):
        left, top, right, bottom = zone.rect
        low = -99.0 if left == 0 else left * width
        high = 2.0 * width if right == 1 else right * width
        up = -99.0 if top == 0 else top * covered
        down = bottom * covered
        shares[k] = (x + wave_x >= low) & (x + wave_x < high) & (y + wave_y >= up) & (y + wave_y < down)
    if tile.stage == "raw":
        shares[0] = _smear(shape, rng)
    shares[-1] = 1 - shares[:-1].sum(axis=0)
    return np.stack([cv2.GaussianBlur(share, (0, 0), 0.35 * PX) for share in shares])


def _smear(shape: tuple[int, int], rng: np.random.Generator) -> FloatArray:
    height, width = shape
    y, x = np.mgrid[:height, :width].astype(np.float32)
    out = np.maximum(np.abs(x / width - 0.5) / 0.40, np.abs(y / height - 0.48) / 0.41)
    return (out + 0.03 * smooth_noise(rng, shape, (30.0, 11.0)) < 1).astype(np.float32)


def _glints(tile: Tile, shares: FloatArray, from_edge: FloatArray, rng: np.random.Generator) -> FloatArray:
    """Mirror images of the lamp: along the rims turned to it, on unevenness of gloss, broad and weak on satin."""
    height, width = from_edge.shape
    y, x = np.mgrid[:height, :width].astype(np.float32)
    mirror = np.zeros((height, width), np.float32)
    toward_lamp = np.clip(1.4 - 1.4 * (x / width + y / height), 0, 1)
    rim = np.exp(-(((from_edge - 1.1) / 0.45) ** 2)) * toward_lamp
    rim *= np.clip(0.4 + 0.8 * smooth_noise(rng, (height, width), (10.0, 10.0)), 0, None)
    for share, zone in zip(shares[:-1], tile.zones, strict=True):
        sheen = "bare" if tile.stage == "raw" else surface_of(parse(zone.layers))
        if sheen not in ("gloss", "satin"):
            continue
        left, top, right, bottom = np.array(zone.rect) * [width, height, width, height]
        spots = np.zeros_like(mirror)
        for _ in range(rng.poisson(0.9 if sheen == "gloss" else 0.5)):
            cx, cy = rng.uniform(left, right), rng.uniform(top, bottom)
            long, short = rng.uniform(2.0, 5.0) * PX, rng.uniform(0.7, 1.8) * PX
            lean = np.radians(rng.uniform(15, 55))
            u = (x - cx) * np.cos(lean) + (y - cy) * np.sin(lean)
            v = -(x - cx) * np.sin(lean) + (y - cy) * np.cos(lean)
            if sheen == "gloss":
                inside = (u / long) ** 2 + (v / short) ** 2 + 0.25 * smooth_noise(rng, mirror.shape, (6.0, 6.0))
                spots += rng.uniform(0.5, 1.3) / (1 + np.exp(np.clip(5 * (inside - 1), -30, 30)))
            else:
                spots += 0.045 * np.exp(-0.5 * ((u / (1.3 * long)) ** 2 + (v / (2.2 * short)) ** 2))
        veil = {"gloss": 0.0015, "satin": 0.003}[sheen]
        mirror += share * (veil + spots + rim * (0.9 if sheen == "gloss" else 0.10))
    return mirror


def draw_tile(
    bench: Bench, tile: Tile, centre: tuple[float, float], size_mm: tuple[float, float], rng: np.random.Generator
) -> list[Drawn]:
    """Lay one tile on the bench; returns its zones as a user would outline them, with their truth."""
    width, height = (round(side * PX) for side in size_mm)
    shape = (height, width)
    mask = _outline((width, height), 2.5)
    from_edge = _from_edge(mask)
    shares = _zone_shares(tile, shape, rng)
    spectra = zone_spectra(tile, rng)
    # Coats run thin at rims, thicker where the brush lingered; strokes go across.
    uneven = 0.055 * smooth_noise(rng, shape, (30.0, 30.0)) + 0.04 * smooth_noise(rng, shape, (26.0, 4.0))
    thick = np.exp(uneven) * (1 - 0.33 * np.exp(-((from_edge / 1.3) ** 2)))
    at = np.clip(np.interp(thick, NODES, np.arange(len(NODES))), 0, len(NODES) - 1.001)
    low = at.astype(int)
    mix = np.stack(
        [np.where(low == k, 1 - (at - low), np.where(low == k - 1, at - low, 0)) for k in range(len(NODES))]
    )
    specks = np.ones(shape, np.float32)
    if BODIES[tile.body].specks and tile.stage == "fired":
        spots = smooth_noise(rng, shape, (2.2, 2.2))
        specks = np.where(spots > 2.55, 0.72, 1.0).astype(np.float32)
        specks = cv2.GaussianBlur(specks, (0, 0), 0.8)
    grain = specks * np.exp(0.010 * smooth_noise(rng, shape, (1.5, 1.5)))
    bare = bare_spectrum(tile)
    tables = [spectra[zone.name] for zone in tile.zones]
    colour = shares[-1][..., None] * (bare @ bench.weights)
    for share, table in zip(shares[:-1], tables, strict=True):
        colour = colour + share[..., None] * np.tensordot(mix, table @ bench.weights, axes=(0, 0))
    colour *= grain[..., None]
    gy, gx = np.gradient(cv2.GaussianBlur(mask, (0, 0), 0.8 * PX))
    shade = 1 + np.clip(3.2 * (gx + gy), -0.35, 0.25) * -np.sign(bench.light.place[0])
    matrix = bench.place((width, height), centre, rng.uniform(-2.2, 2.2))
    bench.lay(colour, mask, matrix, lift_mm=6.0, shade=shade, mirror=_glints(tile, shares, from_edge, rng) * mask)

    drawn = []
    for k, zone in enumerate(tile.zones):
        corners = _hand_drawn(zone.rect, size_mm, tile, rng)
        inside = np.zeros(shape, np.uint8)
        cv2.fillPoly(inside, [np.rint(corners * PX).astype(np.int32)], 1)
        inside = inside.astype(bool) & (mask > 0.5)
        weights = (mix * grain * shares[k])[:, inside].mean(axis=1) @ tables[k]
        for j, other in enumerate(tables):
            if j != k:
                weights = weights + (mix * grain * shares[j])[:, inside].mean(axis=1) @ other
        mean = weights + (shares[-1] * grain)[inside].mean() * bare
        scene = (np.c_[corners * PX, np.ones(len(corners))] @ matrix.T) / PX
        drawn.append(Drawn(f"{tile.name} {zone.name}", scene, lab_of(mean)))
    return drawn


def _hand_drawn(
    rect: tuple[float, float, float, float], size_mm: tuple[float, float], tile: Tile, rng: np.random.Generator
) -> FloatArray:
    width, height = size_mm
    foot = BARE_FOOT_MM if tile.stage == "fired" and any(zone.layers for zone in tile.zones) else 0.0
    inset = 8.5 if tile.stage == "raw" else 3.4
    left, right = rect[0] * width + inset, rect[2] * width - inset
    top, bottom = rect[1] * (height - foot) + inset, rect[3] * (height - foot) - inset
    corners = np.array([[left, top], [right, top], [right, bottom], [left, bottom]])
    return corners + np.clip(rng.normal(0, 0.5, corners.shape), -1.1, 1.1)


def draw_chart(bench: Bench, centre: tuple[float, float], rng: np.random.Generator) -> None:
    """Lay the 24-patch colour-rendition chart: four rows of six in a black frame."""
    patch, gap, rim = 13.0, 2.4, 4.5
    width, height = (round((n * patch + (n - 1) * gap + 2 * rim) * PX) for n in (6, 4))
    colour = np.empty((height, width, 3), np.float32)
    colour[:] = flat(0.038) @ bench.weights
    for k, spectrum in enumerate(chart_spectra()[0]):
        x, y = (round((rim + n * (patch + gap)) * PX) for n in (k % 6, k // 6))
        colour[y : y + round(patch * PX), x : x + round(patch * PX)] = spectrum @ bench.weights
    mask = _outline((width, height), 2.0)
    matrix = bench.place((width, height), centre, rng.uniform(-2.5, 2.5))
    bench.lay(colour, mask, matrix, lift_mm=1.2)


def draw_board(
    bench: Bench, centre: tuple[float, float], size_mm: tuple[float, float], rng: np.random.Generator
) -> list[Drawn]:
    """Lay a piece of an old painted window shutter: worn at its edges, brush strokes along the grain."""
    width, height = (round(side * PX) for side in size_mm)
    shape = (height, width)
    paint = nudge_to(np.exp(-band(600, 70, 0.62) - band(540, 40, 0.12)) * 0.62, np.array(REFERENCE_LAB))
    wood = 0.10 + 0.42 * (1 - edge(570, 55))
    mask = _outline((width, height), 1.5)
    from_edge = _from_edge(mask)
    worn = (from_edge + 1.8 * smooth_noise(rng, shape, (9.0, 30.0)) < 1.2).astype(np.float32)
    worn = cv2.GaussianBlur(worn, (0, 0), 1.2)[..., None]
    strokes = np.exp(
        0.018 * smooth_noise(rng, shape, (2.5, 70.0)) + 0.008 * smooth_noise(rng, shape, (40.0, 40.0))
    )
    strokes = strokes.astype(np.float32)[..., None]
    colour = strokes * ((1 - worn) * (paint @ bench.weights) + worn * (wood @ bench.weights))
    matrix = bench.place((width, height), centre, rng.uniform(-2, 2))
    bench.lay(colour, mask, matrix, lift_mm=9.0)
    left, top, right, bottom = 0.2 * size_mm[0], 0.16 * size_mm[1], 0.82 * size_mm[0], 0.72 * size_mm[1]
    corners = np.array([[left, top], [right, top], [right, bottom], [left, bottom]])
    inside = (slice(round(top * PX), round(bottom * PX)), slice(round(left * PX), round(right * PX)))
    stroke, bare = float((strokes * (1 - worn))[inside].mean()), float((strokes * worn)[inside].mean())
    scene = np.c_[corners * PX, np.ones(4)] @ matrix.T / PX
    return [Drawn("shutter", scene, lab_of(stroke * paint + bare * wood))]
