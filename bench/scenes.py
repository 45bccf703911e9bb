"""Rendered photos with known truth: tiles and a chart, from reflectance through light, lens, sensor and look.

A scene is drawn from one seed: lamp, camera, tone curve, look, uneven light, glare, sharpening, noise, JPEG.
The chart's spectra are bent smoothly until their colours under D50 are the published ones, then given a small
manufacturing error. Tiles are made of absorption bands like those of ceramic colourants (invented figures).
"""

from __future__ import annotations

import functools
from dataclasses import dataclass, field

import cv2
import numpy as np

from bench.glazes import glaze_spectrum, other_camera
from swatch.science.card import Card, grid_centres
from swatch.science.colour_math import D50, lab_to_xyz, srgb_encode, xyz_to_lab

WAVES = np.arange(400.0, 701.0, 10.0)
LAMPS = {
    "daylight": ("D50", "D55", "D65", "D75", "ID50", "LED-V1"),
    "warm": ("A", "LED-B1", "LED-B2", "LED-BH1", "LED-B3"),
    "fluorescent": ("FL2", "FL7", "FL11", "FL12", "FL3.5", "FL3.15"),
}


@dataclass
class Scene:
    """One photo, what is in it, and what is true of it."""

    jpeg: bytes
    lamp: str
    group: str
    corners: list[tuple[float, float]]
    zones: dict[str, list[tuple[float, float]]]
    truth: dict[str, np.ndarray]
    gloss: dict[str, bool]
    spoilt: str | None = None
    facts: dict[str, float] = field(default_factory=dict)


