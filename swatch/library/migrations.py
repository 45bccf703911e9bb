"""The steps from an empty file to the records' present form, numbered in `user_version`.

A step is never changed once it has been published; a new one is added behind it. Bringing an older file up makes
a copy first and is one transaction, so a file is of one form or the next, never between.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from datetime import UTC, datetime
from functools import cache
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

from swatch.library import disk
from swatch.library.schema_stock import STOCK, STOCK_INDEXES
from swatch.library.schema_wares import WARES, WARES_INDEXES
from swatch.terms.problems.studio import no_studio, studio_damaged, studio_newer

APPLICATION_ID = 0x53574154
"""Stands in the file's header and tells a studio's records from any other SQLite file."""

_JOURNEY = """
CREATE TABLE migration (
    version INTEGER PRIMARY KEY,
    program TEXT NOT NULL,
    at TEXT NOT NULL
) STRICT
"""

_BACK = """
CREATE TABLE back (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    ware_id INTEGER NOT NULL UNIQUE REFERENCES ware ON DELETE CASCADE,
    photo_id INTEGER NOT NULL REFERENCES photo ON DELETE RESTRICT,
    polygon TEXT NOT NULL
) STRICT
"""


def _first(sql: sqlite3.Connection) -> None:
    for statement in _statements(_JOURNEY + ";" + STOCK + WARES):
        sql.execute(statement)
    for table, column in STOCK_INDEXES + WARES_INDEXES:
        sql.execute(f"CREATE INDEX {table}_{column} ON {table} ({column})")


def _tolerances(sql: sqlite3.Connection) -> None:
    """How far a load may be from the approved look, ΔE00."""
    sql.execute("ALTER TABLE edition ADD COLUMN tolerance REAL")


def _backs(sql: sqlite3.Connection) -> None:
    """Where the back of a tile is to be seen; its outline is in the photo, as seen."""
    sql.execute(_BACK)
    sql.execute("CREATE INDEX back_photo_id ON back (photo_id)")


def _counts_of_editions(sql: sqlite3.Connection) -> None:
    """What was made, fired, good and sold of an edition; and what stood on the scales, jar or piece."""
    sql.execute(
        "CREATE TABLE tally (id INTEGER PRIMARY KEY AUTOINCREMENT, "
        "edition_id INTEGER NOT NULL REFERENCES edition ON DELETE CASCADE, "
        "firing_id INTEGER REFERENCES firing ON DELETE RESTRICT, at TEXT NOT NULL, "
        "what TEXT NOT NULL CHECK (what IN ('made', 'fired', 'good', 'sold')), "
        "count INTEGER NOT NULL CHECK (count >= 0)) STRICT"
    )
    sql.execute("CREATE UNIQUE INDEX tally_key ON tally (edition_id, at, what, ifnull(firing_id, 0))")
    sql.execute("CREATE INDEX tally_firing_id ON tally (firing_id)")
    sql.execute("ALTER TABLE application ADD COLUMN weighed TEXT CHECK (weighed IN ('jar', 'piece'))")


def _clay_lots(sql: sqlite3.Connection) -> None:
    """The lot of clay that a piece was made of."""
    sql.execute("ALTER TABLE ware ADD COLUMN body_lot_id INTEGER REFERENCES lot")
    sql.execute("CREATE INDEX ware_body_lot_id ON ware (body_lot_id)")


MIGRATIONS: tuple[Callable[[sqlite3.Connection], None], ...] = (
    _first,
    _tolerances,
    _backs,
    _counts_of_editions,
    _clay_lots,
)
NEWEST = len(MIGRATIONS)


def program_version() -> str:
    """This program's name and version, as it is left in what it writes."""
    try:
        return f"swatch {version('swatch')}"
    except PackageNotFoundError:
        return "swatch"


