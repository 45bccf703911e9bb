"""What stands on the shelves: materials with their raw colour and what is left, and bare bodies."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from datetime import UTC, datetime

from swatch.library.file import RecordsFile
from swatch.library.names import Names, add_row, row_of, set_fields
from swatch.library.words import clean_or_none, cone_text, named
from swatch.terms.colour import Lab
from swatch.terms.editions import Counts
from swatch.terms.layering import fold_name
from swatch.terms.materials import BareBody, Material, Status
from swatch.terms.problems.studio import name_taken, not_there

_COLUMNS = (
    "kind",
    "status",
    "cone_from",
    "cone_to",
    "food_label",
    "food_label_cone",
    "density_g_per_ml",
    "lead_days",
)


def put_materials(file: RecordsFile, values: Sequence[Material], given: frozenset[str]) -> Counts:
    """Add materials, or bring known ones up to date in the fields `given`; the name is the key."""
    with file.change("bring-in-materials") as sql:
        names, tally = Names(sql), Tally()
        for value in values:
            tally.count(*_put_material(names, value, given))
        file.facts["n"] = tally.touched
    return tally.counts()


def rename_material(file: RecordsFile, name: str, new: str) -> None:
    """Call a material otherwise; everything that speaks of it follows.

    Raises
    ------
    StudioProblem
        ``not-there``, ``name-taken`` or ``no-name``.
    """
    with file.change("rename-material", name=name, new=new) as sql:
        _rename(sql, name, new)


def edit_material(file: RecordsFile, name: str, value: Material, given: frozenset[str]) -> None:
    """Write down anew what a material is, in the fields `given`, and its name where `value` has another.

    Raises
    ------
    StudioProblem
        ``not-there``, ``name-taken`` or ``no-name``; nothing is changed then.
    """
    with file.change("edit-material", name=name) as sql:
        _rename(sql, name, value.name)
        _put_material(Names(sql), value, given)


def _rename(sql: sqlite3.Connection, name: str, new: str) -> None:
    row = _known(sql, name)
    written, folded = named(new, "material")
    other = Names(sql).find("material", folded)
    if other not in (None, row):
        raise name_taken(written)
    set_fields(sql, "material", row, row_of(sql, "material", row), {"name": written, "folded": folded})


def set_status(file: RecordsFile, name: str, status: Status) -> None:
    """Say whether a material can be had."""
    with file.change("set-status", name=name, status=status.value) as sql:
        row = _known(sql, name)
        set_fields(sql, "material", row, row_of(sql, "material", row), {"status": status.value})


def put_bodies(file: RecordsFile, values: Sequence[BareBody], given: frozenset[str]) -> Counts:
    """Add bare bodies, or bring known ones up to date; body and cone are the key."""
    with file.change("bring-in-bodies") as sql:
        names, tally = Names(sql), Tally()
        for value in values:
            tally.count(*_put_body(names, value, given))
        file.facts["n"] = tally.touched
    return tally.counts()


class Tally:
    """What bringing rows in has done so far."""

    def __init__(self) -> None:
        self.added = self.updated = self.unchanged = 0

    def count(self, new: bool, changed: bool) -> None:
        """Count one row."""
        if new:
            self.added += 1
        elif changed:
            self.updated += 1
        else:
            self.unchanged += 1

    @property
    def touched(self) -> int:
        """Rows added or updated."""
        return self.added + self.updated

    def counts(self) -> Counts:
        """Return the result."""
        return Counts(self.added, self.updated, self.unchanged)


def left_of(sql: sqlite3.Connection) -> dict[int, float]:
    """Return the grams of each material as last counted: its jars' latest stocktakes together, without tare."""
    return dict(
        sql.execute(
            "SELECT jar.material_id, sum(weighing.gross_g - jar.tare_g) FROM weighing JOIN jar ON jar.id = jar_id "
            "WHERE weighing.id IN (SELECT max(id) FROM weighing WHERE kind = 'stocktake' AND jar_id IS NOT NULL "
            "GROUP BY jar_id) GROUP BY jar.material_id"
        )
    )


def _known(sql: sqlite3.Connection, name: str) -> int:
    row = Names(sql).find("material", fold_name(name))
    if row is None:
        raise not_there(name)
    return row


def _put_material(names: Names, value: Material, given: frozenset[str]) -> tuple[bool, bool]:
    sql = names.sql
    _, folded = named(value.name, "material")
    new = names.find("material", folded) is None
    row = names.of("material", value.name)
    fields: dict[str, object] = {
        "kind": None if value.kind is None else value.kind.value,
        "status": value.status.value,
        "cone_from": cone_text(value.cone_from),
        "cone_to": cone_text(value.cone_to),
        "food_label": None if value.food_label is None else int(value.food_label),
        "food_label_cone": cone_text(value.food_label_cone),
        "density_g_per_ml": value.density_g_per_ml,
        "lead_days": value.lead_days,
    }
    wanted = {column: fields[column] for column in _COLUMNS if new or column in given}
    changed = set_fields(sql, "material", row, row_of(sql, "material", row), wanted)
    if new or "left_g" in given:
        changed |= _set_left(sql, row, value.left_g)
    if new or given & {"raw", "raw_state"}:
        changed |= _set_raw(sql, row, value, new, given)
    return new, changed


