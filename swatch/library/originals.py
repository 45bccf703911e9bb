"""Originals: every photo once, named by its SHA-256, whole or not there, and never altered."""

from __future__ import annotations

import hashlib
import os
import secrets
import sqlite3
import stat
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from swatch.library import disk
from swatch.terms.problems.studio import photo_changed, photo_unreadable

PHOTOS = "photos"
QUARANTINE = "quarantine"
_CHUNK = 1 << 20
_SUFFIXES = frozenset(
    [
        ".jpg",
        ".jpeg",
        ".png",
        ".tif",
        ".tiff",
        ".webp",
        ".heic",
        ".heif",
        ".avif",
        ".dng",
        ".cr2",
        ".cr3",
        ".nef",
        ".arw",
        ".orf",
        ".raf",
        ".rw2",
        ".pef",
        ".srw",
    ]
)


@dataclass(frozen=True, slots=True)
class Original:
    """A photo as it is stored; ``new`` where it was not stored before."""

    sha256: str
    suffix: str
    bytes: int
    path: Path
    new: bool


def path_of(folder: Path, sha256: str, suffix: str) -> Path:
    """Tell where an original is stored."""
    return folder / PHOTOS / sha256[:2] / f"{sha256}{suffix}"


def sha256_of(path: Path) -> str:
    """Hash a file."""
    digest = hashlib.sha256()
    with path.open("rb") as file:
        while chunk := file.read(_CHUNK):
            digest.update(chunk)
    return digest.hexdigest()


def store(folder: Path, photo: Path, suffix_of: dict[str, str] | None = None) -> Original:
    """Copy a photo into the studio: temporary file, flushed, renamed, its folder flushed.

    Parameters
    ----------
    folder : Path
        The studio's.
    photo : Path
        The original; it is only read.
    suffix_of : dict of str to str, optional
        Suffixes under which originals are stored already, by SHA-256.

    Raises
    ------
    StudioProblem
        ``photo-unreadable``, or ``photo-changed-while-kept``.
    OSError
        The studio's disk refused.
    """
    try:
        source = os.open(photo, os.O_RDONLY | getattr(os, "O_BINARY", 0))
    except OSError as error:
        raise photo_unreadable(str(photo), error.strerror or str(error)) from None
    try:
        before = os.fstat(source)
        if not stat.S_ISREG(before.st_mode):
            raise photo_unreadable(str(photo), "not a file")
        part = folder / PHOTOS / f"{secrets.token_hex(8)}{disk.TEMPORARY}"
        try:
            sha256, size = _copy(source, photo, part)
            after = os.fstat(source)
            if (after.st_size, after.st_mtime_ns) != (before.st_size, before.st_mtime_ns) or after.st_size != size:
                raise photo_changed(str(photo))
            suffix = (suffix_of or {}).get(sha256) or _suffix(photo)
            return _place(folder, part, sha256, suffix, size)
        finally:
            disk.remove(part)
    finally:
        os.close(source)


def sweep(folder: Path, sql: sqlite3.Connection) -> list[Path]:
    """Put what no record speaks of, and what was cut off while it was written, into quarantine.

    Only the holder of the writer's lock may do this: another's half-written photo would look the same.
    """
    moved = []
    for path in strays(folder, sql):
        disk.make_folder(folder / QUARANTINE)
        target, n = folder / QUARANTINE / path.name, 1
        while target.exists():
            n += 1
            target = folder / QUARANTINE / f"{path.stem}-{n}{path.suffix}"
        disk.rename(path, target)
        moved.append(target)
    if moved:
        disk.flush_folder(folder / QUARANTINE)
    return moved


def strays(folder: Path, sql: sqlite3.Connection) -> Iterator[Path]:
    """Files among the studio's own that no record speaks of, and those cut off while they were written."""
    known = {f"{sha}{suffix}" for sha, suffix in sql.execute("SELECT sha256, suffix FROM photo")}
    for top, folders, files in os.walk(folder / PHOTOS):
        folders.sort()
        for name in sorted(files):
            if name not in known or Path(top).name != name[:2]:
                yield Path(top) / name
    for place in (folder, folder / "backups"):
        if place.is_dir():
            yield from sorted(path for path in place.iterdir() if path.name.endswith(disk.TEMPORARY))


def _copy(source: int, photo: Path, part: Path) -> tuple[str, int]:
    digest, size = hashlib.sha256(), 0
    target = disk.make_new(part)
    try:
        while True:
            try:
                chunk = os.read(source, _CHUNK)
            except OSError as error:
                raise photo_unreadable(str(photo), error.strerror or str(error)) from None
            if not chunk:
                break
            digest.update(chunk)
            size += len(chunk)
            disk.write(target, chunk)
        disk.flush_file(target)
    finally:
        os.close(target)
    return digest.hexdigest(), size


def _place(folder: Path, part: Path, sha256: str, suffix: str, size: int) -> Original:
    final = path_of(folder, sha256, suffix)
    there = final.is_file()
    # A stored original that has been damaged since is healed by the good copy at hand.
    if not there or final.stat().st_size != size or sha256_of(final) != sha256:
        disk.make_folder(final.parent)
        disk.rename(part, final)
        disk.flush_folder(final.parent)
    return Original(sha256, suffix, size, final, new=not there)


def _suffix(photo: Path) -> str:
    suffix = photo.suffix.lower()
    return suffix if suffix in _SUFFIXES else ".bin"