def version_of(sql: sqlite3.Connection, folder: Path) -> int:
    """Tell the form of the file.

    Raises
    ------
    StudioProblem
        ``no-studio``: the file is something else. ``studio-newer``: a later program wrote it; it is named.
        ``studio-damaged``: the file's head gainsays its own account of how it was made.
    """
    written, program = _last_written(sql)
    if sql.execute("PRAGMA application_id").fetchone()[0] != APPLICATION_ID:
        raise (
            no_studio(str(folder))
            if written is None
            else studio_damaged(str(folder), "its head is not a studio's")
        )
    found = int(sql.execute("PRAGMA user_version").fetchone()[0])
    if written is not None and found != written:
        raise studio_damaged(str(folder), f"form {found} stands in its head, form {written} in its records")
    if found > NEWEST:
        raise studio_newer(str(folder), found, NEWEST, program)
    return found


def check_schema(sql: sqlite3.Connection, folder: Path) -> None:
    """Look that a file of the newest form has the tables and indexes of that form.

    Raises
    ------
    StudioProblem
        ``studio-damaged``.
    """
    if schema_of(sql) != expected_schema():
        raise studio_damaged(str(folder), "its tables are not as they were made")


def bring_up(sql: sqlite3.Connection, folder: Path, found: int, backups: Path) -> None:
    """Take a file of form `found` to the newest, after a copy of it where it holds anything."""
    if found == NEWEST:
        return
    if found:
        disk.make_folder(backups)
        _copy(sql, backups / f"before-form-{NEWEST}.sqlite")
    sql.execute("PRAGMA foreign_keys = OFF")
    sql.execute("BEGIN EXCLUSIVE")
    try:
        for number, step in enumerate(MIGRATIONS[found:], found + 1):
            step(sql)
            row = (number, program_version(), datetime.now(UTC).isoformat(timespec="seconds"))
            sql.execute("INSERT INTO migration VALUES (?, ?, ?)", row)
        if broken := sql.execute("PRAGMA foreign_key_check").fetchone():
            raise studio_damaged(str(folder), f"foreign key of {broken[0]}")
        sql.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        sql.execute(f"PRAGMA user_version = {NEWEST}")
        sql.execute("COMMIT")
    except BaseException:
        sql.execute("ROLLBACK")
        raise
    finally:
        sql.execute("PRAGMA foreign_keys = ON")


@cache
def expected_schema() -> dict[str, str]:
    """Every table and index of the newest form, with the text that made it."""
    sql = sqlite3.connect(":memory:", isolation_level=None)
    try:
        for step in MIGRATIONS:
            step(sql)
        return schema_of(sql)
    finally:
        sql.close()


def schema_of(sql: sqlite3.Connection) -> dict[str, str]:
    """Every table, index, view and trigger of a file, with the text that made it."""
    rows = sql.execute("SELECT name, sql FROM main.sqlite_schema WHERE name NOT LIKE 'sqlite\\_%' ESCAPE '\\'")
    return {name: text or "" for name, text in rows}


def _statements(script: str) -> list[str]:
    """Split a script whose texts and comments hold no semicolon before a line's end."""
    found, part = [], ""
    for line in script.splitlines(keepends=True):
        part += line
        if sqlite3.complete_statement(part):
            if part.strip(" \n;"):
                found.append(part.strip().rstrip(";"))
            part = ""
    return found


def _copy(sql: sqlite3.Connection, path: Path) -> None:
    part = path.with_name(path.name + disk.TEMPORARY)
    disk.remove(part)
    copy = sqlite3.connect(part)
    try:
        sql.backup(copy)
    finally:
        copy.close()
    disk.rename(part, path)
    disk.flush_folder(path.parent)


def _last_written(sql: sqlite3.Connection) -> tuple[int | None, str]:
    """Tell the form last written by the records' own account, None where there is no such, and the program."""
    try:
        row = sql.execute("SELECT version, program FROM migration ORDER BY version DESC LIMIT 1").fetchone()
    except sqlite3.OperationalError as error:
        if not str(error).startswith(("no such table", "no such column")):
            raise
        row = None  # another's file, or a later form that keeps this elsewhere; its number still tells that
    return (int(row[0]), str(row[1])) if row else (None, "a later version")