def _set_left(sql: sqlite3.Connection, material: int, left_g: float | None) -> bool:
    """Note what was counted as a stocktake of the jar that stands for the material as a whole."""
    jars = sql.execute("SELECT id FROM jar WHERE material_id = ?", (material,)).fetchall()
    now = left_of(sql).get(material) if jars else None
    if now == left_g:
        return False
    if left_g is None:
        sql.execute(
            "DELETE FROM weighing WHERE kind = 'stocktake' AND jar_id IN "
            "(SELECT id FROM jar WHERE material_id = ?)",
            (material,),
        )
        return True
    found = sql.execute(
        "SELECT id FROM jar WHERE material_id = ? AND folded = '' AND lot_id IS NULL", (material,)
    ).fetchone()
    loose = found[0] if found else add_row(sql, "jar", {"material_id": material})
    # Jars of their own keep what was counted in them; the rest of what is stated is in the loose one.
    own = sql.execute(
        "SELECT ifnull(sum(w.gross_g - jar.tare_g), 0) FROM weighing AS w JOIN jar ON jar.id = w.jar_id "
        "WHERE w.id IN (SELECT max(id) FROM weighing WHERE kind = 'stocktake' GROUP BY jar_id) "
        "AND material_id = ? AND jar.id <> ?",
        (material, loose),
    ).fetchone()[0]
    at = datetime.now(UTC).isoformat(timespec="seconds")
    row = (loose, left_g - own, at)
    sql.execute("INSERT INTO weighing (jar_id, kind, gross_g, at) VALUES (?, 'stocktake', ?, ?)", row)
    return True


def _set_raw(sql: sqlite3.Connection, material: int, value: Material, new: bool, given: frozenset[str]) -> bool:
    """Keep the raw colour as a reading of a smear of the material."""
    found = sql.execute(
        "SELECT reading.id, ware.id, L, a, b, state FROM ware JOIN zone ON ware_id = ware.id "
        "JOIN reading ON zone_id = zone.id WHERE ware.kind = 'smear' AND material_id = ? AND stage = 'raw' "
        "AND number = 1 AND superseded_by IS NULL",
        (material,),
    ).fetchone()
    raw = value.raw if new or "raw" in given else (Lab(*found[2:5]) if found else None)
    state = clean_or_none(value.raw_state) if new or "raw_state" in given else (found[5] if found else None)
    if found:
        if raw is None:
            sql.execute("DELETE FROM ware WHERE id = ?", (found[1],))
            return True
        now: dict[str, object] = dict(zip(("L", "a", "b", "state"), found[2:]))
        return set_fields(sql, "reading", found[0], now, {"L": raw.L, "a": raw.a, "b": raw.b, "state": state})
    if raw is None:
        return False
    ware = add_row(sql, "ware", {"kind": "smear", "name": "", "folded": "", "material_id": material})
    zone = add_row(sql, "zone", {"ware_id": ware, "name": "", "folded": ""})
    add_row(sql, "reading", {"zone_id": zone, "stage": "raw", "state": state, "L": raw.L, "a": raw.a, "b": raw.b})
    return True


def _put_body(names: Names, value: BareBody, given: frozenset[str]) -> tuple[bool, bool]:
    sql = names.sql
    body, cone = names.of("body", value.body), cone_text(value.cone)
    found = sql.execute(
        "SELECT ware.id, zone.id, reading.id, L, a, b FROM ware JOIN zone ON zone.ware_id = ware.id "
        "LEFT JOIN reading ON zone_id = zone.id AND superseded_by IS NULL "
        "WHERE ware.kind = 'body' AND ware.folded = ? AND ware.body_id = ?",
        (cone, body),
    ).fetchone()
    if found is None:
        ware = add_row(sql, "ware", {"kind": "body", "name": cone, "folded": cone, "body_id": body})
        add_row(sql, "ware_event", {"ware_id": ware, "position": 1, "kind": "fire", "cone": cone})
        zone = add_row(sql, "zone", {"ware_id": ware, "name": "", "folded": ""})
        _read_body(sql, ware, zone, value.lab)
        return True, True
    if "lab" not in given:
        return False, False
    ware, zone, reading = found[:3]
    if reading is None:
        _read_body(sql, ware, zone, value.lab)
        return False, value.lab is not None
    if value.lab is None:
        sql.execute("DELETE FROM reading WHERE id = ?", (reading,))
        return False, True
    now: dict[str, object] = dict(zip("Lab", found[3:]))
    return False, set_fields(sql, "reading", reading, now, dict(zip("Lab", value.lab)))


def _read_body(sql: sqlite3.Connection, ware: int, zone: int, lab: Lab | None) -> None:
    if lab is not None:
        event = sql.execute("SELECT id FROM ware_event WHERE ware_id = ?", (ware,)).fetchone()[0]
        fields = {"zone_id": zone, "event_id": event, "stage": "fired", "L": lab.L, "a": lab.a, "b": lab.b}
        add_row(sql, "reading", fields)
