"""Whatever was done can be taken back and done again, row for row."""

from __future__ import annotations

import random
import sqlite3
import string

import pytest
from rows_of_every_table import ALL, every

from swatch.library import undo as undo_module
from swatch.library.file import FILE_NAME
from swatch.library.studio import Studio

Dump = dict[str, list[tuple[object, ...]]]


def dump(studio: Studio) -> Dump:
    """Every row of every table, without where the ids stand: an undone id is never used again."""
    sql = studio.file.sql
    named = sql.execute("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT GLOB 'sqlite_*'")
    tables = [name for (name,) in named.fetchall()]
    return {table: sql.execute(f'SELECT * FROM "{table}" ORDER BY 1').fetchall() for table in tables}


class AnyChange:
    """One random change of rows of any table, as the schema allows: added, changed, removed."""

    def __init__(self, studio: Studio, rng: random.Random) -> None:
        self.studio, self.rng, self.sql = studio, rng, studio.file.sql
        self.sql.execute("PRAGMA synchronous = OFF")  # rows are looked at here, not the disk
        names = [n for (n,) in self.sql.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")]
        self.tables = [n for n in names if n != "migration" and not n.startswith("sqlite_")]
        self.columns = {t: self.sql.execute(f'PRAGMA table_info("{t}")').fetchall()[1:] for t in self.tables}
        self.parents = {
            t: {row[3]: row[2] for row in self.sql.execute(f'PRAGMA foreign_key_list("{t}")')} for t in self.tables
        }

    def make(self) -> None:
        with self.studio.change("anything") as sql:
            for _ in range(self.rng.randint(1, 12)):
                table = self.rng.choice(self.tables)
                step = self.rng.choices((self._add, self._alter, self._remove), (6, 3, 1))[0]
                sql.execute("SAVEPOINT one")
                try:
                    step(table)
                except sqlite3.IntegrityError:
                    # Not every row that can be dreamt up may stand; the others of this change still do.
                    sql.execute("ROLLBACK TO one")
                sql.execute("RELEASE one")

    def every_table_has_rows(self) -> bool:
        return all(self.sql.execute(f'SELECT 1 FROM "{table}" LIMIT 1').fetchone() for table in self.tables)

    def _value(self, table: str, column: str, kind: str, needed: bool) -> object:
        rng = self.rng
        if parent := self.parents[table].get(column):
            ids = [i for (i,) in self.sql.execute(f'SELECT id FROM "{parent}"')]
            return rng.choice(ids) if ids and (needed or rng.random() < 0.7) else None
        if column in ("LL", "La", "Lb", "aa", "ab", "bb"):
            return 0.1 + rng.random() / 3
        if not needed and rng.random() < 0.3:
            return None
        choices = {
            ("material", "kind"): ("glaze", "slip"), ("material", "status"): ("in stock", "used up"),
            ("ware", "kind"): ("tile", "piece", "body"), ("ware", "role"): ("approved", "spare"),
            ("ware_event", "kind"): ("fire", "wipe"), ("region", "kind"): ("lip", "foot"),
            ("zone", "relief"): ("raised", "recess"), ("reading", "stage"): ("fired", "raw"),
            ("reading", "state"): ("wet", "dry"), ("look", "sheen"): ("gloss", "matt"),
            ("tally", "what"): ("made", "fired"), ("application", "weighed"): ("jar", "piece"),
            ("weighing", "kind"): ("stocktake", "before"), ("shot", "verdict"): ("good", "usable"),
        }  # fmt: skip
        if found := choices.get((table, column)):
            return rng.choice(found)
        if column == "sha256":
            return "".join(rng.choices("0123456789abcdef", k=64))
        if kind == "INTEGER":
            return rng.choice((0, 1, 1, 2, 3))
        if kind == "REAL":
            return rng.choice((0.1 + 0.2, 1e-300, 0.5, 2.0, float(rng.random())))
        return "".join(rng.choices(string.ascii_letters + "'\"%;é½ \n", k=rng.randint(1, 6)))

    def _fields(self, table: str) -> dict[str, object]:
        fields = {c[1]: self._value(table, c[1], c[2], bool(c[3])) for c in self.columns[table]}
        if table == "weighing" and fields["jar_id"] is not None:
            fields["ware_id"] = None  # of a jar or of a ware, never of both
        return fields

    def _add(self, table: str) -> None:
        fields = self._fields(table)
        names, marks = ", ".join(f'"{n}"' for n in fields), ", ".join("?" * len(fields))
        self.sql.execute(f'INSERT INTO "{table}" ({names}) VALUES ({marks})', tuple(fields.values()))

    def _some(self, table: str) -> int | None:
        ids = [i for (i,) in self.sql.execute(f'SELECT id FROM "{table}"')]
        return self.rng.choice(ids) if ids else None

    def _alter(self, table: str) -> None:
        fields = self._fields(table)
        some = self.rng.sample(sorted(fields), self.rng.randint(1, len(fields)))
        sets = ", ".join(f'"{name}" = ?' for name in some)
        self.sql.execute(
            f'UPDATE "{table}" SET {sets} WHERE id = ?', (*(fields[n] for n in some), self._some(table))
        )

    def _remove(self, table: str) -> None:
        self.sql.execute(f'DELETE FROM "{table}" WHERE id = ?', (self._some(table),))


@pytest.mark.parametrize("seed", range(4))
def test_undo_of_any_fifty_changes_and_redo_give_the_same_rows(studio, seed):
    rng = random.Random(seed)
    change = AnyChange(studio, rng)
    for made in range(300):  # something must be there to be changed and removed
        change.make()
        if made >= 60 and change.every_table_has_rows():
            break
    states = [dump(studio)]
    steps = 0
    while steps < 50:
        change.make()
        if studio.touched:
            states.append(dump(studio))
            steps += 1
    used = {table for state in states for table, rows in state.items() if rows}
    assert used == {*change.tables, "migration"}
    for state in reversed(states[:-1]):
        studio.undo()
        assert dump(studio) == state
    for state in states[1:]:
        studio.redo()
        assert dump(studio) == state
    at = len(states) - 1
    for _ in range(60):
        back = at == len(states) - 1 or (at > 0 and rng.random() < 0.5)
        (studio.undo if back else studio.redo)()
        at += -1 if back else 1
        assert dump(studio) == states[at]
    assert studio.file.sql.execute("PRAGMA foreign_key_check").fetchone() is None
    assert studio.file.sql.execute("PRAGMA integrity_check").fetchone() == ("ok",)


def test_an_undone_id_is_never_used_again(studio):
    with studio.change("anything") as sql:
        first = sql.execute("INSERT INTO kiln (name, folded) VALUES ('a', 'a')").lastrowid
    studio.undo()
    with studio.change("anything") as sql:
        second = sql.execute("INSERT INTO kiln (name, folded) VALUES ('b', 'b')").lastrowid
    assert second > first


def test_a_change_that_fails_leaves_nothing_and_the_steps_before_it_stand(studio):
    with studio.change("first") as sql:
        sql.execute("INSERT INTO kiln (name, folded) VALUES ('a', 'a')")
    before = dump(studio)
    with pytest.raises(sqlite3.IntegrityError), studio.change("second") as sql:
        sql.executemany("INSERT INTO kiln (name, folded) VALUES (?, ?)", [("b", "b"), ("b", "b")])
    assert dump(studio) == before
    assert studio.undo_name == ("first", {})
    assert studio.undo() == frozenset({"kiln"})
    assert studio.redo_name == ("first", {})
    assert studio.undo() == frozenset()


def test_a_new_change_ends_what_could_be_done_again(studio):
    for name in "ab":
        with studio.change("add", name=name) as sql:
            sql.execute("INSERT INTO kiln (name, folded) VALUES (?, ?)", (name, name))
    studio.undo()
    with studio.change("add", name="c") as sql:
        sql.execute("INSERT INTO kiln (name, folded) VALUES ('c', 'c')")
    assert studio.redo_name is None
    assert studio.undo_name == ("add", {"name": "c"})
    assert studio.file.sql.execute("SELECT count(*) FROM temp.note").fetchone() == (2,)


def test_a_change_inside_a_change_is_refused(studio):
    with studio.change("outer"):
        with pytest.raises(RuntimeError, match="inside another"), studio.change("inner"):
            pass
        with pytest.raises(RuntimeError):
            studio.undo()
    with studio.change("after") as sql:
        sql.execute("INSERT INTO kiln (name, folded) VALUES ('a', 'a')")
    assert studio.undo_name == ("after", {})


def test_undo_is_forgotten_when_another_process_has_written(studio):
    with studio.change("ours") as sql:
        sql.execute("INSERT INTO kiln (name, folded) VALUES ('a', 'a')")
    other = sqlite3.connect(studio.folder / FILE_NAME)
    other.execute("UPDATE kiln SET note = 'theirs'")
    other.commit()
    other.close()
    assert studio.undo_name is None
    assert studio.undo() == frozenset()
    with studio.change("ours again") as sql:
        sql.execute("UPDATE kiln SET note = 'ours'")
    studio.undo()
    assert studio.file.sql.execute("SELECT note FROM kiln").fetchone() == ("theirs",)


def test_listeners_hear_which_tables_were_touched(studio):
    heard: list[frozenset[str]] = []
    studio.watch(heard.append)
    with studio.change("add") as sql:
        sql.execute("INSERT INTO kiln (name, folded) VALUES ('a', 'a')")
        sql.execute("INSERT INTO body (name, folded) VALUES ('a', 'a')")
    with studio.change("nothing") as sql:
        sql.execute("UPDATE kiln SET note = ''")
    studio.undo()
    studio.redo()
    assert heard == [frozenset({"kiln", "body"})] * 3


def test_a_long_session_forgets_its_oldest_steps(studio, monkeypatch):
    monkeypatch.setattr(undo_module, "MOST_STEPS", 3)
    for name in "abcde":
        with studio.change("add", name=name) as sql:
            sql.execute("INSERT INTO kiln (name, folded) VALUES (?, ?)", (name, name))
    while studio.undo():
        pass
    assert [row[0] for row in studio.file.sql.execute("SELECT name FROM kiln")] == ["a", "b"]
    assert studio.file.sql.execute("SELECT count(*) FROM temp.note").fetchone() == (3,)


def test_tables_brought_in_are_taken_back_and_brought_in_again(studio):
    states = [dump(studio)]
    for put, rows in ALL:
        getattr(studio, put)(rows, every(type(rows[0])))
        states.append(dump(studio))
    for state in reversed(states[:-1]):
        studio.undo()
        assert dump(studio) == state
    for state in states[1:]:
        studio.redo()
        assert dump(studio) == state


def test_a_tile_taken_out_comes_back_whole(studio):
    for put, rows in ALL:
        getattr(studio, put)(rows, every(type(rows[0])))
    before = dump(studio)
    studio.remove_tiles([tile.id for tile in studio.tiles()])
    assert studio.tiles() == ()
    assert "reading" in studio.touched
    studio.undo()
    assert dump(studio) == before
