"""What a file is, by its first bytes, and how large its picture claims to be, before any decoder sees it."""

from __future__ import annotations

import re
import struct

PHOTO_KINDS = ("JPEG", "PNG", "TIFF", "WEBP", "HEIC", "DNG")
_HEIC_BRANDS = {b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1"}

_STARTS: tuple[tuple[bytes, str], ...] = (
    (b"\xff\xd8\xff", "JPEG"),
    (b"\x89PNG\r\n\x1a\n", "PNG"),
    (b"%!PS", "PostScript"),
    (b"\xc5\xd0\xd3\xc6", "PostScript"),
    (b"GIF8", "GIF"),
    (b"BM", "BMP"),
    (b"PK\x03\x04", "ZIP"),
    (b"\x1f\x8b", "gzip"),
    (b"8BPS", "layered picture"),
    (b"gimp xcf", "layered picture"),
    (b"SQLite format 3", "database"),
    (b"\x7fELF", "program"),
    (b"MZ", "program"),
    (b"FUJIFILMCCD-RAW", "camera raw"),
    (b"\xff\x0a", "JPEG XL"),
    (b"\x00\x00\x00\x0cJXL ", "JPEG XL"),
    (b"\x00\x00\x00\x0cjP  ", "JPEG 2000"),
)
_RAW_TIFF = {b"II*\x00\x10\x00\x00\x00CR", b"IIRO\x08\x00", b"IIU\x00\x18\x00"}
_DNG_VERSION = 50706


def file_kind(data: bytes) -> str:
    """Name what `data` is: one of `PHOTO_KINDS`, or another kind by its plain name, or ``unknown``.

    Parameters
    ----------
    data : bytes
        The whole file; only its head is looked at.
    """
    if not data.strip(b"\x00"):
        return "empty"
    for start, kind in _STARTS:
        if data.startswith(start):
            return kind
    head = data[:1024]
    if data[:4] == b"RIFF":
        return "WEBP" if data[8:12] == b"WEBP" else "sound or film"
    if data[4:8] == b"ftyp":
        return _boxed_kind(data)
    if any(data.startswith(raw) for raw in _RAW_TIFF):
        return "camera raw"
    if data[:4] in (b"II*\x00", b"MM\x00*"):
        return "DNG" if _is_dng(data) else "TIFF"
    if b"%PDF-" in head:
        return "PDF"
    if b"%!PS" in head:
        return "PostScript"
    if re.match(rb"\s*(\xef\xbb\xbf)?\s*<", head):
        return "web page or drawing"
    if not re.search(rb"[\x00-\x08\x0e-\x1f]", head):
        return "text"
    return "unknown"


def webp_size(data: bytes) -> tuple[int, int] | None:
    """Width and height a WebP file claims, read without decoding; None where its head is broken."""
    chunk, body = data[12:16], data[20:30]
    if len(body) < 10:
        return None
    if chunk == b"VP8X":
        return 1 + int.from_bytes(body[4:7], "little"), 1 + int.from_bytes(body[7:10], "little")
    if chunk == b"VP8 ":
        wide, high = struct.unpack("<HH", body[6:10])
        return wide & 0x3FFF, high & 0x3FFF
    if chunk == b"VP8L":
        bits = int.from_bytes(body[1:5], "little")
        return 1 + (bits & 0x3FFF), 1 + ((bits >> 14) & 0x3FFF)
    return None


def jpeg_scans(data: bytes) -> int:
    """How many scans a JPEG's picture has up to its end mark; 0 where it has none or does not reach it.

    References
    ----------
    ITU-T T.81, annex B: segments follow each other by length up to the scan; within a scan neither an end mark nor
    the start of another scan can occur.
    """
    at = 2
    while at + 4 <= len(data) and data[at] == 0xFF:
        marker = data[at + 1]
        if marker == 0xDA:
            return max(0, data.count(b"\xff\xda", at, data.find(b"\xff\xd9", at) + 1))
        if marker == 0xFF:
            at += 1
        elif marker == 0x01 or 0xD0 <= marker <= 0xD8:
            at += 2
        else:
            at += 2 + int.from_bytes(data[at + 2 : at + 4], "big")
    return 0


def _boxed_kind(data: bytes) -> str:
    length = min(max(int.from_bytes(data[:4], "big"), 16), 256)
    brands = {data[8:12], *(data[k : k + 4] for k in range(16, length, 4))}
    if b"avif" in brands or b"avis" in brands:
        return "AVIF"
    if brands & _HEIC_BRANDS:
        return "HEIC"
    return "camera raw" if b"crx " in brands else "film"


def _is_dng(data: bytes) -> bool:
    """A TIFF whose first directory carries the DNG version tag."""
    order = "<" if data[:2] == b"II" else ">"
    (at,) = struct.unpack(order + "I", data[4:8]) if len(data) >= 8 else (0,)
    if not 8 <= at <= len(data) - 2:
        return False
    (count,) = struct.unpack(order + "H", data[at : at + 2])
    for k in range(min(count, 200)):
        entry = data[at + 2 + 12 * k : at + 14 + 12 * k]
        if len(entry) == 12 and struct.unpack(order + "H", entry[:2])[0] == _DNG_VERSION:
            return True
    return False
