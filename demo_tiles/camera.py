"""The phone: what its sensor makes of light, and what it then does to look well. An invented phone."""

from __future__ import annotations

import functools
from dataclasses import dataclass

import numpy as np

from demo_tiles.spectra import WAVELENGTHS, FloatArray, band, lab_of, nudge_to, observer_d50, on_grid

SIZE = (2400, 1800)
"""Width and height of every photo in pixels."""

_SENSITIVITY = np.stack(
    [
        band(602, 34) + band(555, 45, 0.22) + band(440, 22, 0.05),
        band(534, 38) + band(592, 30, 0.20) + band(470, 24, 0.12),
        band(460, 27) + band(500, 24, 0.14) + band(580, 60, 0.03),
    ],
    axis=1,
)

# Bradford adaptation D50 to D65 and XYZ to linear sRGB in one, white kept (IEC 61966-2-1; Lindbloom, memory).
_XYZ_D50_TO_SRGB = np.array(
    [[3.1338561, -1.6168667, -0.4906146], [-0.9787684, 1.9161415, 0.0334540], [0.0719453, -0.2289914, 1.4052427]]
)


@dataclass(frozen=True)
class Light:
    """One lamp or window: its spectrum, where it stands (mm from the sheet's middle), how much the room adds."""

    spectrum: FloatArray
    place: tuple[float, float, float]
    room: float
    room_tint: tuple[float, float, float]
    white_balance: tuple[float, float, float]


def _planck(kelvin: float) -> FloatArray:
    metres = WAVELENGTHS * 1e-9
    power = metres**-5 / np.expm1(1.438777e-2 / (metres * kelvin))
    return power / power.mean()


@functools.cache
def lights() -> dict[str, Light]:
    """A warm white lamp of high colour rendering at 45°, and a window on an overcast day."""
    import colour

    warm = _planck(3900) * (1 - band(480, 16, 0.18) + band(455, 11, 0.22)) * (1 - band(700, 30, 0.25))
    d55 = on_grid(colour.SDS_ILLUMINANTS["D55"])
    return {
        "lamp": Light(warm, (-900, -620, 1050), 0.16, (0.97, 1.0, 1.04), (1.015, 1.0, 0.975)),
        "daylight": Light(d55 / d55.mean(), (-1300, 350, 1250), 0.22, (1.02, 1.0, 0.98), (0.99, 1.0, 1.01)),
    }


@functools.cache
def chart_spectra() -> tuple[FloatArray, FloatArray]:
    """Reflectances (24, 36) of this studio's 24-patch chart, and the published Lab (24, 3) it was printed after.

    Source: measured spectra and the chart's Lab "After November 2014" from colour-science; the print of this card
    is off by a standard 0.12 in each of L*, a*, b*.
    """
    import colour

    published = colour.CCS_COLOURCHECKERS["ColorChecker24 - After November 2014"]
    measured = colour.SDS_COLOURCHECKERS["BabelColor Average"]
    white = colour.xy_to_XYZ(published.illuminant)
    rng = np.random.default_rng(24)
    spectra, labs = [], []
    for xyY, spectrum in zip(published.data.values(), measured.values(), strict=True):
        lab = np.asarray(colour.XYZ_to_Lab(colour.xyY_to_XYZ(xyY), colour.XYZ_to_xy(white)))
        spectra.append(nudge_to(on_grid(spectrum), lab + rng.normal(0, 0.12, 3)))
        labs.append(lab)
    return np.array(spectra), np.array(labs)


def sensor_weights(light: Light) -> FloatArray:
    """(36, 3) weights: reflectance @ weights is sensor RGB, balanced so that white is near 1 in each channel."""
    weights = _SENSITIVITY * light.spectrum[:, None]
    return weights / weights.sum(axis=0) * np.array(light.white_balance)


@functools.cache
def colour_matrix() -> FloatArray:
    """(3, 3) matrix from balanced sensor RGB to linear sRGB as this phone applies it: for D50, a bit vivid."""
    d50 = observer_d50()
    spectra, _ = chart_spectra()
    light = Light(observer_d50()[:, 1] * 0 + _planck(5000), (0, 0, 1), 0, (1, 1, 1), (1, 1, 1))
    rgb = spectra @ sensor_weights(light)
    wanted = spectra @ d50 @ _XYZ_D50_TO_SRGB.T
    matrix = np.linalg.lstsq(rgb, wanted, rcond=None)[0].T
    matrix /= matrix.sum(axis=1, keepdims=True)
    grey = np.array([0.25, 0.65, 0.10])
    vivid = 1.05
    return (vivid * np.eye(3) + (1 - vivid) * np.ones((3, 1)) * grey) @ matrix


def develop(raw: FloatArray, rng: np.random.Generator) -> np.ndarray:
    """Turn a linear sensor image (h, w, 3), white paper near 0.8, into 8-bit RGB as the phone shows it."""
    import cv2

    height, width = raw.shape[:2]
    # Light that strays in the lens, then what the sensor's grain leaves after the phone has smoothed it.
    raw = 0.996 * raw + 0.004 * raw.mean(axis=(0, 1))
    grain = rng.standard_normal((height, width, 3), dtype=np.float32)
    grain = 1.6 * cv2.GaussianBlur(grain, (0, 0), 0.7)
    raw = raw + grain * np.sqrt(4.5e-5 * np.maximum(raw, 0) + 1.2e-6)
    linear = np.clip(raw @ colour_matrix().T.astype(np.float32), 0, 1)
    encoded = np.where(
        linear <= 0.0031308, 12.92 * linear, 1.055 * np.power(linear, 1 / 2.4, dtype=np.float32) - 0.055
    )
    toned = encoded - 0.033 * np.sin(2 * np.pi * encoded)
    soft = cv2.GaussianBlur(toned, (0, 0), 1.4)
    sharp = toned + 0.35 * (toned - soft)
    return np.clip(np.rint(255 * sharp), 0, 255).astype(np.uint8)


def chart_lab_as_printed() -> FloatArray:
    """(24, 3) Lab of the card as this studio's copy has it."""
    return lab_of(chart_spectra()[0])
