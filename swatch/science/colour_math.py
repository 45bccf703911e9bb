"""CIELAB and CIEDE2000 on whole arrays: D50 white, 2 degree observer, fast enough to rank a million layerings.

Every function keeps float32 where it is given float32 and works in float64 otherwise.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.floating[Any]]

D50 = np.array([0.3457 / 0.3585, 1.0, (1.0 - 0.3457 - 0.3585) / 0.3585])
"""XYZ of the D50 white, Y = 1, from its chromaticity x 0.3457, y 0.3585 (CIE 15)."""
D65 = np.array([0.3127 / 0.3290, 1.0, (1.0 - 0.3127 - 0.3290) / 0.3290])

_DELTA = 6.0 / 29.0
_TWENTY_FIVE_7 = 25.0**7

# The Bradford cone response (Lam 1985, as used by ICC.1), and sRGB's primaries (IEC 61966-2-1).
_BRADFORD = np.array([[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]])
_XYZ65_TO_SRGB = np.linalg.inv(
    np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]])
)
_D50_TO_D65 = np.linalg.inv(_BRADFORD) @ np.diag((_BRADFORD @ D65) / (_BRADFORD @ D50)) @ _BRADFORD
_XYZ50_TO_SRGB = _XYZ65_TO_SRGB @ _D50_TO_D65
SRGB_TO_XYZ50 = np.linalg.inv(_XYZ50_TO_SRGB)
_GAMUT_SLACK = 1e-3
"""A quarter of an 8-bit level: the published matrices do not close to more than four figures."""


def lab_to_xyz(lab: ArrayLike) -> FloatArray:
    """Turn CIELAB into XYZ.

    Parameters
    ----------
    lab : (..., 3)
        L*, a*, b* under D50.

    Returns
    -------
    (..., 3)
        XYZ, white Y = 1.

    References
    ----------
    CIE 15:2018, section 8.2.1 and annex E.
    """
    lab = _floats(lab)
    fy = (lab[..., 0] + 16.0) / 116.0
    f = np.stack([fy + lab[..., 1] / 500.0, fy, fy - lab[..., 2] / 200.0], axis=-1)
    t = np.where(f > _DELTA, f * f * f, 3.0 * _DELTA**2 * (f - 4.0 / 29.0))
    return np.asarray(t * D50.astype(lab.dtype))


def xyz_to_lab(xyz: ArrayLike) -> FloatArray:
    """Turn XYZ (D50, white Y = 1) into CIELAB; the inverse of `lab_to_xyz`, negative values included."""
    xyz = _floats(xyz)
    t = xyz / D50.astype(xyz.dtype)
    f = np.where(t > _DELTA**3, np.cbrt(t), t / (3.0 * _DELTA**2) + 4.0 / 29.0)
    out = np.empty_like(f, dtype=xyz.dtype)
    out[..., 0] = 116.0 * f[..., 1] - 16.0
    out[..., 1] = 500.0 * (f[..., 0] - f[..., 1])
    out[..., 2] = 200.0 * (f[..., 1] - f[..., 2])
    return out


def delta_e_2000(lab1: ArrayLike, lab2: ArrayLike) -> FloatArray:
    """Colour difference CIEDE2000 with kL = kC = kH = 1.

    Parameters
    ----------
    lab1, lab2 : (..., 3)
        CIELAB colours; shapes broadcast against each other.

    Returns
    -------
    (...)
        ΔE00 of each pair.

    References
    ----------
    Sharma, Wu & Dalal (2005), "The CIEDE2000 color-difference formula", Color Research & Application 30(1).
    """
    one, two = _floats(lab1), _floats(lab2)
    light1, a1, b1 = one[..., 0], one[..., 1], one[..., 2]
    light2, a2, b2 = two[..., 0], two[..., 1], two[..., 2]
    stretch = 1.0 + _grey_stretch(0.5 * (np.hypot(a1, b1) + np.hypot(a2, b2)))
    a1, a2 = stretch * a1, stretch * a2
    chroma1, chroma2 = np.hypot(a1, b1), np.hypot(a2, b2)
    # Hues from 0 to 2π, as published: for hues exactly opposite the middle depends on it.
    whole = 2.0 * np.pi
    hue1, hue2 = np.arctan2(b1, a1) % whole, np.arctan2(b2, a2) % whole
    grey = (chroma1 == 0.0) | (chroma2 == 0.0)

    turn = hue2 - hue1
    apart = np.abs(turn) > np.pi
    turn = np.where(apart, turn - np.copysign(whole, turn), turn)
    turn = np.where(grey, 0.0, turn)
    d_hue = 2.0 * np.sqrt(chroma1 * chroma2) * np.sin(0.5 * turn)
    # A grey has no hue: arctan2(0, 0) is 0, and the sum is then the other colour's hue.
    middle = np.where(grey, hue1 + hue2, 0.5 * (hue1 + hue2) + np.pi * apart.astype(hue1.dtype))

    s_light, s_chroma, s_hue, rotation = _weights(0.5 * (light1 + light2), 0.5 * (chroma1 + chroma2), middle)
    d_light = (light2 - light1) / s_light
    d_chroma = (chroma2 - chroma1) / s_chroma
    d_hue = d_hue / s_hue
    squared = d_light * d_light + d_chroma * d_chroma + d_hue * d_hue + rotation * d_chroma * d_hue
    return np.asarray(np.sqrt(np.maximum(squared, 0.0)))


def de00_metric(lab: ArrayLike) -> FloatArray:
    """Local metric of CIEDE2000: the symmetric matrix G with ΔE00(x, x + d)² ≈ dᵀ G d for small d.

    Parameters
    ----------
    lab : (..., 3)

    Returns
    -------
    (..., 3, 3)
        Positive definite; the square root of ``trace(G @ covariance)`` is a standard uncertainty in ΔE00.
    """
    lab = _floats(lab)
    light, a, b = lab[..., 0], lab[..., 1], lab[..., 2]
    # The stretch of a* is the same for both ends of a pair, so it only scales da.
    stretch = 1.0 + _grey_stretch(np.hypot(a, b))
    a = stretch * a
    chroma = np.hypot(a, b)
    hue = np.arctan2(b, a)
    s_light, s_chroma, s_hue, rotation = _weights(light, chroma, hue)
    cos, sin = np.cos(hue), np.sin(hue)
    zero = np.zeros_like(light)
    to_chroma = np.stack([zero, stretch * cos / s_chroma, sin / s_chroma], axis=-1)
    to_hue = np.stack([zero, -stretch * sin / s_hue, cos / s_hue], axis=-1)
    cross = to_chroma[..., :, None] * to_hue[..., None, :]
    metric = to_chroma[..., :, None] * to_chroma[..., None, :] + to_hue[..., :, None] * to_hue[..., None, :]
    metric = metric + 0.5 * rotation[..., None, None] * (cross + np.swapaxes(cross, -1, -2))
    metric[..., 0, 0] += 1.0 / (s_light * s_light)
    return np.asarray(metric)


def lab_to_srgb(lab: ArrayLike) -> tuple[FloatArray, NDArray[np.bool_]]:
    """Turn CIELAB (D50) into sRGB for a screen, by the Bradford transform to D65.

    A colour the screen cannot show loses chroma at constant lightness and hue until it can.

    Parameters
    ----------
    lab : (..., 3)

    Returns
    -------
    rgb : (..., 3)
        Encoded sRGB, 0 to 1.
    in_gamut : (...) bool
        False where chroma was taken away.

    References
    ----------
    IEC 61966-2-1 (sRGB); ICC.1:2022, annex E (Bradford).
    """
    lab = np.array(_floats(lab), dtype=float)
    lab[..., 0] = np.clip(lab[..., 0], 0.0, 100.0)
    linear = _linear_srgb(lab)
    in_gamut = _fits(linear)
    low, high = np.zeros(lab.shape[:-1]), np.ones(lab.shape[:-1])
    for _ in range(14 if not in_gamut.all() else 0):
        share = 0.5 * (low + high)
        fits = _fits(_linear_srgb(lab * np.stack([np.ones_like(share), share, share], axis=-1)))
        low, high = np.where(fits, share, low), np.where(fits, high, share)
    kept = np.where(in_gamut, 1.0, low)
    linear = np.clip(_linear_srgb(lab * np.stack([np.ones_like(kept), kept, kept], axis=-1)), 0.0, 1.0)
    return srgb_encode(linear), in_gamut


def srgb_encode(linear: ArrayLike) -> FloatArray:
    """Encode linear light, 0 to 1, with the sRGB curve (IEC 61966-2-1)."""
    linear = _floats(linear)
    return np.where(
        linear <= 0.0031308, 12.92 * linear, 1.055 * np.power(np.maximum(linear, 1e-9), 1 / 2.4) - 0.055
    )


def srgb_decode(encoded: ArrayLike) -> FloatArray:
    """Undo `srgb_encode`: encoded 0 to 1 to linear light 0 to 1."""
    encoded = _floats(encoded)
    return np.where(encoded <= 0.04045, encoded / 12.92, np.power((np.maximum(encoded, 0.0) + 0.055) / 1.055, 2.4))


def _floats(values: ArrayLike) -> FloatArray:
    array = np.asarray(values)
    return array if array.dtype == np.float32 else array.astype(float, copy=False)


def _grey_stretch(chroma: FloatArray) -> FloatArray:
    squared = chroma * chroma
    power = squared * squared * squared * chroma
    return np.asarray(0.5 * (1.0 - np.sqrt(power / (power + _TWENTY_FIVE_7))))


def _weights(
    light: FloatArray, chroma: FloatArray, hue: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
    """CIEDE2000's S_L, S_C, S_H and R_T; hue in radians."""
    off = light - 50.0
    off = off * off
    s_light = 1.0 + 0.015 * off / np.sqrt(20.0 + off)
    s_chroma = 1.0 + 0.045 * chroma
    # Multiples of the hue by the addition theorems: one cosine and one sine in place of four.
    c1, s1 = np.cos(hue), np.sin(hue)
    c2, s2 = c1 * c1 - s1 * s1, 2.0 * s1 * c1
    c3, s3 = c2 * c1 - s2 * s1, s2 * c1 + c2 * s1
    c4, s4 = c2 * c2 - s2 * s2, 2.0 * s2 * c2
    t = (
        1.0
        - 0.17 * (c1 * _COS30 + s1 * _SIN30)
        + 0.24 * c2
        + 0.32 * (c3 * _COS6 - s3 * _SIN6)
        - 0.20 * (c4 * _COS63 + s4 * _SIN63)
    )
    s_hue = 1.0 + 0.015 * chroma * t
    degrees = np.degrees(hue) % 360.0
    bump = (degrees - 275.0) / 25.0
    squared = chroma * chroma
    power = squared * squared * squared * chroma
    rotation = -2.0 * np.sqrt(power / (power + _TWENTY_FIVE_7)) * np.sin(np.radians(60.0 * np.exp(-bump * bump)))
    return s_light, s_chroma, s_hue, rotation


_COS30, _SIN30 = float(np.cos(np.radians(30))), float(np.sin(np.radians(30)))
_COS6, _SIN6 = float(np.cos(np.radians(6))), float(np.sin(np.radians(6)))
_COS63, _SIN63 = float(np.cos(np.radians(63))), float(np.sin(np.radians(63)))


def _linear_srgb(lab: FloatArray) -> FloatArray:
    return np.asarray(lab_to_xyz(lab) @ _XYZ50_TO_SRGB.T)


def _fits(linear: FloatArray) -> NDArray[np.bool_]:
    return np.asarray(((linear >= -_GAMUT_SLACK) & (linear <= 1.0 + _GAMUT_SLACK)).all(axis=-1))
