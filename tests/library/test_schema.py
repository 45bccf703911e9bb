"""What every table of the records keeps to."""

from __future__ import annotations

import pytest

from swatch.library.migrations import expected_schema
from swatch.library.words import cone_of, cone_text, notices_json, notices_of
from swatch.terms.cone import Cone
from swatch.terms.problems import Notice, Where


@pytest.fixture
def tables(studio) -> list[str]:
    rows = studio.file.sql.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")
    return [name for (name,) in rows if not name.startswith("sqlite_")]


def test_every_table_is_strict_and_counts_its_ids_up(studio, tables):
    strict = {row[1]: row[5] for row in studio.file.sql.execute("PRAGMA table_list") if row[0] == "main"}
    for table in tables:
        assert strict[table] == 1, table
        if table != "migration":
            assert "id INTEGER PRIMARY KEY AUTOINCREMENT" in expected_schema()[table], table


def test_every_child_key_leads_an_index(studio, tables):
    sql = studio.file.sql
    for table in tables:
        leading = set()
        for _, index, _, _, partial in sql.execute(f"PRAGMA index_list({table})"):
            if not partial:
                leading.add(sql.execute(f"PRAGMA index_info({index})").fetchone()[2])
        for row in sql.execute(f"PRAGMA foreign_key_list({table})"):
            assert row[3] in leading, f"{table}.{row[3]}"


def test_settings_that_keep_what_was_acknowledged(studio):
    pragmas = {"journal_mode": "delete", "synchronous": 3, "foreign_keys": 1, "trusted_schema": 0}
    for name, value in pragmas.items():
        assert studio.file.sql.execute(f"PRAGMA {name}").fetchone()[0] == value, name


@pytest.mark.parametrize("position", [-21.0, -5.0, -4.5, 0.0, 0.5, 1.0, 5.5, 5.8, 5.123456, 6.0, 13.99, 14.0])
def test_any_cone_comes_back_to_the_very_same_place(position):
    assert cone_of(cone_text(Cone(position))) == Cone(position)
    assert cone_text(Cone(-5.0)) == "06"
    assert cone_text(None) is None
    assert cone_of(None) is None


def test_warnings_come_back():
    notices = (Notice("glare", {"share": 0.25, "what": "é\"'"}, Where(photo="p.jpg", zone="A")), Notice("x"))
    back = notices_of(notices_json(notices), "p.jpg")
    assert (back[0], back[1].code) == (notices[0], "x")
