"""Looking for damage in a studio: what SQLite can tell, what it cannot, and the originals."""

from __future__ import annotations

import sqlite3
from pathlib import Path

from swatch.library import seal
from swatch.library.file import RecordsFile, check_size
from swatch.library.lock import is_held
from swatch.library.migrations import expected_schema, schema_of
from swatch.library.originals import path_of, sha256_of, strays
from swatch.library.words import cone_of
from swatch.terms.problems.base import StudioProblem
from swatch.terms.problems.studio import photo_damaged, photo_missing, stray_file, studio_damaged
from swatch.terms.report import Report, silent

_CONES = (
    ("material", "cone_from"),
    ("material", "cone_to"),
    ("material", "food_label_cone"),
    ("firing", "cone_asked"),
    ("firing", "cone_reached"),
    ("witness", "cone_reached"),
    ("ware_event", "cone"),
    ("edition", "cone"),
    ("board", "cone"),
)


def find_damage(file: RecordsFile, *, deep: bool = True, report: Report = silent) -> list[StudioProblem]:
    """Check the records and the originals.

    Parameters
    ----------
    file : RecordsFile
    deep : bool
        Read every original and hold it against its hash; otherwise only its presence and size.

    Returns
    -------
    list of StudioProblem
        ``studio-damaged``, ``photo-missing``, ``photo-damaged``, ``stray-file``; none where all is well.
    """
    found: list[StudioProblem] = []
    with file.reading() as sql:
        try:
            check_size(sql, file.folder)
            seal.check(file.folder)
        except StudioProblem as problem:
            found.append(problem)
        found += [studio_damaged(str(file.folder), what) for what in damage_in(sql)]
        if not found:
            found += _originals(file.folder, sql, deep, file.writes, report)
    return found


def damage_in(sql: sqlite3.Connection) -> list[str]:
    """Say what is damaged in the records themselves; empty where nothing is."""
    try:
        found = [str(row[0]) for row in sql.execute("PRAGMA integrity_check(20)") if row[0] != "ok"]
        if found:
            return found
        rows = sql.execute("PRAGMA foreign_key_check").fetchall()
        found += [f"{table} {row} speaks of a {parent} that is not there" for table, row, parent, _ in rows]
        expected, schema = expected_schema(), schema_of(sql)
        found += [f"{name} is not as it was made" for name in expected if schema.get(name) != expected[name]]
        found += [f"{name} does not belong to the records" for name in schema if name not in expected]
        return found or _values(sql)
    except sqlite3.DatabaseError as error:
        return [str(error)]
    except UnicodeDecodeError:
        return ["they hold text that is none"]


def _values(sql: sqlite3.Connection) -> list[str]:
    found = []
    for table, column in _CONES:
        for row, text in sql.execute(f"SELECT id, {column} FROM {table} WHERE {column} IS NOT NULL"):
            try:
                cone_of(text)
            except (StudioProblem, ValueError):
                found.append(f"{table} {row}: {column} is no cone")
    for table in ("reading", "target"):
        rows = sql.execute(
            f"SELECT id FROM {table} WHERE L NOT BETWEEN -20 AND 200 OR abs(a) > 300 OR abs(b) > 300"
        )
        found += [f"{table} {row}: no such colour" for (row,) in rows]
    return found


def _originals(
    folder: Path, sql: sqlite3.Connection, deep: bool, writes: bool, report: Report
) -> list[StudioProblem]:
    found = []
    photos = sql.execute("SELECT sha256, suffix, name, bytes FROM photo ORDER BY id").fetchall()
    for k, (sha256, suffix, name, size) in enumerate(photos):
        report(k, len(photos), "photos")
        path = path_of(folder, sha256, suffix)
        if not path.is_file():
            found.append(photo_missing(name, sha256))
        elif path.stat().st_size != size or (deep and sha256_of(path) != sha256):
            found.append(photo_damaged(name, sha256))
    # The half-written photo of a process that writes this moment is no stray.
    if writes or not is_held(folder):
        found += [stray_file(str(path)) for path in strays(folder, sql)]
    return found
