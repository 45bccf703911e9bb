"""Editions with their regions, their measured pieces, and the material that went onto them."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence

from swatch.library.file import RecordsFile
from swatch.library.fire_events import Fired
from swatch.library.materials import Tally
from swatch.library.names import Names, add_row, region_of, row_of, set_fields
from swatch.library.unused import drop_unused
from swatch.library.ware_rows import Seen, WareRow, with_lines
from swatch.library.wares import put_rows
from swatch.library.words import clean_or_none, cone_text, named
from swatch.terms.buttons import ButtonReading
from swatch.terms.editions import Counts, EditionRegion, PieceReading, Role, Weighed, Weighing
from swatch.terms.layering import fold_name
from swatch.terms.problems.base import Where
from swatch.terms.problems.holding import weighing_reversed
from swatch.terms.problems.studio import rows_differ


def put_editions(
    file: RecordsFile, values: Sequence[EditionRegion], given: frozenset[str], lines: Sequence[int] = ()
) -> Counts:
    """Add regions of editions, or bring known ones up to date; edition and region are the key.

    ``lines`` has the row of the file each stands in, where they come from one: problems are placed there.
    """
    with file.change("bring-in-editions") as sql:
        names, tally = Names(sql), Tally()
        groups: dict[str, list[tuple[EditionRegion, int | None]]] = {}
        for value, line in with_lines(values, lines):
            groups.setdefault(fold_name(value.edition), []).append((value, line))
        for group in groups.values():
            changed = _put_edition(names, group, given)
            for value, _ in group:
                new, touched = _put_region(names, value, given)
                tally.count(new, touched or changed)
        drop_unused(names)
        file.facts["n"] = tally.touched
    return tally.counts()


def put_pieces(
    file: RecordsFile, values: Sequence[PieceReading], given: frozenset[str], lines: Sequence[int] = ()
) -> Counts:
    """Add readings of pieces, or bring known ones up to date; edition, piece, region and reading are the key.

    ``lines`` as in `put_editions`.
    """
    rows = [row_of_piece(value, given, line) for value, line in with_lines(values, lines)]
    with file.change("bring-in-pieces") as sql:
        tally = Tally()
        for outcome in put_rows(Names(sql), rows):
            tally.count(outcome.new, outcome.changed)
        file.facts["n"] = tally.touched
    return tally.counts()


def put_buttons(
    file: RecordsFile, values: Sequence[ButtonReading], given: frozenset[str], lines: Sequence[int] = ()
) -> Counts:
    """Add readings of buttons, or bring known ones up to date; button, stripe and reading are the key.

    ``lines`` as in `put_editions`.
    """
    rows = [row_of_button(value, given, line) for value, line in with_lines(values, lines)]
    with file.change("bring-in-buttons") as sql:
        tally = Tally()
        for outcome in put_rows(Names(sql), rows):
            tally.count(outcome.new, outcome.changed)
        file.facts["n"] = tally.touched
    return tally.counts()


def put_weighings(file: RecordsFile, values: Sequence[Weighing], given: frozenset[str]) -> Counts:
    """Add what putting on took, or bring known ones up to date; material and time are the key."""
    with file.change("bring-in-weighings") as sql:
        names, tally = Names(sql), Tally()
        for value in values:
            tally.count(*_put_weighing(names, value, given))
        file.facts["n"] = tally.touched
    return tally.counts()


def _put_edition(names: Names, group: Sequence[tuple[EditionRegion, int | None]], given: frozenset[str]) -> bool:
    """Write what the rows of one edition say of it as a whole."""
    values = [value for value, _ in group]
    _, folded = named(values[0].edition, "edition")
    new = names.find("edition", folded) is None
    row = names.of("edition", values[0].edition)
    wanted: dict[str, object] = {}
    for field in ("planned", "yield_share", "body", "cone", "tolerance"):
        if not new and field not in given:
            continue
        stated = [(getattr(value, field), line) for value, line in group if getattr(value, field) is not None]
        for each, line in stated[1:]:
            if each != stated[0][0] and not (field == "body" and fold_name(each) == fold_name(stated[0][0])):
                column = "yield" if field == "yield_share" else field
                problem = rows_differ(values[0].edition, column, str(stated[0][0]), str(each))
                raise problem.at(Where(row=line))
        value = stated[0][0] if stated else None
        if field == "body":
            wanted["body_id"] = names.of_or_none("body", value)
        else:
            wanted[field] = cone_text(value) if field == "cone" else value
    now = row_of(names.sql, "edition", row)
    names.leave("body", now["body_id"], wanted.get("body_id", now["body_id"]))
    return set_fields(names.sql, "edition", row, now, wanted)


def _put_region(names: Names, value: EditionRegion, given: frozenset[str]) -> tuple[bool, bool]:
    sql = names.sql
    edition = names.of("edition", value.edition)
    before = sql.execute("SELECT count(*) FROM region").fetchone()[0]
    row = region_of(sql, edition, value.region)
    new = sql.execute("SELECT count(*) FROM region").fetchone()[0] > before
    fields: dict[str, object] = {
        "region_kind": None if value.region_kind is None else value.region_kind.value,
        "area_dm2": value.area_dm2,
    }
    columns = {"region_kind": "kind", "area_dm2": "area_dm2"}
    wanted = {columns[field]: fields[field] for field in fields if new or field in given}
    changed = set_fields(sql, "region", row, row_of(sql, "region", row), wanted)
    if new or "layers" in given:
        changed |= _put_region_layers(names, row, value)
    return new, changed


def _put_region_layers(names: Names, region: int, value: EditionRegion) -> bool:
    sql = names.sql
    wanted = [(names.of("material", layer.material), layer.coats, int(layer.wiped)) for layer in value.layers]
    now = sql.execute(
        "SELECT material_id, coats, wiped FROM region_layer WHERE region_id = ? ORDER BY position", (region,)
    ).fetchall()
    if now == wanted:
        return False
    for material, _, _ in now:
        names.leave("material", material, None)
    sql.execute("DELETE FROM region_layer WHERE region_id = ?", (region,))
    sql.executemany(
        "INSERT INTO region_layer (region_id, position, material_id, coats, wiped) VALUES (?, ?, ?, ?, ?)",
        [(region, position, *layer) for position, layer in enumerate(wanted)],
    )
    return True


def row_of_piece(
    value: PieceReading, given: frozenset[str], line: int | None = None, seen: Seen | None = None
) -> WareRow:
    """Put a piece's reading as the wares take it."""
    return WareRow(
        kind="piece",
        ware=value.piece,
        zone=value.region,
        stage="fired",
        number=value.reading,
        lab=value.lab,
        covariance=value.covariance,
        given=given,
        edition=value.edition,
        lot=value.lot,
        clay_lot=value.clay_lot,
        fired=Fired(value.firing, clean_or_none(value.shelf) or None, clean_or_none(value.place) or None),
        session=value.session,
        role=value.role.value,
        seen=seen,
        line=line,
    )


