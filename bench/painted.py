"""Plain painted photos with known truth: the 24-patch chart and tiles of given colours on white paper.

For whatever is not about light and cameras: formats, profiles, glare in one place, spoilt files. Quick to make.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import cv2
import numpy as np

from swatch.formats.keyword_text import read_card
from swatch.resources import resource
from swatch.science.card import Card
from swatch.science.colour_math import lab_to_xyz
from swatch.terms.measured import ZoneShape

SRGB_FROM_XYZ50 = np.array(
    [[3.1338561, -1.6168667, -0.4906146], [-0.9787684, 1.9161415, 0.0334540], [0.0719453, -0.2289914, 1.4052427]]
)
"""Linear sRGB of XYZ under D50, adapted by Bradford (memory of published tables)."""
COLOURS = ((62.0, 18.0, 24.0), (48.0, -16.0, -12.0), (76.0, 3.0, 26.0), (30.0, 8.0, -14.0), (55.0, 0.0, 2.0))


@dataclass(frozen=True)
class Painted:
    """Linear light in sRGB primaries (height, width, 3), not cut off; the zones, and the colours painted there."""

    light: np.ndarray
    zones: tuple[ZoneShape, ...]
    truth: dict[str, np.ndarray]


def chart() -> Card:
    """The built-in card."""
    table = read_card(resource("cards", "rendition-24.txt").read_bytes(), "rendition-24")
    return Card(table.name, table.rows, table.columns, np.array(table.lab))


def light_of(lab: object) -> np.ndarray:
    """Linear sRGB of CIELAB; below 0 where it lies outside."""
    return lab_to_xyz(np.asarray(lab, float)) @ SRGB_FROM_XYZ50.T


def paint(
    tiles: Sequence[object] = COLOURS,
    *,
    size: tuple[int, int] = (960, 720),
    gloss: tuple[float, float] | None = None,
    exposure: float = 0.85,
    tint: Sequence[float] = (1.0, 1.0, 1.0),
    noise: float = 0.002,
    seed: int = 1,
) -> Painted:
    """Paint a photo.

    Parameters
    ----------
    tiles : sequence of (3,) or (high, wide, 3) CIELAB
        One colour a tile, or a pattern that fills it.
    gloss : (x, y), optional
        Where on each tile a lamp is mirrored, in shares of its side.
    tint : (3,)
        What the lamp and the camera make of white, before the grey curve.
    """
    wide, high = size
    unit = wide / 960
    image = np.empty((high, wide, 3))
    image[:] = light_of([93.0, 0.0, 0.5])
    card = chart()
    pitch, left, top = 58 * unit, 60 * unit, 130 * unit

    def fill(x: float, y: float, w: float, h: float, colour: np.ndarray) -> None:
        image[round(y) : round(y + h), round(x) : round(x + w)] = colour

    fill(left - 14 * unit, top - 14 * unit, 6 * pitch + 20 * unit, 4 * pitch + 20 * unit, light_of([20, 0, 0]))
    for k, lab in enumerate(card.lab):
        fill(left + pitch * (k % 6), top + pitch * (k // 6), 50 * unit, 50 * unit, light_of(lab))
    zones, truth = [], {}
    side = 110 * unit
    for k, tile in enumerate(tiles):
        x, y = (500 + 150 * (k % 3)) * unit, (60 + 170 * (k // 3)) * unit
        pattern = np.asarray(tile, float)
        pixels = (round(y + side) - round(y), round(x + side) - round(x))
        surface = np.broadcast_to(light_of(pattern), (*pixels, 3)).copy() if pattern.ndim == 1 else cv2.resize(
            light_of(pattern), pixels[::-1], interpolation=cv2.INTER_NEAREST)  # fmt: skip
        if gloss is not None:
            yy, xx = np.mgrid[0 : pixels[0], 0 : pixels[1]] / side
            surface += 0.9 * np.exp(-((((xx - gloss[0]) ** 2 + (yy - gloss[1]) ** 2) / 0.012) ** 1.5))[..., None]
        fill_to = image[round(y) : round(y + side), round(x) : round(x + side)]
        fill_to[:] = surface
        edge = 5 * unit
        corners = ((x + edge, y + edge), (x + side - edge, y + edge), (x + side - edge, y + side - edge))
        zones.append(ZoneShape(f"Z{k + 1}", (*corners, (x + edge, y + side - edge))))
        truth[f"Z{k + 1}"] = pattern.reshape(-1, 3).mean(axis=0)
    image = image * exposure * np.asarray(tint)
    image += np.random.default_rng(seed).normal(0, noise, image.shape)
    return Painted(image, tuple(zones), truth)


def srgb_levels(light: np.ndarray, top: int = 255) -> np.ndarray:
    """Levels of linear light under the sRGB curve (IEC 61966-2-1); what lies outside is cut off."""
    light = np.clip(light, 0.0, 1.0)
    coded = np.where(light <= 0.0031308, 12.92 * light, 1.055 * np.maximum(light, 1e-9) ** (1 / 2.4) - 0.055)
    return np.round(coded * top).astype(np.uint8 if top == 255 else np.uint16)


def jpeg_of(painted: Painted, quality: int = 95) -> bytes:
    """The photo as a JPEG."""
    return bytes(
        cv2.imencode(".jpg", srgb_levels(painted.light)[:, :, ::-1], [cv2.IMWRITE_JPEG_QUALITY, quality])[
            1
        ].tobytes()
    )
