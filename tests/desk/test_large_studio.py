"""A studio too large for one turn of the event loop: nothing shown is ever of other records than it says."""

import weakref

import pytest
from PySide6.QtCore import QTimer
from small_studio import FIELDS, ToldWorkers, make_studio, reading

from swatch.desk import opening, slices
from swatch.desk.jobs import Jobs
from swatch.desk.matching import Matching
from swatch.desk.opening import OpenStudio
from swatch.desk.settings import Settings
from swatch.desk.slices import LetGo, OneATurn
from swatch.desk.tiles import Tiles
from swatch.desk.undoing import Undoing
from swatch.terms.colour import Lab
from swatch.terms.cone import Cone
from swatch.terms.evidence import Sheen
from swatch.terms.materials import Status


@pytest.fixture
def large(qtbot, tmp_path, monkeypatch):
    """Everything counts as large."""
    monkeypatch.setattr(opening, "FEW_READINGS", 0)
    monkeypatch.setattr(opening, "FEW_ROWS", 0)
    jobs = Jobs(workers=ToldWorkers())
    studio = OpenStudio(Settings(), jobs=jobs)
    tiles = Tiles(studio, jobs)
    with qtbot.waitSignal(studio.settled):
        assert studio.open(make_studio(tmp_path / "studio"))
        assert studio.studio is None
    yield studio, tiles, jobs
    jobs.close()
    studio.close()


def test_a_command_is_seen_once_the_records_are_read(large, qtbot):
    studio, tiles, _jobs = large
    tiles.choose("T2")
    with qtbot.waitSignal(studio.changed):
        tiles.set_sheen(tiles.chosen.zones[0], Sheen.MATT)
        assert studio.busy
    assert tiles.chosen.zones[0].reading.sheen is Sheen.MATT
    assert studio.evidence == studio.studio.evidence()
    assert not studio.busy


def test_commands_that_follow_each_other_are_all_seen(large, qtbot):
    studio, tiles, _jobs = large
    heard = []
    studio.changed.connect(lambda: heard.append(studio.evidence))
    with qtbot.waitSignal(studio.changed):
        studio.do(lambda s: s.put_readings([reading("T9", "A", "Moss", (1.0, 2.0, 3.0))], FIELDS))
        studio.do(lambda s: s.rename_material("Amber", "Ember"))
        studio.do(lambda s: s.put_readings([reading("T8", "A", "Ember", (1.0, 2.0, 3.0))], FIELDS))
    assert heard == [studio.studio.evidence()]
    assert {"T8", "T9"} <= {tile.tile for tile in tiles.all}
    assert "Ember" in tiles.choices.materials


def test_a_command_that_fails_leaves_the_reading_under_way(large, qtbot):
    studio, _tiles, _jobs = large
    studio.do(lambda s: s.rename_material("Amber", "Ember"))
    with qtbot.waitSignals([studio.failed, studio.changed]):
        studio.do(lambda s: s.rename_material("Moss", "Ember"))
    assert studio.evidence == studio.studio.evidence()


def test_undo_is_named_at_once_and_done_by_a_job(large, qtbot):
    studio, tiles, _jobs = large
    undoing = Undoing(studio, lambda code, _facts: code)
    before = studio.evidence
    with qtbot.waitSignal(studio.changed):
        studio.do(lambda s: s.put_readings([reading("T9", "A", "Moss", (1.0, 2.0, 3.0))], FIELDS))
        assert undoing.undo_name == "bring-in-readings"
    with qtbot.waitSignal(studio.changed):
        undoing.undo()
        assert studio.busy
        with qtbot.waitSignal(studio.failed):
            assert studio.do(lambda s: s.set_status("Moss", Status.DISCONTINUED)) is None
    assert studio.evidence == before
    assert (undoing.undo_name, undoing.redo_name) == ("", "bring-in-readings")
    with qtbot.waitSignal(studio.changed):
        undoing.redo()
    assert "T9" in {tile.tile for tile in tiles.all}


def test_an_answer_is_gone_as_soon_as_the_records_are_others(large, qtbot):
    studio, _tiles, jobs = large
    matching = Matching(studio, jobs)
    matching.want_colour(Lab(50.0, 0.0, 0.0), "typed", body="Palebank", cone=Cone(6.0))
    qtbot.waitUntil(lambda: bool(matching.suggestions))
    studio.do(lambda s: s.set_status("Moss", Status.DISCONTINUED))
    if studio.busy:
        assert not matching.suggestions
    qtbot.waitUntil(lambda: bool(matching.suggestions))
    assert not studio.busy


def test_another_studio_can_be_opened_while_one_is_read(large, qtbot, tmp_path):
    studio, tiles, _jobs = large
    studio.do(lambda s: s.rename_material("Amber", "Ember"))
    with qtbot.waitSignal(studio.settled):
        assert studio.open(make_studio(tmp_path / "other"))
    assert studio.folder == tmp_path / "other"
    assert "Amber" in tiles.choices.materials


def test_what_waits_is_done_one_a_turn_and_once(qtbot):
    late, turns, done = OneATurn(), [], []
    clock = QTimer()
    clock.setInterval(0)
    clock.timeout.connect(lambda: turns.append(len(turns)))
    clock.start()

    def one():
        done.append(("one", len(turns)))

    def two():
        done.append(("two", len(turns)))

    for do in (one, two, one):
        late.put(do)
    assert done == []
    qtbot.waitUntil(lambda: len(turns) > 4)
    clock.stop()
    assert [name for name, _turn in done] == ["one", "two"]
    assert done[0][1] < done[1][1]


def test_what_is_past_is_let_go_a_little_at_a_time(qtbot, monkeypatch):
    class Thing:
        pass

    monkeypatch.setattr(slices, "FREED_AT_ONCE", 10)
    monkeypatch.setattr(slices, "LOOKED_AWAY_MS", 0)
    monkeypatch.setattr(slices, "BETWEEN_MS", 100)
    things = [Thing() for _ in range(25)]
    alive = [weakref.ref(thing) for thing in things]
    past = LetGo()
    past.keep(things)
    del things
    assert all(ref() is not None for ref in alive)
    qtbot.waitUntil(lambda: sum(ref() is not None for ref in alive) == 15)
    qtbot.waitUntil(lambda: not any(ref() is not None for ref in alive))
