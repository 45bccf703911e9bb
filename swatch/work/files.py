"""Reading and writing the user's own files: never held by a pipe, never half written."""

from __future__ import annotations

import os
import stat
from pathlib import Path

from swatch.terms.problems import Where
from swatch.terms.problems.work import (
    file_missing,
    file_not_written,
    file_too_large,
    file_unreadable,
    not_a_file,
)

LARGEST_TABLE_BYTES = 64 << 20


def read_file(path: str | Path, largest: int = LARGEST_TABLE_BYTES) -> bytes:
    """Read a file of the user's without being held by a pipe, a device or a file without end.

    Raises
    ------
    StudioProblem
        ``file-missing``, ``not-a-file``, ``file-unreadable`` or ``file-too-large``, placed at the file.
    """
    where = Where(file=str(path))
    try:
        handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    except (FileNotFoundError, NotADirectoryError) as error:
        raise file_missing().at(where) from error
    except (OSError, ValueError) as error:
        if os.path.isdir(path):
            raise not_a_file().at(where) from error
        raise file_unreadable(getattr(error, "strerror", None) or str(error)).at(where) from error
    about = os.fstat(handle)
    if not stat.S_ISREG(about.st_mode):
        os.close(handle)
        raise not_a_file().at(where)
    with os.fdopen(handle, "rb") as opened:
        if about.st_size > largest:
            raise file_too_large(largest >> 20).at(where)
        try:
            return opened.read(largest + 1)
        except OSError as error:
            raise file_unreadable(error.strerror or str(error)).at(where) from error


def write_file(path: str | Path, data: bytes) -> None:
    """Write a file of the user's whole or not at all.

    Raises
    ------
    StudioProblem
        ``file-not-written``, placed at the file; what stood there before still stands.
    """
    out = Path(path)
    if not out.name or out.is_dir():
        raise not_a_file().at(Where(file=str(path)))
    unfinished = out.with_name(f".{out.name}.{os.getpid()}")
    try:
        unfinished.write_bytes(data)
        unfinished.replace(out)
    except OSError as error:
        unfinished.unlink(missing_ok=True)
        raise file_not_written(error.strerror or str(error)).at(Where(file=str(path))) from error
