"""Measured tiles: brought in from tables, set aside, taken out."""

from __future__ import annotations

from collections.abc import Sequence

from swatch.library.boards import leave_slots
from swatch.library.file import RecordsFile
from swatch.library.fire_events import Fired
from swatch.library.materials import Tally
from swatch.library.names import Names
from swatch.library.ware_rows import Seen, WareRow, with_lines
from swatch.library.wares import put_rows
from swatch.library.words import clean_or_none, cone_text
from swatch.terms.editions import Counts
from swatch.terms.evidence import Stage, ZoneReading


def put_readings(
    file: RecordsFile, values: Sequence[ZoneReading], given: frozenset[str], lines: Sequence[int] = ()
) -> Counts:
    """Add readings, or bring known ones up to date; tile, zone, stage and reading are the key.

    ``lines`` has the row of the file each stands in, where they come from one: problems are placed there.
    """
    rows = [row_of_reading(value, given, line=line) for value, line in with_lines(values, lines)]
    with file.change("bring-in-readings") as sql:
        tally = Tally()
        for outcome in put_rows(Names(sql), rows):
            tally.count(outcome.new, outcome.changed)
        file.facts["n"] = tally.touched
    return tally.counts()


def set_aside(file: RecordsFile, readings: Sequence[int], *, aside: bool = True) -> None:
    """Leave readings out of the evidence, or take them back into it; they stay in the records."""
    with file.change("set-aside" if aside else "take-back", n=len(readings)) as sql:
        sql.executemany(
            "UPDATE reading SET set_aside = ? WHERE id = ?", [(int(aside), reading) for reading in readings]
        )


def remove_tiles(file: RecordsFile, wares: Sequence[int]) -> None:
    """Take tiles out of the records with everything that is theirs; the photos' originals stay."""
    with file.change("remove-tiles", n=len(wares)) as sql:
        leave_slots(sql, wares)
        sql.executemany("DELETE FROM ware WHERE id = ? AND kind IN ('tile', 'chip')", [(ware,) for ware in wares])


def row_of_reading(
    value: ZoneReading, given: frozenset[str], seen: Seen | None = None, line: int | None = None
) -> WareRow:
    """Put a tile's reading as the wares take it. A maker's chart is a chip, not a tile of the studio's."""
    return WareRow(
        kind="chip" if value.stage is Stage.MAKER else "tile",
        ware=value.tile,
        zone=value.zone,
        stage=value.stage.value,
        number=value.reading,
        lab=value.lab,
        covariance=value.covariance,
        given=given,
        body=value.body,
        layers=value.layers,
        method=value.method,
        lot=value.lot,
        fired=Fired(value.firing, clean_or_none(value.shelf) or None, None, cone_text(value.cone), value.refires),
        session=value.session,
        sheen=None if value.sheen is None else value.sheen.value,
        faults=value.faults,
        seen=seen,
        line=line,
    )
