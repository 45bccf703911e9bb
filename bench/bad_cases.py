"""Which bad inputs there are, in groups."""

from __future__ import annotations

import struct
import zlib
from pathlib import Path

import numpy as np

from bench.bad_files import (
    Bad,
    Good,
    directories,
    exif_jpeg,
    file_of,
    flipped,
    frames,
    grey_png,
    heic_claims,
    icc_jpeg,
    jpeg_claims,
    png,
    profile,
    scans,
    swollen_exif,
    tiff_tags,
    turned_mode,
    zeros,
)
from bench.bad_places import heads, names, places

KINDS = {
    "jpeg": ("JPEG", "jpg"),
    "png": ("PNG", "png"),
    "tiff": ("TIFF", "tif"),
    "webp": ("WEBP", "webp"),
    "heic": ("HEIF", "heic"),
}
TURNED_OVER = ((1, "anywhere"), (4, "anywhere"), (40, "anywhere"), (6, "its head"))


def all_cases() -> list[Bad]:
    """Every bad input."""
    groups = (
        _cut(),
        _flipped(),
        _mislabelled(),
        _bombs(),
        _exif(),
        _profiles(),
        _several(),
        _sizes(),
        _colours(),
        places(),
        names(),
        heads(),
    )
    return [case for group in groups for case in group]


def _sound(good: Good, kind: str) -> bytes:
    return good.jpeg if kind == "jpeg" else good.coded(KINDS[kind][0])


