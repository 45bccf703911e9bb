"""Logs of firings: what the kiln's thermocouple showed, minute by minute."""

from __future__ import annotations

from collections.abc import Sequence

from swatch.library.file import RecordsFile
from swatch.library.names import Names
from swatch.library.words import named
from swatch.terms.editions import Counts
from swatch.terms.problems.studio import not_there


def put_firing_log(file: RecordsFile, firing: str, points: Sequence[tuple[float, float]]) -> Counts:
    """Keep the log of one firing, in place of the one it had; `points` are minutes since the start, and °C.

    Raises
    ------
    StudioProblem
        ``not-there``: no firing is called so. A log says nothing by itself.
    """
    with file.change("bring-in-firing-log", name=firing) as sql:
        row = Names(sql).find("firing", named(firing, "firing")[1])
        if row is None:
            raise not_there(firing)
        select = "SELECT at_min, celsius FROM firing_log WHERE firing_id = ? ORDER BY at_min, id"
        known = sql.execute(select, (row,)).fetchall()
        if known == list(points):
            return Counts(unchanged=len(points))
        sql.execute("DELETE FROM firing_log WHERE firing_id = ?", (row,))
        sql.executemany(
            "INSERT INTO firing_log (firing_id, at_min, celsius) VALUES (?, ?, ?)",
            [(row, minutes, celsius) for minutes, celsius in points],
        )
    return Counts(updated=len(points)) if known else Counts(added=len(points))
