"""Taking back what was done: every row a named change touches is noted by temporary triggers.

The notes are rows of one temporary table, so they belong to the same transaction as the change and vanish with
the connection. A note holds the row as it was; played back last first, the notes of a step are its undo, and the
triggers note that playing back in turn, which is the redo.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass, field
from graphlib import TopologicalSorter
from itertools import groupby
from operator import itemgetter
from typing import Any

from swatch.terms.problems.base import Fact

MOST_STEPS = 200
MOST_NOTES = 1_000_000
"""Beyond these the oldest steps are forgotten, so that a long session does not grow without end."""

_TO_WARE = {
    "zone": "ware_id",
    "ware_event": "ware_id",
    "reading": "zone_id",
    "layer": "zone_id",
    "look": "zone_id",
    "back": "ware_id",
}
"""How a row leads to its ware; what leads to a zone goes on from there."""
_READ_OF = {
    "body": ("name",),
    "firing": ("name", "cone_asked"),
    "place": ("shelf",),
    "session": ("name",),
    "lot": ("name",),
    "material": ("name",),
}
"""Columns of shared rows that stand in many tiles' readings."""
_MOST_ATTRIBUTED = 2_000

_ADDED, _REMOVED, _CHANGED = 0, 1, 2
_CHUNK = 2_000


@dataclass(frozen=True, slots=True)
class Step:
    """One named change that can be taken back or done again: its notes are `first` < seq ≤ `last`."""

    code: str
    facts: Mapping[str, Fact]
    first: int
    last: int
    tables: frozenset[str]


@dataclass
class UndoLog:
    """The steps of one session. Every method runs inside the caller's transaction unless it says otherwise."""

    sql: sqlite3.Connection
    done: list[Step] = field(default_factory=list)
    undone: list[Step] = field(default_factory=list)

    def __post_init__(self) -> None:
        rows = self.sql.execute("SELECT name FROM main.sqlite_schema WHERE type = 'table'").fetchall()
        self.tables = sorted(name for (name,) in rows if name != "migration" and not name.startswith("sqlite_"))
        self.columns = [self._columns(table) for table in self.tables]
        self.texts: dict[tuple[int, int], tuple[str, int]] = {}
        wide = ", ".join(f"c{k}" for k in range(max(map(len, self.columns))))
        self.sql.execute(f"CREATE TEMP TABLE note (seq INTEGER PRIMARY KEY, tab, op, {wide})")
        for number, (table, columns) in enumerate(zip(self.tables, self.columns)):
            for trigger in _triggers(number, table, columns):
                self.sql.execute(trigger)
            for op in (_ADDED, _REMOVED, _CHANGED):
                self.texts[number, op] = _put_back_text(table, columns, op)
        self.children_first = self._children_first()

    def mark(self) -> int:
        """Tell where the notes stand; those of the next change come behind it."""
        return int(self.sql.execute("SELECT ifnull(max(seq), 0) FROM temp.note").fetchone()[0])

    def step_since(self, code: str, facts: Mapping[str, Fact], mark: int) -> Step | None:
        """Gather what was noted since `mark` into a step; None where no row was touched."""
        last = self.mark()
        if last == mark:
            return None
        found = self.sql.execute("SELECT DISTINCT tab FROM temp.note WHERE seq > ?", (mark,))
        return Step(code, dict(facts), mark, last, frozenset(self.tables[tab] for (tab,) in found))

    def replay(self, step: Step) -> Step:
        """Put every row of `step` back as it was, last touched first; return the step that does it again."""
        self.sql.execute("PRAGMA defer_foreign_keys = ON")
        mark = self.mark()
        within = (step.first, step.last)
        ops = {op for (op,) in self.sql.execute("SELECT DISTINCT op FROM note WHERE seq > ? AND seq <= ?", within)}
        if len(ops) == 1 and ops != {_CHANGED}:
            # Only rows that go, or only rows that come: a table at a time is many times faster.
            for tab in self.children_first if ops == {_ADDED} else reversed(self.children_first):
                self._replay(step, f"AND tab = {tab}")
        else:
            self._replay(step, "")
        back = self.step_since(step.code, step.facts, mark)
        if back is None:
            raise RuntimeError(f"the step {step.code} had nothing to put back")
        return back

    def _replay(self, step: Step, which: str) -> None:
        upper = step.last
        while upper > step.first:
            notes = self.sql.execute(
                f"SELECT * FROM temp.note WHERE seq > ? AND seq <= ? {which} ORDER BY seq DESC LIMIT {_CHUNK}",
                (step.first, upper),
            ).fetchall()
            for (tab, op), run in groupby(notes, key=itemgetter(1, 2)):
                self._put_back(tab, op, [note[3:] for note in run])
            upper = notes[-1][0] - 1 if notes else step.first

    def tiles_of(self, step: Step) -> frozenset[str] | None:
        """Name the wares whose readings a step may have altered; None where they are too many to tell.

        What is only added alters nothing by itself: whatever speaks of it has been touched too. The same goes for
        what is removed, since nothing can speak of it any longer.
        """
        if step.last - step.first > _MOST_ATTRIBUTED:
            return None
        names: set[str] = set()
        wares: set[int] = set()
        zones: set[int] = set()
        former: dict[int, int] = {}
        for tab in range(len(self.tables)):
            table, columns = self.tables[tab], self.columns[tab]
            notes = self.sql.execute(
                "SELECT * FROM temp.note WHERE seq > ? AND seq <= ? AND tab = ?", (step.first, step.last, tab)
            ).fetchall()
            for _seq, _tab, op, *values in notes:
                old = dict(zip(columns, values)) if op != _ADDED else {}
                if table in _READ_OF and op == _CHANGED and not self._reads_alike(table, old):
                    return None
                if table == "ware":
                    wares.add(values[0])
                    names |= {old["name"]} if old else set()
                elif table in _TO_WARE:
                    to = {old[_TO_WARE[table]]} if old else set()
                    to |= {row[0] for row in self._now(table, _TO_WARE[table], values[0])}
                    (wares if _TO_WARE[table] == "ware_id" else zones).update(to)
                    if table == "zone" and old:
                        former[values[0]] = old["ware_id"]
        for zone in zones:
            wares.update(row[0] for row in self._now("zone", "ware_id", zone))
            wares |= {former[zone]} if zone in former else set()
        for ware in wares:
            names.update(row[0] for row in self._now("ware", "name", ware))
        return frozenset(names)

    def _now(self, table: str, columns: str, row: int) -> list[tuple[Any, ...]]:
        return self.sql.execute(f'SELECT {columns} FROM main."{table}" WHERE id = ?', (row,)).fetchall()

    def _reads_alike(self, table: str, old: Mapping[str, object]) -> bool:
        columns = _READ_OF[table]
        return self._now(table, ", ".join(columns), int(str(old["id"]))) == [tuple(old[one] for one in columns)]

    def keep(self, step: Step) -> None:
        """Remember a new step after its transaction; what had been undone can no longer be done again."""
        for old in self.undone:
            self.forget(old)
        self.undone.clear()
        self.done.append(step)
        notes = sum(old.last - old.first for old in self.done)
        while len(self.done) > 1 and (len(self.done) > MOST_STEPS or notes > MOST_NOTES):
            oldest = self.done.pop(0)
            notes -= oldest.last - oldest.first
            self.forget(oldest)

    def forget(self, step: Step) -> None:
        """Drop a step's notes."""
        self.sql.execute("DELETE FROM temp.note WHERE seq > ? AND seq <= ?", (step.first, step.last))

    def clear(self) -> None:
        """Forget everything: the rows are no longer as they were noted."""
        self.done.clear()
        self.undone.clear()
        self.sql.execute("DELETE FROM temp.note")

    def _columns(self, table: str) -> list[str]:
        return [row[1] for row in self.sql.execute(f'PRAGMA main.table_info("{table}")')]

    def _put_back(self, tab: int, op: int, rows: list[tuple[object, ...]]) -> None:
        text, n = self.texts[tab, op]
        if op == _CHANGED:
            self.sql.executemany(text, [(*row[1:n], row[0]) for row in rows])
        else:
            self.sql.executemany(text, [row[:n] for row in rows])

    def _children_first(self) -> list[int]:
        """Order the tables so that none comes before one that speaks of it."""
        parents = {
            table: {row[2] for row in self.sql.execute(f'PRAGMA main.foreign_key_list("{table}")')} - {table}
            for table in self.tables
        }
        order = list(TopologicalSorter(parents).static_order())
        return [self.tables.index(table) for table in reversed(order)]


