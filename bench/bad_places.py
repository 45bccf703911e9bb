"""Bad inputs, second half: what is no file, odd names, and heads that contradict what follows."""

from __future__ import annotations

import os
import socket
import struct
from collections.abc import Callable
from pathlib import Path

from bench.bad_files import Bad, Good, file_of, tiff_tags

ODD_NAMES = {
    "newline": "a\nswatch: all is well.jpg",
    "right-to-left mark": "kiln\u202egpj.exe.jpg",
    "isolates": "\u2066\u2067a\u2069.jpg",
    "escape sequence": "a\x1b[2J\x1b]0;b\x07.jpg",
    "leading dash": "--json.jpg",
    "quotes and braces": "'a\" {0} {kind} %s.jpg",
    "only a dot and spaces": " . .jpg",
    "bytes that are no UTF-8": os.fsdecode(b"k\xff\xfe.jpg"),
    "half a surrogate pair": os.fsdecode("\udce9.jpg".encode(errors="surrogateescape")),
    "combining marks": "e" + "\u0301" * 60 + ".jpg",
    "240 letters": "k" * 236 + ".jpg",
    "no extension": "kiln",
}


def places() -> list[Bad]:
    """What stands where a file was expected."""

    def fifo(folder: Path, _: Good) -> str:
        os.mkfifo(folder / "pipe.jpg")
        return str(folder / "pipe.jpg")

    def link(to: str) -> Callable[[Path, Good], str]:
        def make(folder: Path, _: Good) -> str:
            (folder / "link.jpg").unlink(missing_ok=True)
            (folder / "link.jpg").symlink_to(to)
            return str(folder / "link.jpg")

        return make

    def here(folder: Path, _: Good) -> str:
        (folder / "folder.jpg").mkdir()
        return str(folder / "folder.jpg")

    def locked(folder: Path, good: Good) -> str:
        path = Path(file_of("locked.jpg", lambda g: g.jpeg)(folder, good))
        path.chmod(0)
        return str(path)

    def unix_socket(folder: Path, _: Good) -> str:
        with socket.socket(socket.AF_UNIX) as made:
            made.bind(str(folder / "s.jpg"))
        return str(folder / "s.jpg")

    return [
        Bad("a pipe nobody writes to", fifo),
        Bad("a link to itself", link("link.jpg")),
        Bad("a link to nothing", link("gone.jpg")),
        Bad("a link to a device without end", link("/dev/zero")),
        Bad("a link to what cannot be read", link("/proc/self/mem")),
        Bad("a folder", here),
        Bad("a socket", unix_socket),
        Bad("no file", lambda folder, _: str(folder / "none.jpg")),
        Bad("a file locked away", locked, "refused" if os.geteuid() else "read"),
        Bad("a name with a zero byte", lambda folder, _: str(folder / "a\0b.jpg")),
        Bad("a name of 5,000 letters", lambda folder, _: str(folder / ("k" * 5000))),
        Bad("an empty name", lambda *_: ""),
    ]


def names() -> list[Bad]:
    """Sound photos with odd names."""
    return [Bad(f"name: {what}", file_of(name, lambda g: g.jpeg), "read") for what, name in ODD_NAMES.items()]


def heads() -> list[Bad]:
    """Files whose heads contradict what follows."""

    def no_end(good: Good) -> bytes:
        return good.jpeg[:-2]

    def swapped(good: Good) -> bytes:
        whole = good.coded("PNG")
        return whole.replace(b"IDAT", b"iDAT", 1)

    def riff_longer(good: Good) -> bytes:
        whole = good.coded("WEBP")
        return whole[:4] + struct.pack("<I", 0xFFFFFFF0) + whole[8:]

    return [
        Bad("jpeg without its end mark", file_of("h1.jpg", no_end)),
        Bad("jpeg of its start alone", file_of("h2.jpg", lambda _: b"\xff\xd8\xff\xd9")),
        Bad("jpeg of fill bytes", file_of("h3.jpg", lambda _: b"\xff\xd8" + b"\xff" * 300_000)),
        Bad("png whose first picture chunk is renamed", file_of("h4.png", swapped)),
        Bad("png with a broken checksum", file_of("h5.png", lambda g: g.coded("PNG")[:-8] + bytes(8)), "either"),
        Bad("webp that claims 4 GiB", file_of("h6.webp", riff_longer), "either"),
        Bad(
            "tiff whose strips lie outside",
            file_of(
                "h7.tif",
                lambda _: tiff_tags(
                    (256, 3, 1, 900),
                    (257, 3, 1, 900),
                    (258, 3, 1, 8),
                    (259, 3, 1, 1),
                    (262, 3, 1, 2),
                    (273, 4, 1, 0xFFFFFF00),
                    (277, 3, 1, 3),
                    (278, 3, 1, 900),
                    (279, 4, 1, 0xFFFFFF00),
                ),
            ),
        ),
        Bad(
            "tiff that is a camera's raw",
            file_of("h8.tif", lambda _: tiff_tags((254, 4, 1, 1), (50706, 1, 4, 0x0401))),
        ),
        Bad("heic of its head alone", file_of("h9.heic", lambda g: g.coded("HEIF")[:40])),
    ]
