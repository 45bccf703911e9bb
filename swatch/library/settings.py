"""What a studio says of itself: its name, and whether it is invented."""

from __future__ import annotations

import sqlite3

from swatch.library.file import RecordsFile
from swatch.library.words import clean

NAME = "name"
INVENTED = "invented"
"""Holds the note that says so, in a studio in which everything is invented."""

PUT = "INSERT INTO setting (name, value) VALUES (?, ?) ON CONFLICT (name) DO UPDATE SET value = excluded.value"


def read_setting(sql: sqlite3.Connection, name: str) -> str | None:
    """Value of a setting, None where it was never given."""
    row = sql.execute("SELECT value FROM setting WHERE name = ?", (name,)).fetchone()
    return None if row is None else str(row[0])


def put_settings(file: RecordsFile, values: dict[str, str]) -> None:
    """Write settings, as one named change."""
    with file.change("set-up-studio") as sql:
        for name, value in values.items():
            sql.execute(PUT, (name, clean(value)))
