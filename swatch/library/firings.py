"""Runs of the kiln, and what the witness cones said on each shelf."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence

from swatch.library.file import RecordsFile
from swatch.library.materials import Tally
from swatch.library.names import Names, add_row, row_of, set_fields
from swatch.library.words import clean, clean_or_none, cone_text, named
from swatch.terms.editions import Counts
from swatch.terms.materials import Firing, WitnessCone

_COLUMNS = ("date", "cone_asked", "peak_c", "rate_c_per_h", "hold_min", "cone_reached", "cooling", "atmosphere")


def put_firings(file: RecordsFile, values: Sequence[Firing], given: frozenset[str]) -> Counts:
    """Add firings, or bring known ones up to date in the fields `given`; the name is the key."""
    with file.change("bring-in-firings") as sql:
        names, tally = Names(sql), Tally()
        for value in values:
            tally.count(*_put_firing(names, value, given))
        file.facts["n"] = tally.touched
    return tally.counts()


def put_witnesses(file: RecordsFile, values: Sequence[WitnessCone], given: frozenset[str]) -> Counts:
    """Add witness cones, or bring known ones up to date; firing and shelf are the key."""
    with file.change("bring-in-witnesses") as sql:
        names, tally = Names(sql), Tally()
        for value in values:
            tally.count(*_put_witness(names, value, given))
        file.facts["n"] = tally.touched
    return tally.counts()


def kiln_of(sql: sqlite3.Connection, firing: int | None) -> int | None:
    """Return the kiln of a firing, where it is known."""
    row = sql.execute("SELECT kiln_id FROM firing WHERE id = ?", (firing,)).fetchone()
    return row[0] if row else None


def _put_firing(names: Names, value: Firing, given: frozenset[str]) -> tuple[bool, bool]:
    sql = names.sql
    _, folded = named(value.name, "firing")
    new = names.find("firing", folded) is None
    row = names.of("firing", value.name)
    fields: dict[str, object] = {
        "date": clean_or_none(value.date),
        "cone_asked": cone_text(value.cone_asked),
        "peak_c": value.peak_c,
        "rate_c_per_h": value.rate_c_per_h,
        "hold_min": value.hold_min,
        "cone_reached": cone_text(value.cone_reached),
        "cooling": clean_or_none(value.cooling),
        "atmosphere": clean_or_none(value.atmosphere),
    }
    wanted = {column: fields[column] for column in _COLUMNS if new or column in given}
    if new or "note" in given:
        wanted["note"] = clean(value.note or "")
    if new or "kiln" in given:
        wanted["kiln_id"] = names.of_or_none("kiln", value.kiln)
    now = row_of(sql, "firing", row)
    changed = set_fields(sql, "firing", row, now, wanted)
    if "kiln_id" in wanted and wanted["kiln_id"] != now["kiln_id"]:
        _move_places(names, row)
    return new, changed


def _move_places(names: Names, firing: int) -> None:
    """Have the shelves a firing speaks of be shelves of its kiln, now that another is said to be its kiln."""
    sql = names.sql
    kiln = kiln_of(sql, firing)
    for table in ("ware_event", "witness"):
        rows = sql.execute(
            f"SELECT {table}.id, shelf, spot FROM {table} JOIN place ON place.id = place_id WHERE firing_id = ?",
            (firing,),
        ).fetchall()
        for row, shelf, spot in rows:
            sql.execute(f"UPDATE {table} SET place_id = ? WHERE id = ?", (names.place(kiln, shelf, spot), row))


def _put_witness(names: Names, value: WitnessCone, given: frozenset[str]) -> tuple[bool, bool]:
    sql = names.sql
    firing = names.of("firing", value.firing)
    place = names.place(kiln_of(sql, firing), value.shelf)
    reached = cone_text(value.cone_reached)
    found = sql.execute(
        "SELECT id, cone_reached FROM witness WHERE firing_id = ? AND place_id = ?", (firing, place)
    ).fetchone()
    if found is None:
        add_row(sql, "witness", {"firing_id": firing, "place_id": place, "cone_reached": reached})
        return True, True
    if "cone_reached" not in given:
        return False, False
    return False, set_fields(sql, "witness", found[0], {"cone_reached": found[1]}, {"cone_reached": reached})