def _put_back_text(table: str, columns: list[str], op: int) -> tuple[str, int]:
    """Write the statement that takes one note back, and tell how many of the note's values it needs."""
    if op == _ADDED:
        return f'DELETE FROM main."{table}" WHERE id = ?', 1
    if op == _REMOVED:
        marks = ", ".join("?" * len(columns))
        return f'INSERT INTO main."{table}" ({_listed(columns)}) VALUES ({marks})', len(columns)
    sets = ", ".join(f'"{column}" = ?' for column in columns[1:])
    return f'UPDATE main."{table}" SET {sets} WHERE id = ?', len(columns)


def _triggers(number: int, table: str, columns: list[str]) -> list[str]:
    if columns[0] != "id":
        raise RuntimeError(f"the table {table} has no id in front")
    places = ", ".join(f"c{k}" for k in range(len(columns)))
    old = ", ".join(f'old."{column}"' for column in columns)
    differs = " OR ".join(f'old."{column}" IS NOT new."{column}"' for column in columns)

    def trigger(event: str, when: str, op: int, where: str, what: str) -> str:
        return (
            f'CREATE TEMP TRIGGER "{table}_{op}" AFTER {event} ON main."{table}" {when} BEGIN '
            f"INSERT INTO note (tab, op, {where}) VALUES ({number}, {op}, {what}); END"
        )

    return [
        trigger("INSERT", "", _ADDED, "c0", "new.id"),
        trigger("DELETE", "", _REMOVED, places, old),
        trigger("UPDATE", f"WHEN {differs}", _CHANGED, places, old),
    ]


def _listed(columns: list[str]) -> str:
    return ", ".join(f'"{column}"' for column in columns)
