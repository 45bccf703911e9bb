"""Things that are called by a name: found by it, made where they are not there yet."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Mapping
from math import isclose

from swatch.library.words import clean, named
from swatch.terms.layering import fold_name

_NAMED = ("material", "body", "kiln", "firing", "session", "card", "edition", "form")


class Names:
    """The named things of the records within one transaction; each is looked up once.

    ``left`` are rows, by table, that something no longer speaks of; see `swatch.library.unused`.
    """

    def __init__(self, sql: sqlite3.Connection) -> None:
        self.sql = sql
        self.left: set[tuple[str, int]] = set()
        self._known: dict[tuple[str | int | None, ...], int] = {}
        self._firings: dict[int, tuple[int | None, str | None]] = {}

    def of(self, table: str, name: str) -> int:
        """Find or make the row of `table` called `name`."""
        key = (table, name)
        if key not in self._known:
            written, folded = named(name, table)
            found = self.find(table, folded)
            if found is None:
                found = add_row(self.sql, table, {"name": written, "folded": folded})
            self._known[key] = found
        return self._known[key]

    def of_or_none(self, table: str, name: str | None) -> int | None:
        """The same for a name that may be absent."""
        return None if name is None else self.of(table, name)

    def find(self, table: str, folded: str) -> int | None:
        """Find the row of `table` by its folded name."""
        if table not in _NAMED:
            raise ValueError(f"{table} has no names")
        row = self.sql.execute(f"SELECT id FROM {table} WHERE folded = ?", (folded,)).fetchone()
        return None if row is None else int(row[0])

    def leave(self, table: str, now: object, new: object) -> None:
        """Note that something speaks of row `new` of `table` from here on and no longer of row `now`."""
        if now is not None and now != new:
            assert isinstance(now, int)
            self.left.add((table, now))

    def firing_facts(self, firing: int | None) -> tuple[int | None, str | None]:
        """Return the kiln of a firing and the cone it was asked for, where they are known."""
        if firing is None:
            return None, None
        if firing not in self._firings:
            row = self.sql.execute("SELECT kiln_id, cone_asked FROM firing WHERE id = ?", (firing,)).fetchone()
            self._firings[firing] = (row[0], row[1])
        return self._firings[firing]

    def lot(self, name: str | None, *, material: int | None = None, body: int | None = None) -> int | None:
        """Find or make a lot, of a material, of a body or of neither."""
        if name is None:
            return None
        key = ("lot", name, material, body)
        if key not in self._known:
            written, folded = named(name, "lot")
            row = self.sql.execute(
                "SELECT id FROM lot WHERE folded = ? AND ifnull(material_id, 0) = ? AND ifnull(body_id, 0) = ?",
                (folded, material or 0, body or 0),
            ).fetchone()
            fields = {"name": written, "folded": folded, "material_id": material, "body_id": body}
            self._known[key] = int(row[0]) if row else add_row(self.sql, "lot", fields)
        return self._known[key]

    def place(self, kiln: int | None, shelf: str | None, spot: str | None = None) -> int | None:
        """Find or make a place of a kiln; None where neither shelf nor spot is said."""
        if shelf is None and spot is None:
            return None
        shelf, spot = clean(shelf or "").strip(), clean(spot or "").strip()
        key = ("place", kiln, shelf, spot)
        if key not in self._known:
            row = self.sql.execute(
                "SELECT id FROM place WHERE shelf_folded = ? AND spot_folded = ? AND ifnull(kiln_id, 0) = ?",
                (fold_name(shelf), fold_name(spot), kiln or 0),
            ).fetchone()
            fields = {
                "kiln_id": kiln,
                "shelf": shelf,
                "shelf_folded": fold_name(shelf),
                "spot": spot,
                "spot_folded": fold_name(spot),
            }
            self._known[key] = int(row[0]) if row else add_row(self.sql, "place", fields)
        return self._known[key]


def region_of(sql: sqlite3.Connection, edition: int, name: str) -> int:
    """Find or make a region of an edition's pieces."""
    written, folded = place_name(name)
    found = sql.execute("SELECT id FROM region WHERE edition_id = ? AND folded = ?", (edition, folded)).fetchone()
    if found:
        return int(found[0])
    return add_row(sql, "region", {"edition_id": edition, "name": written, "folded": folded})


def place_name(text: str) -> tuple[str, str]:
    """A name that may be empty, as a tile's only zone is, as it is written and as it is compared."""
    name = " ".join(clean(text).split())
    return name, fold_name(name)


def add_row(sql: sqlite3.Connection, table: str, fields: Mapping[str, object]) -> int:
    """Add a row and return its id."""
    columns, marks = ", ".join(f'"{column}"' for column in fields), ", ".join("?" * len(fields))
    row = sql.execute(f"INSERT INTO {table} ({columns}) VALUES ({marks})", tuple(fields.values())).lastrowid
    if row is None:
        raise RuntimeError("nothing was added")
    return row


def unlike(now: dict[str, object], numbers: Iterable[tuple[str, float | None]]) -> dict[str, object]:
    """Leave out the numbers that are those on record but for the rounding of an exported table."""
    kept = {name: value for name, value in now.items() if isinstance(value, float)}
    return {n: v for n, v in numbers if v is None or n not in kept or not isclose(v, kept[n], abs_tol=1e-4)}


def set_fields(
    sql: sqlite3.Connection, table: str, row: int, now: Mapping[str, object], new: Mapping[str, object]
) -> bool:
    """Write the fields of `new` that differ from `now`; tell whether any did."""
    changed = {column: value for column, value in new.items() if not _same(now[column], value)}
    if changed:
        sets = ", ".join(f'"{column}" = ?' for column in changed)
        sql.execute(f"UPDATE {table} SET {sets} WHERE id = ?", (*changed.values(), row))
    return bool(changed)


def row_of(sql: sqlite3.Connection, table: str, row: int) -> dict[str, object]:
    """Return one row by its columns."""
    cursor = sql.execute(f"SELECT * FROM {table} WHERE id = ?", (row,))
    return dict(zip((column[0] for column in cursor.description), cursor.fetchone()))


def _same(one: object, other: object) -> bool:
    return one == other and (one is None) == (other is None)
