"""How many pieces of an edition were made, fired, good and sold, day by day."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Sequence

from swatch.library.file import RecordsFile
from swatch.library.materials import Tally as Came
from swatch.library.names import Names, add_row, row_of, set_fields
from swatch.library.words import clean
from swatch.terms.editions import Counts, Tallied, Tally


def put_tallies(file: RecordsFile, values: Sequence[Tally], given: frozenset[str]) -> Counts:
    """Add counts, or bring known ones up to date; edition, day, what and firing are the key."""
    with file.change("bring-in-counts") as sql:
        names, came = Names(sql), Came()
        for value in values:
            edition, at = names.of("edition", value.edition), clean(value.at)
            firing = names.of_or_none("firing", value.firing)
            found = sql.execute(
                "SELECT id FROM tally WHERE edition_id = ? AND at = ? AND what = ? AND ifnull(firing_id, 0) = ?",
                (edition, at, value.what.value, firing or 0),
            ).fetchone()
            if found is None:
                fields = {"edition_id": edition, "at": at, "what": value.what.value, "firing_id": firing}
                add_row(sql, "tally", {**fields, "count": value.count})
                came.count(True, True)
            else:
                now = row_of(sql, "tally", found[0])
                came.count(False, set_fields(sql, "tally", found[0], now, {"count": value.count}))
        file.facts["n"] = came.touched
    return came.counts()


def read_tallies(sql: sqlite3.Connection) -> Iterator[Tally]:
    """Counts by edition and day."""
    rows = sql.execute(
        "SELECT edition.name, at, what, count, firing.name FROM tally JOIN edition ON edition.id = edition_id "
        "LEFT JOIN firing ON firing.id = firing_id ORDER BY edition.folded, at, what, ifnull(firing.folded, '')"
    )
    for edition, at, what, count, firing in rows:
        yield Tally(edition, at, Tallied(what), count, firing)