def _cut() -> list[Bad]:
    out = []
    for kind, (_, ending) in KINDS.items():
        for percent in (1, 30, 60, 99):

            def data(good: Good, kind: str = kind, percent: int = percent) -> bytes:
                whole = _sound(good, kind)
                return whole[: max(12, len(whole) * percent // 100)]

            out.append(Bad(f"{kind} cut at {percent} %", file_of(f"cut{percent}.{ending}", data)))
    return out


def _flipped() -> list[Bad]:
    out = []
    for kind, (_, ending) in KINDS.items():
        for seed, (flips, where) in enumerate(TURNED_OVER):

            def data(
                good: Good, kind: str = kind, seed: int = seed, flips: int = flips, where: str = where
            ) -> bytes:
                whole = _sound(good, kind)
                return flipped(whole, seed, flips, 4, 400 if where == "its head" else len(whole))

            name = f"{kind} with {flips} bits turned over, {where}"
            out.append(Bad(name, file_of(f"bits{seed}.{ending}", data), "either"))
    return out


def _mislabelled() -> list[Bad]:
    whole = {
        "PDF": b"%PDF-1.7\n1 0 obj\n<< /Type /Catalog >>\nendobj\ntrailer << /Root 1 0 R >>\n%%EOF\n",
        "PostScript": b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 100 100\nshowpage\n%%EOF\n",
        "drawing": b'<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg"><image href="file:///etc/hosts"/></svg>',
        "GIF": b"GIF89a\x40\0\x40\0\x80\0\0\0\0\0\xff\xff\xff,\0\0\0\0\x40\0\x40\0\0\x02\x02\x4c\x01\0;",
        "BMP": b"BM" + struct.pack("<IHHIIiiHHIIiiII", 1 << 20, 0, 0, 54, 40, 64, 64, 1, 24, 0, 0, 0, 0, 0, 0),
        "ZIP": b"PK\x03\x04" + bytes(60),
        "gzip": b"\x1f\x8b\x08" + bytes(40),
        "program": b"\x7fELF\x02\x01\x01" + bytes(60),
        "table": b"tile,zone,L,a,b\nT1,A,50,0,0\n",
        "layered picture": b"8BPS\0\x01" + bytes(40),
        "nothing but zeros": bytes(4096),
        "noise": np.random.default_rng(5).bytes(9000),
        "nothing": b"",
        "film": b"\0\0\0\x18ftypisom\0\0\x02\0isomiso2" + bytes(400),
    }
    out = [
        Bad(f"{name} called .jpg", file_of(f"x{k}.jpg", lambda _, d=d: d))
        for k, (name, d) in enumerate(whole.items())
    ]
    out.append(Bad("jpeg called .png", file_of("is_jpeg.png", lambda g: g.jpeg), "read"))
    out.append(Bad("png called .jpg", file_of("is_png.jpg", lambda g: g.coded("PNG")), "read"))
    out.append(Bad("heic called .JPG", file_of("IMG_1.JPG", lambda g: g.coded("HEIF")), "read"))
    out.append(Bad("jpeg with a PDF behind it", file_of("tail.jpg", lambda g: g.jpeg + whole["PDF"] * 50), "read"))
    return out


def _bombs() -> list[Bad]:
    def tiff_claims(good: Good) -> bytes:
        return tiff_tags(
            (256, 4, 1, 100_000),
            (257, 4, 1, 100_000),
            (258, 3, 1, 8),
            (259, 3, 1, 5),
            (262, 3, 1, 2),
            (273, 4, 1, 8),
            (277, 3, 1, 3),
            (279, 4, 1, 100),
        )

    def tiff_black(side: int, bits: int) -> bytes:
        import cv2

        black = np.zeros((side, side, 3), np.uint8 if bits == 8 else np.uint16)
        return bytes(cv2.imencode(".tiff", black, [cv2.IMWRITE_TIFF_COMPRESSION, 8])[1].tobytes())

    def webp_black(_: Good) -> bytes:
        import io

        from PIL import Image

        out = io.BytesIO()
        Image.new("RGB", (10_900, 10_900)).save(out, "WEBP", lossless=True, method=0)
        return out.getvalue()

    def jpeg_black(side: int) -> bytes:
        import cv2

        return bytes(cv2.imencode(".jpg", np.zeros((side, side, 3), np.uint8))[1].tobytes())

    text = (b"zTXt", b"note\0\0" + zeros(300 << 20))
    inflated = (b"iCCP", b"p\0\0" + zeros(300 << 20))
    many = [(b"tEXt", b"k\0v")] * 200_000
    return [
        Bad("png of 60,000 × 60,000", file_of("b1.png", lambda _: png(60_000, 60_000, zeros(1 << 20)))),
        Bad("png of 2³¹ − 1 squared", file_of("b2.png", lambda _: png(2**31 - 1, 2**31 - 1, b"x"))),
        Bad("png of 119 megapixels, black", file_of("b3.png", lambda _: grey_png(10_900, 10_900)), heavy=True),
        Bad(
            "png of 119 megapixels, 16 bits", file_of("b4.png", lambda _: grey_png(10_900, 10_900, 16)), heavy=True
        ),
        Bad(
            "png whose note inflates to 300 MiB",
            file_of("b5.png", lambda _: png(900, 900, zeros(900 * 2701), text)),
            "either",
            True,
        ),
        Bad(
            "png whose profile inflates to 300 MiB",
            file_of("b6.png", lambda _: png(900, 900, zeros(900 * 2701), inflated)),
            "either",
            True,
        ),
        Bad(
            "png of 200,000 notes", file_of("b7.png", lambda _: png(900, 900, zeros(900 * 2701), *many)), "either"
        ),
        Bad(
            "png whose picture is far longer than it",
            file_of("b8.png", lambda _: png(900, 900, zeros(600 << 20))),
            "either",
            True,
        ),
        Bad("tiff that claims 100,000 × 100,000", file_of("b9.tif", tiff_claims)),
        Bad("tiff of 119 megapixels, deflated", file_of("b10.tif", lambda _: tiff_black(10_900, 8)), heavy=True),
        Bad("tiff of 100 megapixels, 16 bits", file_of("b11.tif", lambda _: tiff_black(10_000, 16)), heavy=True),
        Bad("webp of 119 megapixels", file_of("b12.webp", webp_black), heavy=True),
        Bad("jpeg of 119 megapixels, black", file_of("b13.jpg", lambda _: jpeg_black(10_900)), heavy=True),
        Bad("jpeg that claims 65,500 × 65,500", file_of("b14.jpg", lambda g: jpeg_claims(g, 65_500, 65_500))),
        Bad(
            "jpeg that claims 10,000 × 10,000",
            file_of("b15.jpg", lambda g: jpeg_claims(g, 10_000, 10_000)),
            heavy=True,
        ),
        Bad("jpeg with 2,000 scans", file_of("b16.jpg", lambda _: scans(2000)), heavy=True),
        Bad("heic that claims 40,000 × 40,000", file_of("b17.heic", lambda g: heic_claims(g, 40_000, 40_000))),
        Bad("heic that claims 10,000 × 10,000", file_of("b18.heic", lambda g: heic_claims(g, 10_000, 10_000))),
        Bad("tiff of 20,000 directories", file_of("b19.tif", lambda _: directories(20_000))),
        Bad("tiff whose directories go round", file_of("b20.tif", lambda _: directories(2, loop=True))),
        Bad("file of 2 GiB without anything in it", _sparse, heavy=True),
    ]


def _sparse(folder: Path, _: Good) -> str:
    path = folder / "sparse.jpg"
    with path.open("wb") as out:
        out.write(b"\xff\xd8\xff\xe0")
        out.truncate(2 << 30)
    return str(path)


def _exif() -> list[Bad]:
    absurd = {
        "orientation 0": tiff_tags((274, 3, 1, 0)),
        "orientation 9": tiff_tags((274, 3, 1, 9)),
        "orientation 65,535": tiff_tags((274, 3, 1, 65535)),
        "orientation as text": tiff_tags((274, 2, 4, 0x00363636)),
        "orientation as a fraction by zero": tiff_tags((274, 5, 1, 8)),
        "orientation a thousand times": tiff_tags((274, 3, 1000, 8)),
        "a text of 4 GiB": swollen_exif(),
        "a directory that is its own child": tiff_tags((0x8769, 4, 1, 8)),
        "a directory that follows itself": tiff_tags((274, 3, 1, 1), after=8),
        "a child far outside": tiff_tags((0x8769, 4, 1, 0xFFFFFF00)),
        "an interoperability directory of noise": tiff_tags((0x8769, 4, 1, 26), (0xA005, 4, 1, 5)),
        "big-endian and little-endian at once": b"MM\0*" + tiff_tags((274, 3, 1, 6))[4:],
        "nothing but its mark": b"II*\0",
        "noise": np.random.default_rng(3).bytes(5000),
    }
    return [
        Bad(f"EXIF with {name}", file_of(f"e{k}.jpg", lambda g, e=exif: exif_jpeg(g, e)), "read")
        for k, (name, exif) in enumerate(absurd.items())
    ]


def _profiles() -> list[Bad]:
    srgb = profile()
    broken = {
        "of zeros": bytes(400),
        "cut short": srgb[: len(srgb) // 2],
        "of noise": np.random.default_rng(2).bytes(3000),
        "with 4 billion tags": srgb[:128] + b"\xff\xff\xff\xff" + srgb[132:],
        "whose curves lie outside": srgb[:132]
        + b"".join(
            name + struct.pack(">II", 0xFFFFFF00, 64)
            for name in (b"rXYZ", b"gXYZ", b"bXYZ", b"rTRC", b"gTRC", b"bTRC")
        ),
        "for Lab": profile("LAB"),
        "for CMYK": srgb[:16] + b"CMYK" + srgb[20:],
        "with bits turned over": flipped(srgb, 4, 30, 128),
    }
    out = [
        Bad(f"profile {name}", file_of(f"p{k}.jpg", lambda g, p=body: icc_jpeg(g, p)), "either")
        for k, (name, body) in enumerate(broken.items())
    ]
    out.append(
        Bad(
            "profile of zeros in a png",
            file_of("p8.png", lambda g: g.coded("PNG", icc_profile=bytes(300))),
            "either",
        )
    )
    return out


def _several() -> list[Bad]:
    return [
        Bad("animated webp", file_of("a1.webp", frames("WEBP"))),
        Bad("animated png", file_of("a2.png", frames("PNG"))),
        Bad("animated gif called .png", file_of("a3.png", frames("GIF"))),
        Bad("tiff of three pages", file_of("a4.tif", frames("TIFF"))),
        Bad("two jpegs in one file", file_of("a5.jpg", lambda g: g.jpeg + g.jpeg), "read"),
    ]


def _sizes() -> list[Bad]:
    def whole(wide: int, high: int, kind: str) -> bytes:
        import cv2

        return bytes(cv2.imencode(kind, np.full((high, wide, 3), 120, np.uint8))[1].tobytes())

    return [
        Bad("png of 1 × 1", file_of("s1.png", lambda _: whole(1, 1, ".png"))),
        Bad("jpeg of 1 × 1", file_of("s2.jpg", lambda _: whole(1, 1, ".jpg"))),
        Bad("webp of 1 × 1", file_of("s3.webp", lambda _: whole(1, 1, ".webp"))),
        Bad("png of 3 × 100,000", file_of("s4.png", lambda _: whole(3, 100_000, ".png"))),
        Bad("png of 100,000 × 3", file_of("s5.png", lambda _: whole(100_000, 3, ".png"))),
        Bad("png of 0 × 0", file_of("s6.png", lambda _: png(0, 0, zlib.compress(b"")))),
        Bad("jpeg of 64 × 30,000", file_of("s7.jpg", lambda _: whole(64, 30_000, ".jpg"))),
        Bad("jpeg of 64 × 64", file_of("s8.jpg", lambda _: whole(64, 64, ".jpg"))),
    ]


def _colours() -> list[Bad]:
    ways = [
        ("JPEG", "CMYK", "jpg"),
        ("TIFF", "CMYK", "tif"),
        ("TIFF", "LAB", "tif"),
        ("JPEG", "L", "jpg"),
        ("PNG", "L", "png"),
        ("PNG", "1", "png"),
        ("TIFF", "F", "tif"),
        ("TIFF", "I", "tif"),
    ]
    return [
        Bad(f"{kind} in {mode}", file_of(f"c{k}.{ending}", turned_mode(kind, mode)))
        for k, (kind, mode, ending) in enumerate(ways)
    ]
