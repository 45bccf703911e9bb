"""The few ways the library puts bytes on the disk: each step named, so that a test can stop at any one of them.

A file is whole or absent: it is written under a temporary name, flushed to the disk, renamed, and the folders
that hold the names are flushed too.
"""

from __future__ import annotations

import os
from pathlib import Path

TEMPORARY = ".part"
"""Ends the name of a file that is not whole yet."""


def make_new(path: Path) -> int:
    """Open a file that must not exist yet for writing."""
    return os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY | getattr(os, "O_BINARY", 0), 0o644)


def write(fd: int, data: bytes) -> None:
    """Write all of `data`."""
    view = memoryview(data)
    while view:
        view = view[os.write(fd, view) :]


def flush_file(fd: int) -> None:
    """Do not return before the file's bytes are on the disk."""
    os.fsync(fd)


def rename(old: Path, new: Path) -> None:
    """Give a file its final name, over what may be there."""
    os.replace(old, new)


def remove(path: Path) -> None:
    """Take a file away."""
    path.unlink(missing_ok=True)


def flush_folder(folder: Path) -> None:
    """Do not return before the folder's names are on the disk; Windows does this by itself."""
    if os.name == "nt":
        return
    fd = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(fd)
    finally:
        os.close(fd)


def make_folder(folder: Path) -> None:
    """Make a folder, and have its name on the disk."""
    if not folder.is_dir():
        folder.mkdir(exist_ok=True)
        flush_folder(folder.parent)


def write_whole(path: Path, data: bytes) -> None:
    """Put a small file in place, whole or not at all."""
    part = path.with_name(path.name + TEMPORARY)
    remove(part)
    fd = make_new(part)
    try:
        write(fd, data)
        flush_file(fd)
    finally:
        os.close(fd)
    rename(part, path)
    flush_folder(path.parent)
