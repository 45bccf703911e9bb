"""A painted photo in every format that is read: a DNG put together by hand, profiles put together by hand."""

from __future__ import annotations

import io
import struct

import cv2
import numpy as np

from bench.painted import Painted, srgb_levels

SRGB, DISPLAY_P3, ADOBE_LIKE, WIDE = "sRGB", "Display P3", "Adobe RGB", "wide"
PRIMARIES = {
    SRGB: ((0.64, 0.33), (0.30, 0.60), (0.15, 0.06)),
    DISPLAY_P3: ((0.680, 0.320), (0.265, 0.690), (0.150, 0.060)),
    ADOBE_LIKE: ((0.64, 0.33), (0.21, 0.71), (0.15, 0.06)),
    WIDE: ((0.7347, 0.2653), (0.1596, 0.8404), (0.0366, 0.0001)),
}
"""xy of red, green and blue; white is D65, D50 for the wide one (memory of the standards)."""
D65, D50 = np.array([0.95047, 1.0, 1.08883]), np.array([0.9642, 1.0, 0.8249])
_BRADFORD = np.array([[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]])


def to_xyz50(space: str) -> np.ndarray:
    """XYZ under D50 of linear RGB in a space: (3, 3), by column."""
    xy = np.array(PRIMARIES[space])
    columns = np.stack([xy[:, 0] / xy[:, 1], np.ones(3), (1 - xy.sum(axis=1)) / xy[:, 1]])
    white = D50 if space == WIDE else D65
    matrix = columns * np.linalg.solve(columns, white)
    adapt = np.linalg.inv(_BRADFORD) @ np.diag((_BRADFORD @ D50) / (_BRADFORD @ white)) @ _BRADFORD
    return matrix if space == WIDE else adapt @ matrix


def curve_tag(curve: object) -> bytes:
    """A profile's curve: a gamma, a table of levels, or ``srgb`` as a parametric curve."""
    if isinstance(curve, str):
        return b"para\0\0\0\0\0\3\0\0" + b"".join(
            struct.pack(">i", round(v * 65536)) for v in (2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045)
        )
    if isinstance(curve, float):
        return b"curv\0\0\0\0" + struct.pack(">IH", 1, round(curve * 256)) + b"\0\0"
    table = np.asarray(curve)
    body = np.round(table * 65535).astype(">u2").tobytes()
    return b"curv\0\0\0\0" + struct.pack(">I", len(table)) + body + bytes(-len(body) % 4)


def matrix_profile(space: str, curve: object) -> bytes:
    """A matrix profile, version 4, as ICC.1:2022 section 8.3 asks."""

    def xyz(value: np.ndarray) -> bytes:
        return b"XYZ \0\0\0\0" + b"".join(struct.pack(">i", round(float(v) * 65536)) for v in value)

    matrix, tone = to_xyz50(space), curve_tag(curve)
    text = "painted".encode("utf-16-be")
    name = (
        b"mluc\0\0\0\0"
        + struct.pack(">II2s2sII", 1, 12, b"en", b"US", len(text), 28)
        + text
        + bytes(-len(text) % 4)
    )
    tags = [(b"desc", name), (b"cprt", name), (b"wtpt", xyz(D50)), (b"rXYZ", xyz(matrix[:, 0])),
            (b"gXYZ", xyz(matrix[:, 1])), (b"bXYZ", xyz(matrix[:, 2])), (b"rTRC", tone), (b"gTRC", tone),
            (b"bTRC", tone)]  # fmt: skip
    at, table, body = 132 + 12 * len(tags), struct.pack(">I", len(tags)), b""
    for key, value in tags:
        table += struct.pack(">4sII", key, at + len(body), len(value))
        body += value
    head = bytearray(128)
    head[0:4] = struct.pack(">I", at + len(body))
    head[8:12], head[12:24], head[36:40] = b"\4\x20\0\0", b"mntrRGB XYZ ", b"acsp"
    head[24:36] = struct.pack(">6H", 2026, 1, 1, 0, 0, 0)
    head[68:80] = xyz(D50)[8:]
    return bytes(head) + table + body


def coded(light: np.ndarray, curve: object) -> np.ndarray:
    """Code linear light, 0 to 1, by the inverse of a profile's curve: 0 to 1."""
    if isinstance(curve, str):
        return srgb_levels(light, 65535) / 65535.0
    if isinstance(curve, float):
        return np.maximum(light, 0.0) ** (1.0 / curve)
    table = np.asarray(curve)
    return np.interp(light, table, np.linspace(0, 1, len(table)))


def in_space(painted: Painted, space: str, curve: object) -> np.ndarray:
    """The photo's 8-bit levels in another RGB space."""
    turn = np.linalg.solve(to_xyz50(space), to_xyz50(SRGB))
    return np.round(255 * coded(np.clip(painted.light @ turn.T, 0, 1), curve)).astype(np.uint8)


