"""Names that were made because a row spoke of them, and of which nothing speaks any more: slips put right."""

from __future__ import annotations

import sqlite3

from swatch.library.names import Names, row_of

_NOTHING_SAID = (None, "", "in stock")
_TABLES = ("material", "body", "firing")


def drop_unused(names: Names) -> None:
    """Take away what rows of this transaction have left, where nothing else is known of it than its name."""
    for table, row in sorted(names.left):
        if table not in _TABLES:
            raise ValueError(f"{table} is never left")
        if _is_only_a_name(names.sql, table, row) and not _is_spoken_of(names.sql, table, row):
            names.sql.execute(f"DELETE FROM {table} WHERE id = ?", (row,))
    names.left.clear()


def _is_only_a_name(sql: sqlite3.Connection, table: str, row: int) -> bool:
    said = row_of(sql, table, row)
    return all(value in _NOTHING_SAID for field, value in said.items() if field not in ("id", "name", "folded"))


def _is_spoken_of(sql: sqlite3.Connection, table: str, row: int) -> bool:
    """Tell whether any other row refers to this one; whether it would go with it does not matter."""
    tables = [name for (name,) in sql.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")]
    for child in tables:
        for key in sql.execute(f'PRAGMA foreign_key_list("{child}")').fetchall():
            if key[2] == table and sql.execute(f'SELECT 1 FROM "{child}" WHERE "{key[3]}" = ?', (row,)).fetchone():
                return True
    return False
