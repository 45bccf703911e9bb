"""The whole studio in one file, and back: the records, every original, and a list that hashes each of them."""

from __future__ import annotations

import hashlib
import json
import os
import re
import secrets
import shutil
import sqlite3
import zipfile
from contextlib import closing
from pathlib import Path
from typing import IO

from swatch.library import disk, seal
from swatch.library.file import FILE_NAME, RecordsFile, connect, mended
from swatch.library.migrations import program_version, version_of
from swatch.library.originals import PHOTOS, path_of, sha256_of
from swatch.library.verify import damage_in
from swatch.terms.problems.base import StudioProblem
from swatch.terms.problems.studio import (
    not_a_backup,
    photo_damaged,
    photo_missing,
    restore_needs_empty,
    studio_damaged,
)
from swatch.terms.report import Report, silent

LIST_NAME = "contents.json"
_PHOTO = re.compile(rf"{PHOTOS}/[0-9a-f]{{2}}/[0-9a-f]{{64}}\.[a-z0-9]{{2,5}}")
_CHUNK = 1 << 20
_MOST_LISTED = 64 << 20
_MOST_PACKED = 1000


def save(file: RecordsFile, out: Path, report: Report = silent) -> int:
    """Write a backup of an open studio; works while another process writes. Returns its size in bytes.

    Raises
    ------
    StudioProblem
        ``studio-damaged``; ``photo-missing`` or ``photo-damaged``: an original cannot be put into it as it was
        kept; ``disk-full``.
    """
    part = out.with_name(f"{out.name}.{secrets.token_hex(4)}{disk.TEMPORARY}")
    copy = out.with_name(f"{out.name}.{secrets.token_hex(4)}.records{disk.TEMPORARY}")
    with mended(out.parent):
        try:
            with closing(sqlite3.connect(copy)) as target:
                file.sql.backup(target)
                found = damage_in(target)
                if found:  # a backup of damage would only hide it
                    raise studio_damaged(str(file.folder), found[0])
                photos = target.execute("SELECT sha256, suffix, name FROM photo ORDER BY id").fetchall()
            _write(part, file.folder, copy, photos, report)
            disk.rename(part, out)
            disk.flush_folder(out.parent)
        finally:
            disk.remove(part)
            disk.remove(copy)
    return out.stat().st_size


def restore(source: Path, into: Path, report: Report = silent) -> None:
    """Make a studio from a backup in a folder that is absent or empty; it is there whole or not at all.

    Raises
    ------
    StudioProblem
        ``not-a-backup``: the file is something else, damaged, or holds more than it lists.
        ``restore-needs-empty-folder``; ``disk-full``.
    """
    if into.exists() and (not into.is_dir() or any(into.iterdir())):
        raise restore_needs_empty(str(into))
    part = into.with_name(f"{into.name}.{secrets.token_hex(4)}{disk.TEMPORARY}")
    with mended(into.parent):
        into.parent.mkdir(parents=True, exist_ok=True)
        try:
            part.mkdir()
            try:
                with zipfile.ZipFile(source) as archive:
                    _unpack(archive, str(source), part, report)
            except (zipfile.BadZipFile, EOFError, NotImplementedError, RuntimeError, ValueError) as error:
                raise not_a_backup(str(source), str(error)) from error
            _check_records(part, str(source))
            seal.put(part)  # what was unpacked was held against the backup's own hashes a moment ago
            if into.exists():
                into.rmdir()
            disk.rename(part, into)
            disk.flush_folder(into.parent)
        finally:
            shutil.rmtree(part, ignore_errors=True)


def _write(part: Path, folder: Path, records: Path, photos: list[tuple[str, str, str]], report: Report) -> None:
    contents = {FILE_NAME: sha256_of(records)}
    with part.open("wb") as raw:
        # Photos are packed already: stored as they are, they cost no time.
        with zipfile.ZipFile(raw, "w", zipfile.ZIP_STORED) as archive:
            archive.write(records, FILE_NAME, zipfile.ZIP_DEFLATED)
            for k, (sha256, suffix, name) in enumerate(photos):
                report(k, len(photos), "photos")
                path = path_of(folder, sha256, suffix)
                inside = f"{PHOTOS}/{sha256[:2]}/{path.name}"
                if not path.is_file():
                    raise photo_missing(name, sha256)
                info = zipfile.ZipInfo(inside)
                with path.open("rb") as source, archive.open(info, "w", force_zip64=True) as target:
                    if _pour(source, target) != sha256:
                        raise photo_damaged(name, sha256)
                contents[inside] = sha256
            said = {"program": program_version(), "files": contents}
            archive.writestr(LIST_NAME, json.dumps(said), zipfile.ZIP_DEFLATED)
        raw.flush()
        disk.flush_file(raw.fileno())
    report(len(photos), len(photos), "photos")


def _unpack(archive: zipfile.ZipFile, name: str, part: Path, report: Report) -> None:
    listed = _contents(archive, name)
    for k, (inside, sha256) in enumerate(listed.items()):
        report(k, len(listed), "photos")
        target = part / inside
        target.parent.mkdir(parents=True, exist_ok=True)
        with archive.open(inside) as source, target.open("xb") as file:
            found = _pour(source, file)
            file.flush()
            disk.flush_file(file.fileno())
        if found != sha256:
            raise not_a_backup(name, f"{inside} is damaged")
    for folder, _, _ in os.walk(part):
        disk.flush_folder(Path(folder))
    report(len(listed), len(listed), "photos")


def _contents(archive: zipfile.ZipFile, name: str) -> dict[str, str]:
    """Read the list; only names a backup can hold are let through, each once."""
    names = archive.namelist()
    if LIST_NAME not in names or archive.getinfo(LIST_NAME).file_size > _MOST_LISTED:
        raise not_a_backup(name, f"it has no {LIST_NAME}")
    said = json.loads(archive.read(LIST_NAME))
    files = said.get("files") if isinstance(said, dict) else None
    if not isinstance(files, dict) or FILE_NAME not in files:
        raise not_a_backup(name, f"its {LIST_NAME} does not name {FILE_NAME}")
    for inside, sha256 in files.items():
        if not isinstance(sha256, str) or not (inside == FILE_NAME or _PHOTO.fullmatch(inside)):
            raise not_a_backup(name, f"it lists {inside!r}")
    if sorted(names) != sorted([*files, LIST_NAME]):
        raise not_a_backup(name, "it holds other things than it lists")
    for info in archive.infolist():
        # A few bytes that would unpack to fill the disk are no backup of ours.
        if info.file_size > _MOST_PACKED * max(info.compress_size, 1024):
            raise not_a_backup(name, f"{info.filename} would unpack to {info.file_size} bytes")
    return {str(inside): str(sha256) for inside, sha256 in files.items()}


def _check_records(part: Path, name: str) -> None:
    with closing(connect(part / FILE_NAME, "ro")) as sql:
        try:
            version_of(sql, part)
            found = sql.execute("PRAGMA integrity_check(1)").fetchone()[0]
        except (sqlite3.DatabaseError, StudioProblem) as error:
            if isinstance(error, StudioProblem) and error.code == "studio-newer":
                raise
            raise not_a_backup(name, str(error)) from error
        if found != "ok":
            raise not_a_backup(name, str(found))


def _pour(source: IO[bytes], target: IO[bytes]) -> str:
    digest = hashlib.sha256()
    while chunk := source.read(_CHUNK):
        digest.update(chunk)
        target.write(chunk)
    return digest.hexdigest()