def photo_in(painted: Painted, kind: str, **more: object) -> bytes:
    """The photo in sRGB as ``JPEG``, ``PNG``, ``PNG 16``, ``TIFF``, ``TIFF 16``, ``WEBP``, ``HEIF`` or ``DNG``."""
    from PIL import Image

    if kind == "DNG":
        return dng_of(painted)
    if kind.endswith(" 16"):
        deep = srgb_levels(painted.light, 65535)[:, :, ::-1]
        return bytes(cv2.imencode(".png" if kind == "PNG 16" else ".tiff", deep)[1].tobytes())
    if kind == "HEIF":
        import pillow_heif

        pillow_heif.register_heif_opener()
    out = io.BytesIO()
    quality = {} if kind in ("PNG", "TIFF") else {"quality": 95}
    Image.fromarray(srgb_levels(painted.light)).save(out, kind, **quality, **more)
    return out.getvalue()


def dng_of(painted: Painted, *, orientation: int = 1, linear: bool = False) -> bytes:
    """The photo as an uncompressed 16-bit DNG: a mosaic of red, green and blue cells, or whole pixels.

    The camera sees by invented sensitivities, close to sRGB's; black is 512, white 16,383 (DNG 1.4's tags).
    """
    from_srgb = np.array([[0.78, 0.18, 0.04], [0.10, 0.80, 0.10], [0.03, 0.17, 0.80]])
    neutral = np.array([0.55, 1.0, 0.70])
    seen = painted.light @ from_srgb.T * neutral
    levels = np.clip(np.round(512 + seen * (16383 - 512)), 0, 16383).astype("<u2")
    high, wide = levels.shape[0] // 2 * 2, levels.shape[1] // 2 * 2
    cells = levels[:high, :wide]
    if not linear:
        mosaic = np.empty((high, wide), "<u2")
        mosaic[0::2, 0::2], mosaic[0::2, 1::2] = cells[0::2, 0::2, 0], cells[0::2, 1::2, 1]
        mosaic[1::2, 0::2], mosaic[1::2, 1::2] = cells[1::2, 0::2, 1], cells[1::2, 1::2, 2]
        cells = mosaic
    xyz_to_camera = (np.diag(neutral) @ from_srgb) @ np.linalg.inv(to_xyz50(SRGB))
    # ColorMatrix1 is for the light named: D50 here.
    rational = [part for v in xyz_to_camera.ravel() for part in (round(v * 10000), 10000)]
    body = cells.tobytes()
    n = 3 if linear else 1
    tags: list[tuple[int, int, list[int] | bytes]] = [
        (254, 4, [0]), (256, 4, [wide]), (257, 4, [high]), (258, 3, [16] * n), (259, 3, [1]),
        (262, 3, [34892 if linear else 32803]), (271, 2, b"Invented\0"),
        (272, 2, b"Bench camera\0"), (273, 4, [0]),
        (274, 3, [orientation]), (277, 3, [n]), (278, 4, [high]), (279, 4, [len(body)]), (284, 3, [1]),
        *([] if linear else [(33421, 3, [2, 2]), (33422, 1, b"\0\1\1\2")]),
        (50706, 1, b"\1\4\0\0"), (50708, 2, b"Invented Bench camera\0"),
        (50714, 4, [512] * n), (50717, 4, [16383] * n),
        (50721, 10, rational), (50728, 5, [part for v in neutral for part in (round(v * 10000), 10000)]),
        (50778, 3, [23]),
    ]  # fmt: skip
    size, letter = {1: 1, 2: 1, 3: 2, 4: 4, 5: 8, 10: 8}, {3: "H", 4: "I", 5: "I", 10: "i"}
    start = 8 + 2 + 12 * len(tags) + 4
    extra, entries = b"", b""
    room = sum(len(_packed(kind, value, letter)) + 4 for _, kind, value in tags)
    for tag, kind, value in tags:
        packed = _packed(kind, [start + room] if tag == 273 else value, letter)
        count = len(packed) // size[kind]
        if len(packed) <= 4:
            entries += struct.pack("<HHI4s", tag, kind, count, packed)
        else:
            entries += struct.pack("<HHII", tag, kind, count, start + len(extra))
            extra += packed + bytes(-len(packed) % 4)
    head = b"II*\0" + struct.pack("<IH", 8, len(tags)) + entries + bytes(4)
    return head + extra + bytes(room - len(extra)) + body


def _packed(kind: int, value: list[int] | bytes, letter: dict[int, str]) -> bytes:
    return value if isinstance(value, bytes) else struct.pack(f"<{len(value)}{letter[kind]}", *value)