@functools.cache
def _published():
    import colour

    shape = colour.SpectralShape(400, 700, 10)

    def table(spectrum):
        return spectrum.copy().align(shape).values

    lamps = {name: table(colour.SDS_ILLUMINANTS[name]) for names in LAMPS.values() for name in names}
    lamps["LED-RGB1"] = table(colour.SDS_ILLUMINANTS["LED-RGB1"])
    matching = table(colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"])
    chart = np.array([table(s) for s in colour.SDS_COLOURCHECKERS["BabelColor Average"].values()])
    return lamps, matching, chart


def lab_of(reflectance):
    """CIELAB under D50 of spectra (..., 31)."""
    lamps, matching, _ = _published()
    weights = lamps["D50"][:, None] * matching
    weights = weights / weights.sum(axis=0) * D50
    return xyz_to_lab(reflectance @ weights)


def bent_to(reflectance, lab):
    """Bend spectra smoothly (a factor exp of three broad bumps) until their colour under D50 is `lab`."""
    bumps = np.exp(-0.5 * ((WAVES - np.array([[445.0], [545.0], [625.0]])) / 45.0) ** 2)
    wanted = lab_to_xyz(lab)
    out = reflectance.copy()
    for k in range(len(out)):
        strength = np.zeros(3)
        for _ in range(30):
            now = lab_to_xyz(lab_of(reflectance[k] * np.exp(strength @ bumps)))
            jac = np.array(
                [(lab_to_xyz(lab_of(reflectance[k] * np.exp((strength + h) @ bumps))) - now) / 1e-4
                 for h in 1e-4 * np.eye(3)]
            ).T  # fmt: skip
            strength = strength + np.clip(np.linalg.solve(jac, wanted[k] - now), -0.5, 0.5)
        out[k] = reflectance[k] * np.exp(strength @ bumps)
    return out


def tile_spectrum(rng):
    """One invented fired surface: an opaque ground with absorption bands and edges."""
    ground = rng.uniform(0.02, 0.5) if rng.random() < 0.7 else rng.uniform(0.005, 0.03)
    absorbed = ground * np.ones_like(WAVES)
    for _ in range(rng.integers(1, 4)):
        strength = np.exp(rng.uniform(np.log(0.05), np.log(9.0)))
        if rng.random() < 0.5:  # an edge: iron, rutile, yellow and red stains
            at, width = rng.uniform(440, 640), rng.uniform(12, 45)
            absorbed += strength / (1 + np.exp((WAVES - at) / width))
        else:  # a band: cobalt, copper, chrome, pinks
            at, width = rng.uniform(420, 680), rng.uniform(18, 70)
            absorbed += strength * np.exp(-0.5 * ((WAVES - at) / width) ** 2)
    body = 1 + absorbed - np.sqrt(absorbed**2 + 2 * absorbed)
    return np.clip(0.9 * body + 0.01, 0.005, 0.95)


def camera(rng):
    """Sensitivities of an invented sensor, (31, 3)."""
    peaks = np.array([600.0, 535.0, 458.0]) + rng.normal(0, 7, 3)
    widths = np.array([38.0, 42.0, 30.0]) * np.exp(rng.normal(0, 0.12, 3))
    bands = np.exp(-0.5 * ((WAVES[:, None] - peaks) / widths) ** 2)
    leak = np.eye(3) + rng.uniform(0.0, 0.10, (3, 3)) * (1 - np.eye(3))
    cut = 1 / (1 + np.exp((WAVES - rng.uniform(655, 680)) / 8))
    return (bands @ leak) * cut[:, None]


def _tone(rng):
    """A monotone curve of encoded levels: contrast, lifted shadows, shoulder."""
    contrast, toe, shoulder = rng.uniform(0.0, 0.35), rng.uniform(-0.02, 0.03), rng.uniform(0.0, 0.12)
    x = np.linspace(0, 1, 1025)
    s = x + contrast * x * (1 - x) * (2 * x - 1) * 1.2
    s = s + toe * (1 - x) ** 6 * (1 - (1 - x) ** 8)
    s = s + shoulder * x**2 * (1 - x)
    return np.maximum.accumulate(np.clip(s, 0, 1))


def _look(rng, rgb, tone, per_channel, saturation, twist):
    """Linear sRGB to encoded: saturation, a hue-dependent push, the tone curve."""
    grey = rgb @ np.array([0.2126, 0.7152, 0.0722])
    chroma = rgb - grey[..., None]
    hue = np.arctan2(np.sqrt(3) * (rgb[..., 1] - rgb[..., 2]), 2 * rgb[..., 0] - rgb[..., 1] - rgb[..., 2])
    push = saturation * (1 + twist[0] * np.cos(hue - twist[1]))
    rgb = grey[..., None] + chroma * push[..., None]
    rgb = np.clip(rgb, 0, None)
    if per_channel:
        coded = srgb_encode(np.minimum(rgb, 1.0))
        return np.interp(coded, np.linspace(0, 1, len(tone)), tone)
    top = np.maximum(rgb.max(axis=-1), 1e-6)
    coded = srgb_encode(np.minimum(top, 1.0))
    bent = np.interp(coded, np.linspace(0, 1, len(tone)), tone)
    lifted = np.where(bent <= 0.04045, bent / 12.92, ((bent + 0.055) / 1.055) ** 2.4)
    return srgb_encode(np.clip(rgb * (lifted / top)[..., None], 0, 1))


def _quad(centre, width, height, turn):
    corner = 0.5 * np.array([[-width, -height], [width, -height], [width, height], [-width, height]])
    c, s = np.cos(turn), np.sin(turn)
    return corner @ np.array([[c, s], [-s, c]]) + centre


def render(
    seed,
    card: Card,
    *,
    size=(2000, 1500),
    group=None,
    spoilt=None,
    paper=True,
    n_tiles=12,
    world="bands",
    shadow=None,
    dark=False,
):
    """Draw one scene.

    Parameters
    ----------
    seed : int
    card : Card
        The 24-patch chart.
    size : (width, height)
    group : "daylight", "warm" or "fluorescent"; drawn where None
    spoilt : None, "mixed", "clipped", "local", "half", "rgb-lamp"
        What makes the photo unfit.
    paper : bool
        Whether chart and tiles lie on white paper; on a grey-brown board otherwise.
    world : "bands" or "colourants"
        Which invented glazes and cameras there are: those here, or those of ``bench/glazes.py``.
    shadow : callable, optional
        Share of the light that is left at (x, y), −0.5 to 0.5 over the photo; see ``bench/shadows.py``.
    dark : bool
        Whether the tiles are nearly black: a mean reflectance of 0.5 to 5 %.
    """
    surface, sensor = (tile_spectrum, camera) if world == "bands" else (glaze_spectrum, other_camera)
    rng = np.random.default_rng([seed, 77])
    lamps, _, chart = _published()
    group = group or ("daylight", "warm", "fluorescent")[rng.integers(3)]
    lamp = "LED-RGB1" if spoilt == "rgb-lamp" else str(rng.choice(LAMPS[group]))
    light = lamps[lamp]
    # The chart as made: published colours, and a manufacturing error of about ΔE00 0.5.
    made = bent_to(chart, card.lab + rng.normal(0, [0.35, 0.4, 0.45], card.lab.shape))
    tiles = np.array([surface(rng) for _ in range(n_tiles)])
    if dark:
        tiles = np.clip(tiles * (rng.uniform(0.005, 0.05, n_tiles) / tiles.mean(axis=1))[:, None], 0.003, 0.95)
    sheet = np.full_like(WAVES, 0.86) - 0.05 / (1 + np.exp((WAVES - 430) / 12)) if paper else (
        np.interp(WAVES, [400, 700], [0.18, 0.30])
    )  # fmt: skip
    frame = np.full_like(WAVES, 0.035)
    surfaces = np.vstack([made, tiles, sheet, frame])
    sees = sensor(rng)
    raw = surfaces @ (light[:, None] * sees)
    white = (light[:, None] * sees).sum(axis=0) * np.exp(rng.normal(0, 0.03, 3))
    raw = raw / white
    # The camera's own matrix is fitted on other surfaces under this lamp, as a maker's would be, and imperfect.
    other = np.array([surface(rng) for _ in range(60)])
    seen = other @ (light[:, None] * sees) / white
    from swatch.science.colour_math import _XYZ50_TO_SRGB

    wanted = lab_to_xyz(lab_of(other)) @ _XYZ50_TO_SRGB.T
    matrix = np.linalg.lstsq(seen, wanted, rcond=None)[0]
    matrix = 0.85 * matrix + 0.15 * np.eye(3)
    exposure = rng.uniform(0.62, 0.98) / 0.90 * (1.9 if spoilt == "clipped" else 1.0)
    linear = exposure * raw @ matrix

    wide, high = size
    over = 2
    where = np.full((high * over // 2, wide * over // 2), len(surfaces) - 2, np.uint8)  # drawn at half, twice fine
    half = np.array([wide, high]) * over / 2 / over
    tilt = rng.normal(0, 0.06, 2)
    turn = rng.uniform(-0.25, 0.25) + np.pi * rng.integers(0, 4) / 2 * (rng.random() < 0.3)

    def seen_at(points):
        points = np.atleast_2d(points)
        c, s = np.cos(turn), np.sin(turn)
        p = (points - 0.5) * [4.0, 3.0]
        fit = min(1.0, 3.0 / (4.0 * abs(s) + 3.0 * abs(c)), 4.0 / (4.0 * abs(c) + 3.0 * abs(s)))
        p = fit * p @ np.array([[c, s], [-s, c]])
        depth = 1 + (p / 4) @ tilt
        return (p / depth[:, None] / [4.0, 3.0] + 0.5) * [wide, high]

    def paint(points, index):
        at = seen_at(points) * (np.array(where.shape[::-1]) / [wide, high])
        cv2.fillPoly(where, [np.round(at * 16).astype(np.int32)], int(index), cv2.LINE_8, 4)

    # Chart and tiles on a plane 1 × 1 (4 : 3).
    pitch = np.array([0.052, 0.052 * 4 / 3])
    chart_at = np.array([rng.uniform(0.05, 0.11), rng.uniform(0.12, 0.40)])
    grid = grid_centres(card.rows, card.columns)
    margin = 0.35
    paint(chart_at + pitch * np.array([[-margin, -margin], [6 + margin, -margin], [6 + margin, 4 + margin],
                                       [-margin, 4 + margin]]), len(surfaces) - 1)  # fmt: skip
    box = 0.43 * np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]])
    for k, centre in enumerate(grid):
        paint(chart_at + pitch * (centre + box), k)
    zones, truth, gloss = {}, {}, {}
    spots = [(x, y) for y in (0.14, 0.38, 0.62, 0.86) for x in (0.55, 0.67, 0.79, 0.91)]
    spots += [(x, 0.86) for x in (0.12, 0.24, 0.36)]
    order = rng.permutation(len(spots))[:n_tiles]
    for k, spot in enumerate(order):
        centre = np.array(spots[spot]) + rng.normal(0, 0.004, 2)
        outline = centre + _quad(np.zeros(2), 0.09, 0.085, rng.normal(0, 0.1)) * [1, 4 / 3]
        paint(outline, len(card.lab) + k)
        inner = centre + (outline - centre) * 0.9
        zones[f"Z{k + 1}"] = [tuple(map(float, p)) for p in seen_at(inner)]
        truth[f"Z{k + 1}"] = lab_of(tiles[k])
        gloss[f"Z{k + 1}"] = bool(rng.random() < 0.55)
    if spoilt == "half":
        cover = chart_at + pitch * np.array([[3.1, -0.6], [6.6, -0.6], [6.6, 4.6], [3.1, 4.6]])
        paint(cover, len(card.lab) + 0)

    # Uneven light, in ln brightness and in ln(R/B), over the photo.
    yy, xx = np.mgrid[0 : where.shape[0], 0 : where.shape[1]].astype(np.float32)
    x, y = xx / where.shape[1] - 0.5, yy / where.shape[0] - 0.5
    a = rng.normal(0, 0.16, 2)
    bow = -rng.uniform(0.0, 0.5)
    shade = a[0] * x + a[1] * y + bow * (x * x + y * y) + rng.normal(0, 0.12) * x * y
    hue_shift = rng.normal(0, 0.012, 2)
    shift = hue_shift[0] * x + hue_shift[1] * y
    if spoilt == "mixed":
        way = rng.normal(size=2)
        way /= np.hypot(*way)
        shift = shift + 0.45 * np.tanh(3 * (way[0] * x + way[1] * y))
    if shadow is not None:
        shade = shade + np.log(shadow(x, y))
    field_rgb = np.exp(np.stack([shade + 0.6 * shift, shade, shade - 0.6 * shift], axis=-1)).astype(np.float32)
    brightest = float(field_rgb.max())
    image = linear.astype(np.float32)[where] * field_rgb / (brightest**0.7)
    # Grain of the glaze, and glare: the lamp seen in the surface, and a little of the room everywhere.
    for k in range(n_tiles):
        inside = where == len(card.lab) + k
        image[inside] *= np.exp(rng.normal(0, 0.012, (int(inside.sum()), 1))).astype(np.float32)
        if gloss[f"Z{k + 1}"]:
            outline = np.array(zones[f"Z{k + 1}"]) * (np.array(where.shape[::-1]) / [wide, high])
            spot_at = outline.mean(axis=0) + rng.normal(0, 0.22, 2) * np.ptp(outline, axis=0)
            radius = rng.uniform(0.06, 0.2) * np.ptp(outline, axis=0).mean()
            soft = rng.uniform(1.2, 3.0)
            r2 = ((xx - spot_at[0]) ** 2 + (yy - spot_at[1]) ** 2) / radius**2
            glare = rng.uniform(0.3, 1.5) * np.exp(-(np.maximum(r2, 1e-9) ** (soft / 2))) + 0.02 / (1 + r2)
            image += np.where(inside, glare, 0.0)[..., None].astype(np.float32) * exposure
    image += 0.003 * exposure
    if spoilt == "local":
        lum = cv2.GaussianBlur(image.mean(axis=-1), (0, 0), 0.08 * where.shape[1])
        image = image * (np.maximum(lum, 0.02) / 0.35)[..., None] ** -0.35
    scale_up = (wide, high)
    image = cv2.GaussianBlur(image, (0, 0), 0.7)
    image = image + rng.normal(0, 1, image.shape).astype(np.float32) * np.sqrt(np.maximum(image, 0) * 2e-4 + 4e-6)
    per_channel = rng.random() < 0.6
    saturation = rng.uniform(0.95, 1.22)
    twist = (rng.uniform(0, 0.08), rng.uniform(0, 2 * np.pi))
    coded = _look(rng, np.maximum(image, 0), _tone(rng), per_channel, saturation, twist).astype(np.float32)
    coded = cv2.resize(coded, scale_up, interpolation=cv2.INTER_LINEAR)
    if rng.random() < 0.6:
        coded = coded + rng.uniform(0.2, 0.6) * (coded - cv2.GaussianBlur(coded, (0, 0), 1.5))
    levels = np.clip(np.round(coded * 255), 0, 255).astype(np.uint8)
    quality = int(rng.integers(82, 97))
    _, jpeg = cv2.imencode(".jpg", levels[:, :, ::-1], [cv2.IMWRITE_JPEG_QUALITY, quality])
    edge = 0.07
    corner = np.array([[edge, edge], [6 - edge, edge], [6 - edge, 4 - edge], [edge, 4 - edge]])
    corners = [tuple(map(float, p)) for p in seen_at(chart_at + pitch * corner)]
    del half
    return Scene(jpeg.tobytes(), lamp, group, corners, zones, truth, gloss, spoilt)