def row_of_button(
    value: ButtonReading, given: frozenset[str], line: int | None = None, seen: Seen | None = None
) -> WareRow:
    """Put a button's reading as the wares take it."""
    said = given | {"role"} if "kept" in given else given
    return WareRow(
        kind="button",
        ware=value.button,
        zone=value.stripe,
        stage="fired",
        number=value.reading,
        lab=value.lab,
        covariance=value.covariance,
        given=frozenset(said),
        body=value.body,
        layers=value.layers,
        fired=Fired(value.firing, clean_or_none(value.shelf) or None),
        session=value.session,
        role=None if value.kept is None else (Role.APPROVED if value.kept else Role.PIECE).value,
        seen=seen,
        line=line,
    )


def _put_weighing(names: Names, value: Weighing, given: frozenset[str]) -> tuple[bool, bool]:
    sql = names.sql
    material = names.of("material", value.material)
    at, folded = named(value.at, "weighing")
    found = sql.execute(
        "SELECT id FROM application WHERE material_id = ? AND at_folded = ?", (material, folded)
    ).fetchone()
    new = found is None
    row = (
        found[0]
        if found
        else add_row(sql, "application", {"material_id": material, "at": at, "at_folded": folded})
    )
    now = row_of(sql, "application", row)
    lot = names.lot(value.lot, material=material)
    fields: dict[str, object] = {
        "lot": lot,
        "area_dm2": value.area_dm2,
        "pieces": value.pieces,
        "coats": value.coats,
        "method": clean_or_none(value.method),
        "weighed": None if value.weighed is None else value.weighed.value,
    }
    wanted = {("lot_id" if f == "lot" else f): fields[f] for f in fields if new or f in given}
    changed = set_fields(sql, "application", row, now, wanted)
    jar = _jar(sql, material, wanted.get("lot_id", now["lot_id"]))
    for side in ("before", "after"):
        if new or f"{side}_g" in given:
            grams = value.before_g if side == "before" else value.after_g
            changed |= _put_grams(sql, row, side, now[f"{side}_id"], jar, at, grams)
    _look_at_grams(sql, row)
    return new, changed


def _look_at_grams(sql: sqlite3.Connection, row: int) -> None:
    """Refuse a jar that got heavier or a piece that got lighter, whichever row said which half of it."""
    weighed, before, after = sql.execute(
        "SELECT weighed, before.gross_g, after.gross_g FROM application "
        "LEFT JOIN weighing AS before ON before.id = before_id "
        "LEFT JOIN weighing AS after ON after.id = after_id WHERE application.id = ?",
        (row,),
    ).fetchone()
    if before is None or after is None:
        return
    if (after < before) if weighed == Weighed.PIECE else (after > before):
        raise weighing_reversed(before, after, weighed or str(Weighed.JAR))


def _put_grams(
    sql: sqlite3.Connection, row: int, side: str, weighing: object, jar: int, at: str, grams: float | None
) -> bool:
    """Have one of an application's two weighings say `grams`, or be absent."""
    if weighing is not None:
        assert isinstance(weighing, int)
        if grams is None:
            sql.execute(f"UPDATE application SET {side}_id = NULL WHERE id = ?", (row,))
            sql.execute("DELETE FROM weighing WHERE id = ?", (weighing,))
            return True
        now = row_of(sql, "weighing", weighing)
        return set_fields(sql, "weighing", weighing, now, {"gross_g": float(grams), "jar_id": jar})
    if grams is None:
        return False
    made = add_row(sql, "weighing", {"jar_id": jar, "kind": side, "gross_g": float(grams), "at": at})
    sql.execute(f"UPDATE application SET {side}_id = ? WHERE id = ?", (made, row))
    return True


def _jar(sql: sqlite3.Connection, material: int, lot: object) -> int:
    """Find or make the jar without a name that stands for a material's lot, or for the material as a whole."""
    found = sql.execute(
        "SELECT id FROM jar WHERE material_id = ? AND folded = '' AND ifnull(lot_id, 0) = ?", (material, lot or 0)
    ).fetchone()
    if found:
        return int(found[0])
    return add_row(sql, "jar", {"material_id": material, "lot_id": lot})
