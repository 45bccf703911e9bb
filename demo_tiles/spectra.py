"""Spectra of the demo studio: the wavelengths, the standard observer, and shapes that absorb light."""

from __future__ import annotations

import functools
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]

WAVELENGTHS: FloatArray = np.arange(380.0, 731.0, 10.0)
"""Nanometres; 36 of them."""


class Lab(NamedTuple):
    """CIELAB, D50, 2 degree observer."""

    L: float
    a: float
    b: float


def on_grid(distribution: object) -> FloatArray:
    """Values of a colour-science spectral distribution at `WAVELENGTHS`, linear between its own samples."""
    own = np.asarray(distribution.wavelengths, dtype=float)  # type: ignore[attr-defined]
    values = np.asarray(distribution.values, dtype=float)  # type: ignore[attr-defined]
    if values.ndim == 1:
        return np.interp(WAVELENGTHS, own, values)
    return np.stack([np.interp(WAVELENGTHS, own, column) for column in values.T], axis=1)


@functools.cache
def observer_d50() -> FloatArray:
    """(36, 3) weights: reflectance @ weights is XYZ under D50, 2 degree observer, white Y = 1.

    Source: CIE 1931 observer and CIE D50 as tabulated in colour-science.
    """
    import colour

    cmfs = on_grid(colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"])
    d50 = on_grid(colour.SDS_ILLUMINANTS["D50"])
    weights = cmfs * d50[:, None]
    return weights / weights[:, 1].sum()


def lab_of(reflectance: FloatArray) -> FloatArray:
    """CIELAB (..., 3), D50, 2 degree observer, of reflectances (..., 36)."""
    weights = observer_d50()
    ratio = (reflectance @ weights) / weights.sum(axis=0)
    f = np.where(ratio > (6 / 29) ** 3, np.cbrt(np.maximum(ratio, 1e-9)), ratio / (3 * (6 / 29) ** 2) + 4 / 29)
    return np.stack([116 * f[..., 1] - 16, 500 * (f[..., 0] - f[..., 1]), 200 * (f[..., 1] - f[..., 2])], axis=-1)


def band(centre: float, width: float, height: float = 1.0) -> FloatArray:
    """A bell-shaped absorption; centre and standard width in nm."""
    return height * np.exp(-0.5 * ((WAVELENGTHS - centre) / width) ** 2)


def edge(at: float, width: float, height: float = 1.0) -> FloatArray:
    """Absorption of everything bluer than `at`, as oxides of iron have it."""
    return height / (1 + np.exp((WAVELENGTHS - at) / width))


def tail(length: float, height: float = 1.0) -> FloatArray:
    """Absorption falling off from the violet end, as dissolved iron has it."""
    return height * np.exp(-(WAVELENGTHS - 380.0) / length)


def flat(height: float, tilt: float = 0.0) -> FloatArray:
    """Even absorption; a positive tilt takes more of the red."""
    return height * (1 + tilt * (WAVELENGTHS - 550.0) / 150.0)


def nudge_to(reflectance: FloatArray, lab: FloatArray) -> FloatArray:
    """Bend a reflectance smoothly until its Lab is `lab`: Newton's method on three broad multipliers.

    Raises
    ------
    ValueError
        No smooth bending reaches the colour.
    """
    shapes = np.stack([band(450, 45), band(545, 45), band(620, 50)])
    bend = np.zeros(3)

    def bent(amounts: FloatArray) -> FloatArray:
        return reflectance * np.exp(amounts @ shapes)

    for _ in range(30):
        off = lab_of(bent(bend)) - lab
        if np.abs(off).max() < 1e-6:
            return bent(bend)
        slopes = np.stack([(lab_of(bent(bend + step)) - lab_of(bent(bend - step))) / 2e-4
                           for step in 1e-4 * np.eye(3)], axis=1)  # fmt: skip
        bend = bend - np.linalg.solve(slopes, off)
    raise ValueError(f"no smooth reflectance near this one has Lab {lab}")
