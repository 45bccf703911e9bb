"""Light in layers of glaze: two-flux optics in eight bands, the surface, and the way to CIELAB.

Every function comes with the derivatives that the fit needs; all arrays hold bands in their last axis.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.floating[Any]]

BANDS_NM: FloatArray = 425.0 + 35.0 * np.arange(8)
"""Centres of the bands; between two centres a spectrum is taken as straight."""

BAND_TO_XYZ: FloatArray = np.array(
    [
        [4.897341e-02, 2.799819e-03, 2.846832e-01],
        [7.564157e-02, 2.123917e-02, 5.133311e-01],
        [1.610270e-02, 9.798746e-02, 1.751078e-01],
        [6.737072e-02, 2.698479e-01, 2.442865e-02],
        [2.293891e-01, 3.105559e-01, 2.093764e-03],
        [3.279566e-01, 2.033164e-01, 3.231904e-04],
        [1.890989e-01, 7.794710e-02, 3.196062e-05],
        [4.546699e-02, 1.630631e-02, 3.232490e-07],
    ]
)
"""Weights of the bands for X/Xn, Y/Yn, Z/Zn: CIE 1931 observer times D50, each column summing to 1."""

BAND_TO_XYZ = BAND_TO_XYZ / BAND_TO_XYZ.sum(axis=0)

_HALF_TO_XYZ: FloatArray = BAND_TO_XYZ.reshape(4, 2, 3).sum(axis=1)

SURFACE_PASSED = 0.96
SURFACE_GLINT = 0.005
"""Light that enters the glaze, and what the surface itself adds (Saunderson 1942)."""

_LEAST_RATIO = 1e-6
_CUBE_FROM = (6.0 / 29.0) ** 3
LINEAR_SLOPE = (29.0 / 6.0) ** 2 / 3.0
_LAB_FROM_F: FloatArray = np.array([[0.0, 116.0, 0.0], [500.0, -500.0, 0.0], [0.0, 200.0, -200.0]])


def infinite_reflectance(ratio: FloatArray) -> FloatArray:
    """Reflectance of a layer too thick to see through, from K/S.

    R∞ = 1 + K/S − √((K/S)² + 2 K/S), written so that large ratios lose no digits.

    References
    ----------
    Kubelka & Munk (1931); Kubelka (1948), J. Opt. Soc. Am. 38, 448.
    """
    root = np.sqrt(ratio * (ratio + 2.0))
    return np.asarray(1.0 / (1.0 + ratio + root), dtype=np.float64)


@dataclass(frozen=True, slots=True)
class Coat:
    """One layer's own reflectance and squared transmittance, each with its derivatives.

    ``*_log_ratio`` are derivatives by ln K/S at constant scattering power, ``*_log_power`` by ln(S·coats).
    """

    reflected: FloatArray
    passed: FloatArray
    a: FloatArray
    power: FloatArray
    reflected_log_ratio: FloatArray
    passed_log_ratio: FloatArray


def coat(ratio: FloatArray, power: FloatArray) -> Coat:
    """Reflectance over black R₀ and squared transmittance T² of one layer.

    Parameters
    ----------
    ratio : (...) float
        K/S, above 0.
    power : (...) float
        Scattering power S·coats, 0 or more; 0 is no layer at all.
    """
    ratio = np.maximum(ratio, _LEAST_RATIO)
    a = 1.0 + ratio
    bb = ratio * (ratio + 2.0)
    b = np.sqrt(bb)
    faded = np.exp(-2.0 * b * power)
    lost = -np.expm1(-2.0 * b * power)
    d = a * lost + b * (1.0 + faded)
    reflected = lost / d
    passed = 4.0 * bb * faded / (d * d)
    slope = a / b
    faded_a = -2.0 * power * slope * faded
    d_a = lost - a * faded_a + slope * (1.0 + faded) + b * faded_a
    reflected_a = (-faded_a - reflected * d_a) / d
    passed_a = passed * (2.0 * a / bb - 2.0 * power * slope - 2.0 * d_a / d)
    return Coat(reflected, passed, a, power, reflected_a * ratio, passed_a * ratio)


def thin_coat(ratio: FloatArray, power: FloatArray) -> tuple[FloatArray, FloatArray]:
    """R₀ and T² of `coat` without derivatives, in whatever precision comes in."""
    ratio = np.maximum(ratio, _LEAST_RATIO)
    b = np.sqrt(ratio * (ratio + 2))
    # Beyond e^−30 nothing shows, and numbers too small to be normal would cost a hundredfold.
    faded = np.exp(np.maximum(b * power * -2, -30))
    lost = 1 - faded
    # (1 + K/S)(1 − E) + b (1 + E), with as few passes over memory as may be.
    between = (ratio - b + 1) * lost
    between += b + b
    lost /= between
    b /= between
    b *= b
    b *= faded
    b *= 4
    return lost, b


def laid(reflected: FloatArray, passed: FloatArray, below: FloatArray) -> FloatArray:
    """Reflectance of a layer (R₀, T²) over what lies below."""
    under = 1 - reflected * below
    np.divide(below, under, out=under)
    under *= passed
    under += reflected
    return under


def lay_over_slopes(upper: Coat, below: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
    """`laid` with its derivatives by what lies below, by ln K/S and by ln(S·coats).

    The last is the layer's own differential equation, dR/d(S·x) = 1 − 2aR + R² (Kubelka 1948).
    """
    between = 1.0 / (1.0 - upper.reflected * below)
    above = upper.reflected + upper.passed * below * between
    by_below = upper.passed * between * between
    by_reflected = 1.0 + by_below * below * below
    by_ratio = by_reflected * upper.reflected_log_ratio + below * between * upper.passed_log_ratio
    by_power = upper.power * (1.0 - 2.0 * upper.a * above + above * above)
    return above, by_below, by_ratio, by_power


def through_surface(inside: FloatArray, inner: FloatArray) -> FloatArray:
    """Reflectance seen from outside, for the inner reflection ``inner`` of the surface (Saunderson 1942)."""
    seen = 1 - inner * inside
    np.divide(inside, seen, out=seen)
    seen *= (1 - inner) * SURFACE_PASSED
    seen += SURFACE_GLINT
    return seen


def through_surface_slopes(inside: FloatArray, inner: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
    """`through_surface` with its derivatives by the inside reflectance and by ``inner``."""
    open_ = 1.0 / (1.0 - inner * inside)
    seen = SURFACE_PASSED * (1.0 - inner) * inside * open_ + SURFACE_GLINT
    by_inside = SURFACE_PASSED * (1.0 - inner) * open_ * open_
    by_inner = -SURFACE_PASSED * inside * (1.0 - inside) * open_ * open_
    return seen, by_inside, by_inner


def bands_to_lab(seen: FloatArray) -> FloatArray:
    """CIELAB (D50, 2 degree observer) of reflectances in the eight bands, or in four of twice the width.

    Parameters
    ----------
    seen : (..., 8) or (..., 4) float
        Reflectance in each band, 0 to 1.

    Returns
    -------
    (..., 3) float
    """
    weights = BAND_TO_XYZ if seen.shape[-1] == 8 else _HALF_TO_XYZ
    share = seen @ weights.astype(seen.dtype)
    f = np.where(share > _CUBE_FROM, np.cbrt(share), share * LINEAR_SLOPE + 4.0 / 29.0)
    lab: FloatArray = f @ _LAB_FROM_F.T.astype(seen.dtype)
    lab[..., 0] -= 16.0
    return lab


def bands_to_lab_slopes(seen: FloatArray) -> tuple[FloatArray, FloatArray]:
    """`bands_to_lab` with its derivative: (..., 3) and (..., 3, 8)."""
    share = seen @ BAND_TO_XYZ
    root = np.cbrt(share)
    cubed = share > _CUBE_FROM
    f = np.where(cubed, root, share * LINEAR_SLOPE + 4.0 / 29.0)
    f_share = np.where(cubed, 1.0 / (3.0 * np.maximum(root, 1e-3) ** 2), LINEAR_SLOPE)
    lab = f @ _LAB_FROM_F.T
    lab[..., 0] -= 16.0
    weights = f_share[..., :, None] * BAND_TO_XYZ.T
    return lab, _LAB_FROM_F @ weights
