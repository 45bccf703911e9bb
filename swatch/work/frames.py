"""Length-prefixed frames on a pipe: how the program and its workers speak."""

from __future__ import annotations

import struct
from typing import IO

_LENGTH = struct.Struct(">Q")
LONGEST_FRAME = 1 << 30


def write_frame(pipe: IO[bytes], data: bytes) -> None:
    """Send one frame."""
    pipe.write(_LENGTH.pack(len(data)) + data)
    pipe.flush()


def read_frame(pipe: IO[bytes]) -> bytes | None:
    """Wait for one frame; None when the other side is gone or sends nonsense."""
    head = _read_all(pipe, _LENGTH.size)
    if head is None:
        return None
    (length,) = _LENGTH.unpack(head)
    return _read_all(pipe, length) if length <= LONGEST_FRAME else None


def _read_all(pipe: IO[bytes], size: int) -> bytes | None:
    parts: list[bytes] = []
    while size:
        part = pipe.read(size)
        if not part:
            return None
        parts.append(part)
        size -= len(part)
    return b"".join(parts)
