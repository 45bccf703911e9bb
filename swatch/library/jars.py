"""Jars: what each holds, of which lot, when it was opened, and whether it is locked for an edition."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Sequence
from datetime import UTC, datetime

from swatch.library.file import RecordsFile
from swatch.library.materials import Tally
from swatch.library.names import Names, add_row, place_name, row_of, set_fields
from swatch.library.words import clean_or_none
from swatch.terms.editions import Counts
from swatch.terms.layering import fold_name
from swatch.terms.materials import Jar
from swatch.terms.problems.holding import no_such_jar

_LAST_COUNT = (
    "SELECT jar_id, gross_g FROM weighing WHERE id IN "
    "(SELECT max(id) FROM weighing WHERE kind = 'stocktake' AND jar_id IS NOT NULL GROUP BY jar_id)"
)


def put_jars(file: RecordsFile, values: Sequence[Jar], given: frozenset[str]) -> Counts:
    """Add jars, or bring known ones up to date; material, jar and lot are the key."""
    with file.change("bring-in-jars") as sql:
        names, tally = Names(sql), Tally()
        for value in values:
            tally.count(*_put_jar(names, value, given))
        file.facts["n"] = tally.touched
    return tally.counts()


def lock_jar(file: RecordsFile, material: str, locked: bool, jar: str = "", lot: str | None = None) -> None:
    """Keep a jar for an edition, or let it go.

    Raises
    ------
    StudioProblem
        ``no-such-jar``.
    """
    with file.change("lock-jar" if locked else "unlock-jar", name=material) as sql:
        row = sql.execute(
            "SELECT jar.id FROM jar JOIN material ON material.id = jar.material_id LEFT JOIN lot "
            "ON lot.id = lot_id WHERE material.folded = ? AND jar.folded = ? AND ifnull(lot.folded, '') = ?",
            (fold_name(material), fold_name(jar), fold_name(lot or "")),
        ).fetchone()
        if row is None:
            raise no_such_jar(material)
        sql.execute("UPDATE jar SET locked = ? WHERE id = ?", (int(locked), row[0]))


def read_jars(sql: sqlite3.Connection) -> Iterator[Jar]:
    """Jars by material, name and lot; not those known only by what was taken of them."""
    rows = sql.execute(
        f"SELECT material.name, jar.name, lot.name, gross_g - tare_g, tare_g, opened, locked FROM jar "
        f"JOIN material ON material.id = jar.material_id LEFT JOIN lot ON lot.id = lot_id "
        f"LEFT JOIN ({_LAST_COUNT}) ON jar_id = jar.id "
        "WHERE gross_g IS NOT NULL OR jar.folded <> '' OR opened IS NOT NULL OR locked "
        "ORDER BY material.folded, jar.folded, ifnull(lot.folded, '')"
    )
    for material, name, lot, left, tare, opened, locked in rows:
        yield Jar(material, name, lot, left, tare, opened, bool(locked))


def locked_of(sql: sqlite3.Connection) -> dict[int, float]:
    """Grams of each material that are locked."""
    return dict(
        sql.execute(
            f"SELECT material_id, sum(gross_g - tare_g) FROM jar JOIN ({_LAST_COUNT}) ON jar_id = jar.id "
            "WHERE locked GROUP BY material_id"
        )
    )


def _put_jar(names: Names, value: Jar, given: frozenset[str]) -> tuple[bool, bool]:
    sql = names.sql
    material = names.of("material", value.material)
    written, folded = place_name(value.jar)
    lot = names.lot(value.lot, material=material)
    found = sql.execute(
        "SELECT id FROM jar WHERE material_id = ? AND folded = ? AND ifnull(lot_id, 0) = ?",
        (material, folded, lot or 0),
    ).fetchone()
    known = {(one.jar, one.lot) for one in read_jars(sql) if fold_name(one.material) == fold_name(value.material)}
    new = found is None or not any(
        fold_name(jar) == folded and fold_name(of or "") == fold_name(value.lot or "") for jar, of in known
    )
    row = (
        found[0]
        if found
        else add_row(sql, "jar", {"material_id": material, "lot_id": lot, "name": written, "folded": folded})
    )
    now = row_of(sql, "jar", row)
    fields = {
        "tare_g": float(value.tare_g),
        "opened": clean_or_none(value.opened),
        "locked": int(value.locked),
    }
    wanted: dict[str, object] = {field: fields[field] for field in fields if new or field in given}
    changed = set_fields(sql, "jar", row, now, wanted)
    if new or "left_g" in given:
        tare = float(str(wanted.get("tare_g", now["tare_g"])))
        changed |= _count(sql, row, value.left_g, tare)
    return new, changed


def _count(sql: sqlite3.Connection, jar: int, left_g: float | None, tare_g: float) -> bool:
    """Note a stocktake of one jar, where it says something else than the last one."""
    last = sql.execute(
        "SELECT gross_g FROM weighing WHERE kind = 'stocktake' AND jar_id = ? ORDER BY id DESC LIMIT 1", (jar,)
    ).fetchone()
    if left_g is None:
        if last is not None:
            sql.execute("DELETE FROM weighing WHERE kind = 'stocktake' AND jar_id = ?", (jar,))
        return last is not None
    gross = left_g + tare_g
    if last is not None and abs(last[0] - gross) < 1e-9:
        return False
    at = datetime.now(UTC).isoformat(timespec="seconds")
    sql.execute("INSERT INTO weighing (jar_id, kind, gross_g, at) VALUES (?, 'stocktake', ?, ?)", (jar, gross, at))
    return True
