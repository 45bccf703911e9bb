"""Only what a change touched is read anew, and that gives what reading everything gives."""

import pytest
from small_studio import FIELDS, READINGS, make_studio, reading

from swatch.library.studio import Studio
from swatch.terms.evidence import Sheen, Stage
from swatch.terms.materials import Firing, Status


@pytest.fixture
def studio(tmp_path):
    with Studio.open(make_studio(tmp_path / "studio")) as made:
        yield made


def whole(steps):
    while True:
        try:
            next(steps)
        except StopIteration as end:
            return end.value


def changed(one, **said):
    values = {name: getattr(one, name) for name in one.__slots__}
    return one.__class__(**{**values, **said})


SHEEN = frozenset({"sheen"})


def test_reading_in_steps_gives_the_same(studio):
    assert whole(studio.evidence_in_steps()) == studio.evidence()


def test_a_reading_given_up_half_way_leaves_the_records_free(studio):
    steps = studio.evidence_in_steps()
    next(steps)
    steps.close()
    studio.set_status("Moss", Status.DISCONTINUED)
    assert studio.evidence().materials[1].status is Status.DISCONTINUED


COMMANDS = {
    "sheen": (lambda s: s.put_readings([changed(READINGS[2], sheen=Sheen.MATT)], SHEEN), {"T2"}),
    "two tiles": (
        lambda s: s.put_readings([changed(r, faults=("ran",)) for r in READINGS], frozenset({"faults"})),
        None,
    ),
    "new tile": (lambda s: s.put_readings([reading("t15", "A", "Moss", (1.0, 2.0, 3.0))], FIELDS), {"t15"}),
    "new zone": (lambda s: s.put_readings([reading("T1", "0", "Amber", (1.0, 2.0, 3.0))], FIELDS), {"T1"}),
    "raw beside fired": (
        lambda s: s.put_readings(
            [reading("T3", "A", "Moss > Amber", (9, 2, 3), body="Dunbank", stage=Stage.RAW, sheen=None)], FIELDS
        ),
        {"T3"},
    ),
    "aside": (lambda s: s.set_aside([s.tiles_called("T2")[0].zones[0].readings[0].id]), {"T2"}),
    "removed": (lambda s: s.remove_tiles([s.tiles_called("T1")[0].id]), {"T1"}),
    "status": (lambda s: s.set_status("Moss", Status.DISCONTINUED), set()),
    "another firing": (lambda s: s.put_firings([Firing("F-2")], frozenset()), set()),
    "a date": (lambda s: s.put_firings([Firing("F-1", "2026-06-01")], frozenset({"date"})), set()),
    "new body": (
        lambda s: s.put_readings([changed(READINGS[2], body="Ferrow")], frozenset({"body"})),
        {"T2"},
    ),
}


@pytest.mark.parametrize("name", COMMANDS)
def test_what_a_change_touched_is_told_and_suffices(studio, name):
    command, tiles = COMMANDS[name]
    before = studio.evidence()
    for act in (lambda: command(studio), studio.undo, studio.redo):
        act()
        touched = studio.touched_tiles
        if tiles is not None:
            assert touched == tiles
        assert touched is not None
        after = studio.evidence_after(before, touched)
        assert after == studio.evidence()
        before = after
    studio.undo()


def test_a_name_that_stands_in_many_readings_asks_for_all(studio):
    studio.rename_material("Moss", "Mossy")
    assert studio.touched_tiles is None
    studio.undo()
    assert studio.touched_tiles is None


def test_what_touched_nothing_is_not_taken_for_many(studio):
    before = studio.evidence()
    studio.set_status("Moss", Status.IN_STOCK)
    touched = studio.touched_tiles
    assert touched is None or studio.evidence_after(before, touched) == before


def test_the_rows_an_undo_would_put_back_are_counted(studio):
    studio.set_status("Moss", Status.DISCONTINUED)
    assert (studio.undo_rows, studio.redo_rows) == (1, 0)
    studio.undo()
    assert studio.redo_rows == 1
