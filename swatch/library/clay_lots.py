"""The lot of clay that a piece was made of: of the ware as a whole, under the edition's body."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from swatch.library.agreeing import name_of, standing
from swatch.library.names import Names
from swatch.library.ware_rows import WareRow


def clay_lot_of(
    names: Names, edition: int | None, now: Mapping[str, object], kept: bool, rows: Sequence[WareRow]
) -> dict[str, object]:
    """What rows of one piece say of its clay lot; a known one stays where it is `kept` for other readings.

    Raises
    ------
    StudioProblem
        ``rows-differ`` or ``differs-from-record``.
    """
    said = [(row, row.clay_lot) for row in rows if "clay_lot" in row.given or (not now and row.clay_lot)]
    if not said:
        return {}
    known = name_of(names, "lot", now["body_lot_id"]) if kept and now else None
    body = None
    if edition is not None:
        body = names.sql.execute("SELECT body_id FROM edition WHERE id = ?", (edition,)).fetchone()[0]
    return {"body_lot_id": names.lot(standing(rows[0].ware, "clay_lot", said, known), body=body)}
