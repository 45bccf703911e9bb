"""Rows that speak of one thing must agree: with each other, and with what stands on record and is not said anew.

An empty cell agrees with anything.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence

from swatch.library.names import Names
from swatch.library.ware_rows import WareRow
from swatch.terms.layering import fold_name
from swatch.terms.problems.base import StudioProblem, Where
from swatch.terms.problems.studio import differs_from_record, rows_differ

Said = Sequence[tuple[WareRow, str | None]]
"""What each row says of one field."""


def at_row(problem: StudioProblem, row: WareRow) -> StudioProblem:
    """Place a problem at the row of the file that `row` came from."""
    return problem.at(Where(row=row.line))


def thing(row: WareRow) -> str:
    """What a row's zone is called in a sentence."""
    return " ".join(filter(None, (row.edition, row.ware, row.zone)))


def agreed(what: str, field: str, said: Said, *, empty: str | None = None) -> str | None:
    """Return the one value that is stated; None where none is.

    Raises
    ------
    StudioProblem
        ``rows-differ``, at the row that contradicts an earlier one.
    """
    stated: list[tuple[WareRow, str]] = [(row, value) for row, value in said if value not in (None, empty)]
    for row, value in stated[1:]:
        if fold_name(value) != fold_name(stated[0][1]):
            raise at_row(rows_differ(what, field, stated[0][1], value), row)
    return stated[0][1] if stated else None


def standing(what: str, field: str, said: Said, known: str | None, *, empty: str | None = None) -> str | None:
    """Hold what rows say against what is `known`, which other readings rest on; return what is then to be written.

    Raises
    ------
    StudioProblem
        ``differs-from-record``, at the row that says otherwise.
    """
    new = agreed(what, field, said, empty=empty)
    if known is None or known == empty:
        return new
    if new is not None and fold_name(new) != fold_name(known):
        row = next(row for row, value in said if value == new)
        raise at_row(differs_from_record(what, field, known, new), row)
    return known


def other_readings(names: Names, ware: int, rows: Collection[WareRow]) -> bool:
    """Tell whether a ware has current readings, none of them set aside, that `rows` do not say anew."""
    keys = {(fold_name(row.zone), row.stage, row.number) for row in rows}
    found = names.sql.execute(
        "SELECT zone.folded, stage, number FROM reading JOIN zone ON zone.id = zone_id "
        "WHERE ware_id = ? AND superseded_by IS NULL AND set_aside = 0",
        (ware,),
    )
    return any(key not in keys for key in found)


def name_of(names: Names, table: str, row: object) -> str | None:
    """Return the name of a row of ``body`` or ``lot``; None for no row."""
    if row is None:
        return None
    assert table in ("body", "lot")
    return str(names.sql.execute(f"SELECT name FROM {table} WHERE id = ?", (row,)).fetchone()[0])
