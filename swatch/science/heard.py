"""What a library in C says on standard error, where it has no other way to say it."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

_MOST_BYTES = 1 << 16


@dataclass(slots=True)
class Heard:
    """What was said; filled when the listening ends."""

    text: bytes = b""


@contextmanager
def heard_on_standard_error() -> Iterator[Heard]:
    """Listen to file descriptor 2 meanwhile; it concerns the whole process, so only a worker process may."""
    heard = Heard()
    before = os.dup(2)
    try:
        with tempfile.TemporaryFile() as listened:
            os.dup2(listened.fileno(), 2)
            try:
                yield heard
            finally:
                os.dup2(before, 2)
                listened.seek(0)
                heard.text = listened.read(_MOST_BYTES)
    finally:
        os.close(before)
