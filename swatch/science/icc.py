"""The tone curves of an RGB matrix profile, read from its bytes.

A photo keeps its own primaries: the fitted colour correction absorbs them, and nothing is clipped on the way.
Only the curve from coded level to light must be known.
"""

from __future__ import annotations

import struct

import numpy as np

from swatch.science.colour_math import FloatArray, srgb_decode

_LARGEST_CURVE = 65536


def curve_of_srgb(levels: int) -> FloatArray:
    """The sRGB curve at every level, for all three channels: (3, levels) float32, 0 to 1 (IEC 61966-2-1)."""
    return np.tile(srgb_decode(np.linspace(0.0, 1.0, levels)).astype(np.float32), (3, 1))


def curve_of_gamma(gamma: float, levels: int) -> FloatArray:
    """A plain power curve, as cameras write Adobe RGB (1998) without a profile: (3, levels) float32."""
    return np.tile((np.linspace(0.0, 1.0, levels) ** gamma).astype(np.float32), (3, 1))


def curve_of_profile(profile: bytes, levels: int) -> FloatArray | None:
    """Read the tone curves of an RGB matrix profile.

    Parameters
    ----------
    profile : bytes
        An ICC profile, version 2 or 4; may be hostile.
    levels : int
        256 for 8-bit pictures, 65536 for 16-bit.

    Returns
    -------
    (3, levels) float32 or None
        Linear light, 0 to 1, of each coded level; None where the profile is no RGB matrix profile
        or cannot be read.

    References
    ----------
    ICC.1:2022, sections 7.2, 7.3, 10.6 (curveType) and 10.18 (parametricCurveType).
    """
    if profile[16:20] != b"RGB " or profile[36:40] != b"acsp":
        return None
    tags = _tags(profile)
    if b"A2B0" in tags or not {b"rXYZ", b"gXYZ", b"bXYZ", b"rTRC", b"gTRC", b"bTRC"} <= tags.keys():
        return None
    at = np.linspace(0.0, 1.0, levels)
    curves = [_curve(tags[name], at) for name in (b"rTRC", b"gTRC", b"bTRC")]
    if any(curve is None for curve in curves):
        return None
    table = np.array(curves, dtype=np.float32)
    sound = bool(np.isfinite(table).all() and (np.diff(table) >= -1e-6).all() and (table[:, -1] > 0.5).all())
    return np.clip(table, 0.0, 1.0) if sound else None


def primaries_of_profile(profile: bytes) -> FloatArray | None:
    """The matrix of an RGB matrix profile, from linear light to XYZ, D50: (3, 3).

    None where `curve_of_profile` finds no curves either, or the matrix leads nowhere (ICC.1:2022, 10.31 XYZType).
    """
    if curve_of_profile(profile, 256) is None:
        return None
    tags = _tags(profile)
    columns = [tags[name] for name in (b"rXYZ", b"gXYZ", b"bXYZ")]
    if any(tag[:4] != b"XYZ " or len(tag) < 20 for tag in columns):
        return None
    matrix = np.array([struct.unpack(">3i", tag[8:20]) for tag in columns], dtype=float).T / 65536.0
    # Sound primaries add up to about the white of the connection space, and span it.
    white = np.abs(matrix.sum(axis=1) - [0.9642, 1.0, 0.8249]).max() < 0.1
    return matrix if white and abs(np.linalg.det(matrix)) > 1e-3 else None


def _tags(profile: bytes) -> dict[bytes, bytes]:
    if len(profile) < 132:
        return {}
    (count,) = struct.unpack(">I", profile[128:132])
    tags = {}
    for k in range(min(count, 100)):
        entry = profile[132 + 12 * k : 144 + 12 * k]
        if len(entry) < 12:
            break
        name, start, length = struct.unpack(">4sII", entry)
        tags[name] = profile[start : start + min(length, 2 * _LARGEST_CURVE + 12)]
    return tags


def _curve(tag: bytes, at: FloatArray) -> FloatArray | None:
    if tag[:4] == b"curv" and len(tag) >= 12:
        (count,) = struct.unpack(">I", tag[8:12])
        values = np.frombuffer(tag[12 : 12 + 2 * min(count, _LARGEST_CURVE)], dtype=">u2").astype(float)
        if len(values) != count:
            return None
        if count == 0:
            return at
        if count == 1:
            return np.asarray(at ** (values[0] / 256.0))
        return np.asarray(np.interp(at, np.linspace(0.0, 1.0, count), values / 65535.0))
    if tag[:4] == b"para" and len(tag) >= 16:
        (kind,) = struct.unpack(">H", tag[8:10])
        count = {0: 1, 1: 3, 2: 4, 3: 5, 4: 7}.get(kind, 0)
        raw = tag[12 : 12 + 4 * count]
        if not count or len(raw) < 4 * count:
            return None
        return _parametric(kind, np.array(struct.unpack(f">{count}i", raw)) / 65536.0, at)
    return None


def _parametric(kind: int, p: FloatArray, at: FloatArray) -> FloatArray:
    g, a, b, c, d, e, f = np.pad(p, (0, 7 - len(p))).tolist()
    if kind == 0:
        return np.asarray(at**g)
    power = np.maximum(a * at + b, 0.0) ** g
    if kind in (1, 2):
        shift = c if kind == 2 else 0.0
        return np.asarray(np.where(a * at + b >= 0.0, power + shift, shift))
    return np.asarray(np.where(at >= d, power + e, c * at + f))
