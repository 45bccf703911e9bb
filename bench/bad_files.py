"""How bad inputs are made: files that are broken, swollen, mislabelled or not files at all; all invented here."""

from __future__ import annotations

import io
import os
import struct
import zlib
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Any

import numpy as np


@dataclass
class Good:
    """A sound photo, and the same in other formats, to be spoilt."""

    jpeg: bytes
    _made: dict[str, bytes] = field(default_factory=dict)

    @cached_property
    def image(self) -> Any:
        from PIL import Image

        return Image.open(io.BytesIO(self.jpeg)).convert("RGB")

    def coded(self, kind: str, **more: Any) -> bytes:
        """The photo coded as PNG, TIFF, WEBP, HEIF, JPEG."""
        key = f"{kind} {more.keys()}" if not more else ""
        if key and key in self._made:
            return self._made[key]
        if kind == "HEIF":
            import pillow_heif

            pillow_heif.register_heif_opener()
        out = io.BytesIO()
        self.image.save(out, kind, **({"quality": 95} | more if kind in ("JPEG", "WEBP", "HEIF") else more))
        if key:
            self._made[key] = out.getvalue()
        return out.getvalue()


@dataclass(frozen=True)
class Bad:
    """One bad input. ``ends``: refused, read (right), or either."""

    name: str
    make: Callable[[Path, Good], str]
    ends: str = "refused"
    heavy: bool = False


def file_of(name: str, data: Callable[[Good], bytes]) -> Callable[[Path, Good], str]:
    """Make a file of that name with what `data` gives."""

    def make(folder: Path, good: Good) -> str:
        path = os.path.join(str(folder), name)
        with open(path, "wb") as out:
            out.write(data(good))
        return path

    return make


def sweep(folder: Path) -> None:
    """Take away what was made."""
    for path in sorted(folder.rglob("*"), reverse=True):
        path.rmdir() if path.is_dir() and not path.is_symlink() else path.unlink()


def png(
    width: int, height: int, data: bytes, *extra: tuple[bytes, bytes], bits: int = 8, colour: int = 2
) -> bytes:
    """A PNG put together by hand, `extra` chunks before its picture."""
    head = struct.pack(">IIBBBBB", width, height, bits, 2, 0, 0, 0)
    chunks = [(b"IHDR", head), *extra, (b"IDAT", data), (b"IEND", b"")]
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))
        for kind, body in chunks
    )


def zeros(count: int) -> bytes:
    """`count` zero bytes, deflated, without holding them."""
    press = zlib.compressobj(1)
    block = bytes(1 << 20)
    parts = [press.compress(block) for _ in range(count >> 20)]
    return b"".join(parts) + press.compress(bytes(count & ((1 << 20) - 1))) + press.flush()


def grey_png(width: int, height: int, bits: int = 8) -> bytes:
    """A whole, sound, black PNG of any size in a few kilobytes."""
    return png(width, height, zeros(height * (1 + width * 3 * bits // 8)), bits=bits)


def exif_jpeg(good: Good, exif: bytes) -> bytes:
    """The photo with these bytes as its EXIF."""
    body = b"Exif\0\0" + exif
    return good.jpeg[:2] + b"\xff\xe1" + struct.pack(">H", len(body) + 2) + body + good.jpeg[2:]


def tiff_tags(*entries: tuple[int, int, int, int], after: int = 0, order: str = "<") -> bytes:
    """A TIFF or EXIF head with one directory: (tag, type, count, value) each."""
    mark = b"II*\0" if order == "<" else b"MM\0*"
    body = b"".join(struct.pack(order + "HHII", *entry) for entry in entries)
    return mark + struct.pack(order + "IH", 8, len(entries)) + body + struct.pack(order + "I", after)


def icc_jpeg(good: Good, profile: bytes) -> bytes:
    """The photo with these bytes as its colour profile."""
    out, parts = b"", [profile[k : k + 65000] for k in range(0, max(1, len(profile)), 65000)]
    for k, part in enumerate(parts, 1):
        body = b"ICC_PROFILE\0" + bytes([k, len(parts)]) + part
        out += b"\xff\xe2" + struct.pack(">H", len(body) + 2) + body
    return good.jpeg[:2] + out + good.jpeg[2:]


def profile(space: str = "sRGB") -> bytes:
    """A sound profile by littleCMS."""
    from PIL import ImageCms

    return ImageCms.ImageCmsProfile(ImageCms.createProfile(space)).tobytes()


def scans(count: int) -> bytes:
    """A progressive JPEG of 24 megapixels whose last scan comes `count` times."""
    import cv2

    flags = [cv2.IMWRITE_JPEG_PROGRESSIVE, 1]
    data = cv2.imencode(".jpg", np.full((4000, 6000, 3), 90, np.uint8), flags)[1].tobytes()
    return data[:-2] + data[data.rfind(b"\xff\xda") : -2] * count + b"\xff\xd9"


def flipped(data: bytes, seed: int, flips: int, start: int = 0, end: int | None = None) -> bytes:
    """Bits turned over at drawn places."""
    rng = np.random.default_rng(seed)
    out = bytearray(data)
    for at in rng.integers(start, end or len(data), flips):
        out[at] ^= 1 << int(rng.integers(8))
    return bytes(out)


def frames(kind: str, count: int = 3) -> Callable[[Good], bytes]:
    """The photo several times in one file."""

    def made(good: Good) -> bytes:
        out = io.BytesIO()
        small = good.image.resize((400, 300))
        more = [small.transpose(k % 2) for k in range(count - 1)]
        small.save(out, kind, save_all=True, append_images=more)
        return out.getvalue()

    return made


def turned_mode(kind: str, mode: str) -> Callable[[Good], bytes]:
    """The photo with its colours kept another way."""

    def made(good: Good) -> bytes:
        from PIL import ImageCms

        image = good.image
        if mode == "LAB":
            srgb, lab = ImageCms.createProfile("sRGB"), ImageCms.createProfile("LAB")
            image = ImageCms.profileToProfile(image, srgb, lab, outputMode="LAB")
        else:
            image = image.convert(mode)
        out = io.BytesIO()
        image.save(out, kind)
        return out.getvalue()

    return made


def directories(count: int, *, loop: bool = False) -> bytes:
    """A TIFF of 64 × 64 with many directories, or two that point at each other."""
    out = bytearray(b"II*\0" + struct.pack("<I", 8))
    entries = [(256, 3, 1, 64), (257, 3, 1, 64), (258, 3, 1, 8), (259, 3, 1, 1), (262, 3, 1, 1), (273, 4, 1, 8),
               (277, 3, 1, 1), (278, 3, 1, 64), (279, 4, 1, 4096)]  # fmt: skip
    size = 2 + 12 * len(entries) + 4
    for k in range(count):
        last = k == count - 1
        following = (8 if loop else 0) if last else 8 + size * (k + 1)
        body = b"".join(struct.pack("<HHII", *entry) for entry in entries)
        out += struct.pack("<H", len(entries)) + body + struct.pack("<I", following)
    return bytes(out + bytes(4096))


def swollen_exif() -> bytes:
    """EXIF whose one text claims four gigabytes."""
    return tiff_tags((0x010F, 2, 0xFFFFFFF0, 26))


def heic_claims(good: Good, width: int, height: int) -> bytes:
    """A HEIC whose size box claims other figures."""
    data = good.coded("HEIF")
    at = data.find(b"ispe")
    return data[: at + 8] + struct.pack(">II", width, height) + data[at + 16 :]


def jpeg_claims(good: Good, width: int, height: int) -> bytes:
    """The JPEG with another size in its frame header."""
    at = next(k for k in (good.jpeg.find(m) for m in (b"\xff\xc0\x00\x11", b"\xff\xc2\x00\x11")) if k > 0)
    return good.jpeg[: at + 5] + struct.pack(">HH", height, width) + good.jpeg[at + 9 :]


def cases() -> list[Bad]:
    """All of them, in a fixed order."""
    from bench import bad_cases

    return bad_cases.all_cases()
