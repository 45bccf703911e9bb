"""Originals are kept once and never altered; readings come with their shot; measuring again supersedes."""

from __future__ import annotations

import dataclasses
import errno
import hashlib
import json

import pytest
from kept_by_hand import COVARIANCE, SQUARE, photo_in, read_of, reading

from swatch.library import disk
from swatch.library.originals import PHOTOS, QUARANTINE
from swatch.library.studio import Studio
from swatch.terms.colour import Lab
from swatch.terms.cone import Cone
from swatch.terms.editions import Counts
from swatch.terms.layering import parse_layers
from swatch.terms.measured import ColourShare, TileBack
from swatch.terms.problems import StudioProblem


def stored(studio: Studio) -> list[str]:
    return sorted(path.name for path in (studio.folder / PHOTOS).rglob("*") if path.is_file())


def live(studio: Studio) -> dict[tuple[str, int], float]:
    return {(r.tile, r.reading): r.lab.L for r in studio.evidence().readings}


def test_a_kept_shot_is_all_there(studio, tmp_path):
    photo = photo_in(tmp_path, "Unloading 3.JPG")
    data, when = photo.read_bytes(), photo.stat().st_mtime_ns
    first, second = reading("T1", 50, firing="F1", layers=parse_layers("Rill*2")), reading("T2", 40)
    path, read, _ = read_of(photo)
    ids = studio.keep_shot(path, read, [first, second])
    assert len(ids) == 2
    sha = hashlib.sha256(data).hexdigest()
    assert stored(studio) == [f"{sha}.jpg"]
    assert (photo.read_bytes(), photo.stat().st_mtime_ns) == (data, when)
    expected = [dataclasses.replace(value, session="Unloading 3") for _, value in (first, second)]
    assert list(studio.evidence().readings) == expected
    row = studio.file.sql.execute(
        "SELECT name, sha256, width, verdict, shot.evidence, polygon, used_share, reading.warnings "
        "FROM reading JOIN shot ON shot.id = shot_id JOIN photo ON photo.id = photo_id WHERE reading.id = ?",
        (ids[0],),
    ).fetchone()
    assert row[:4] == ("Unloading 3.JPG", sha, 4000, "good")
    assert json.loads(row[4])["card"]["patches"][0]["left_out_de00"] == 1.2
    assert json.loads(row[5])[2] == [9.0, 9.5]
    assert (row[6], json.loads(row[7])[0]["facts"]) == (0.9, {"n": 2})
    assert studio.undo_name == ("keep-readings", {"n": 2})
    assert studio.verify() == []


def test_the_colours_of_a_mottled_zone_are_kept(studio, tmp_path):
    zone, value = reading("T1", 50)
    mottled = dataclasses.replace(zone, colours=(ColourShare(Lab(48, 1, 2), 0.7), ColourShare(Lab(60, 3, 4), 0.3)))
    path, read, _ = read_of(photo_in(tmp_path, "a.jpg"))
    ids = studio.keep_shot(path, read, [(mottled, value), reading("T2", 40)])
    rows = [studio.file.sql.execute("SELECT colours FROM reading WHERE id = ?", (i,)).fetchone()[0] for i in ids]
    assert json.loads(rows[0]) == [[48.0, 1.0, 2.0, 0.7], [60.0, 3.0, 4.0, 0.3]]
    assert rows[1] is None


def test_photos_kept_together_are_one_change_and_one_session(studio, tmp_path):
    shots = [read_of(photo_in(tmp_path, "a.jpg"), T1=50.0, T2=51.0), read_of(photo_in(tmp_path, "b.jpg"), T3=52.0)]
    ids = studio.keep_shots(shots)
    assert [len(each) for each in ids] == [2, 1]
    assert {r.session for r in studio.evidence().readings} == {"a"}
    studio.undo()
    assert live(studio) == {}
    studio.redo()
    assert len(live(studio)) == 3
    assert studio.verify() == []
    other = photo_in(tmp_path, "a.jpg", seed=1)
    studio.keep_shot(*read_of(other, T4=1.0))
    assert {r.session for r in studio.evidence().readings} == {"a", "a (2)"}


def test_the_same_photo_again_uses_the_stored_original_and_its_session(studio, tmp_path):
    photo = photo_in(tmp_path, "a.jpg")
    studio.keep_shot(*read_of(photo, T1=50.0))
    again = tmp_path / "copy of it.jpeg"
    again.write_bytes(photo.read_bytes())
    studio.keep_shot(*read_of(again, T2=51.0))
    assert len(stored(studio)) == 1
    assert studio.file.sql.execute("SELECT count(*) FROM photo").fetchone() == (1,)
    assert {r.session for r in studio.evidence().readings} == {"a"}


def test_measuring_a_zone_again_supersedes_the_former_reading(studio, tmp_path):
    (first,) = studio.keep_shot(*read_of(photo_in(tmp_path, "a.jpg"), T1=50.0))
    (second,) = studio.keep_shot(*read_of(photo_in(tmp_path, "b.jpg"), T1=55.0))
    assert live(studio) == {("T1", 1): 55.0}
    found = studio.file.sql.execute("SELECT id, superseded_by FROM reading ORDER BY id").fetchall()
    assert found == [(first, second), (second, None)]
    studio.undo()
    assert live(studio) == {("T1", 1): 50.0}
    studio.redo()
    assert live(studio) == {("T1", 1): 55.0}


def test_what_a_reading_leaves_empty_stays_as_it_was_known(studio, tmp_path):
    known = reading(
        "T1", 50, firing="F1", shelf="top", body="Pale", layers=parse_layers("Rill*2"), method="dipped"
    )
    path, read, _ = read_of(photo_in(tmp_path, "a.jpg"))
    studio.keep_shot(path, read, [known])
    studio.keep_shot(*read_of(photo_in(tmp_path, "b.jpg"), T1=55.0))
    expected = dataclasses.replace(known[1], lab=known[1].lab._replace(L=55.0), session="b")
    assert studio.evidence().readings == (expected,)


def test_a_reading_of_another_firing_stands_beside_the_former_one(studio, tmp_path):
    path, read, _ = read_of(photo_in(tmp_path, "a.jpg"))
    studio.keep_shot(path, read, [reading("T1", 50, firing="F1")])
    path, read, _ = read_of(photo_in(tmp_path, "b.jpg"))
    studio.keep_shot(path, read, [reading("T1", 45, firing="F2", refires=1)])
    assert live(studio) == {("T1", 1): 50.0, ("T1", 2): 45.0}


def test_a_reading_brought_in_before_is_superseded_by_a_photo(studio, tmp_path):
    value = reading("T1", 30, cone=Cone(6.0))[1]
    studio.put_readings([value], frozenset(f.name for f in dataclasses.fields(value)))
    studio.keep_shot(*read_of(photo_in(tmp_path, "a.jpg"), T1=55.0))
    assert live(studio) == {("T1", 1): 55.0}
    given = frozenset({"tile", "zone", "lab"})
    assert studio.put_readings([dataclasses.replace(value, covariance=COVARIANCE)], given) == Counts(updated=1)
    assert live(studio) == {("T1", 1): 30.0}


def test_readings_set_aside_are_no_evidence_until_taken_back(studio, tmp_path):
    ids = studio.keep_shot(*read_of(photo_in(tmp_path, "a.jpg"), T1=50.0, T2=51.0))
    studio.set_aside(ids[:1])
    assert live(studio) == {("T2", 1): 51.0}
    studio.take_back(ids)
    assert len(live(studio)) == 2
    assert studio.undo_name == ("take-back", {"n": 2})


def test_a_photo_that_cannot_be_kept_leaves_nothing(studio, tmp_path):
    good = read_of(photo_in(tmp_path, "a.jpg"), T1=50.0)
    gone = read_of(tmp_path / "gone.jpg", T2=50.0)
    with pytest.raises(StudioProblem) as found:
        studio.keep_shots([good, gone])
    assert found.value.code == "photo-unreadable"
    with pytest.raises(StudioProblem, match="photo-unreadable"):
        studio.keep_shots([good, read_of(tmp_path, T2=50.0)])
    clash = [reading("T1", 1, layers=parse_layers("Rill")), reading("T1", 1, layers=parse_layers("Tarn"))]
    with pytest.raises(StudioProblem, match="layers-differ"):
        studio.keep_shot(good[0], good[1], clash)
    assert (stored(studio), live(studio), studio.undo_name) == ([], {}, None)
    assert studio.file.sql.execute("SELECT count(*) FROM session").fetchone() == (0,)


@pytest.mark.parametrize("step", ["write", "flush_file", "rename", "flush_folder"])
def test_a_full_disk_is_said_and_leaves_nothing(studio, tmp_path, monkeypatch, step):
    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    shot = read_of(photo_in(tmp_path, "a.jpg"), T1=50.0)
    with monkeypatch.context() as patch:
        patch.setattr(disk, step, full)
        with pytest.raises(StudioProblem) as found:
            studio.keep_shot(*shot)
    assert found.value.code == "disk-full"
    assert live(studio) == {}
    studio.keep_shot(*shot)
    assert (len(stored(studio)), len(live(studio)), studio.verify()) == (1, 1, [])


def test_records_that_have_no_room_to_grow_are_said_and_leave_nothing(studio, tmp_path):
    pages = studio.file.sql.execute("PRAGMA page_count").fetchone()[0]
    studio.file.sql.execute(f"PRAGMA max_page_count = {pages}")
    shots = [read_of(photo_in(tmp_path, "a.jpg"), **{f"T{k}": 50.0 for k in range(300)})]
    with pytest.raises(StudioProblem) as found:
        studio.keep_shots(shots)
    assert found.value.code == "disk-full"
    assert (stored(studio), live(studio), studio.undo_name) == ([], {}, None)
    studio.file.sql.execute("PRAGMA max_page_count = 1000000")
    studio.keep_shots(shots)
    assert (len(live(studio)), studio.verify()) == (300, [])


def test_an_original_that_was_damaged_is_mended_by_keeping_it_again(studio, tmp_path):
    photo = photo_in(tmp_path, "a.jpg")
    studio.keep_shot(*read_of(photo, T1=50.0))
    path = next(path for path in (studio.folder / PHOTOS).rglob("*.jpg"))
    data = bytearray(path.read_bytes())
    data[100] ^= 1
    path.write_bytes(data)
    assert [problem.code for problem in studio.verify()] == ["photo-damaged"]
    assert studio.verify(deep=False) == []
    studio.keep_shot(*read_of(photo, T1=51.0))
    assert studio.verify() == []
    path.unlink()
    assert [problem.code for problem in studio.verify(deep=False)] == ["photo-missing"]


def test_an_original_nobody_speaks_of_goes_into_quarantine_at_the_next_opening(studio, tmp_path):
    studio.keep_shot(*read_of(photo_in(tmp_path, "a.jpg"), T1=50.0))
    studio.undo()
    (name,) = stored(studio)
    assert [problem.code for problem in studio.verify()] == ["stray-file"]
    studio.close()
    with Studio.open(studio.folder) as again:
        assert (stored(again), again.verify()) == ([], [])
        assert [path.name for path in (again.folder / QUARANTINE).iterdir()] == [name]
        again.keep_shot(*read_of(tmp_path / "a.jpg", T1=50.0))
        again.undo()
    with Studio.open(studio.folder):
        assert len(list((studio.folder / QUARANTINE).iterdir())) == 2


def test_backs_are_kept_where_their_tiles_are_on_record(studio, tmp_path):
    one, read, kept = read_of(photo_in(tmp_path, "fronts.jpg"), T1=40)
    backs, seen, _ = read_of(photo_in(tmp_path, "backs.jpg"))
    again, seen_again, _ = read_of(photo_in(tmp_path, "again.jpg"))
    studio.keep_shots([(one, read, kept)], [(backs, seen, [TileBack("t1", SQUARE), TileBack("T9", SQUARE)])])
    assert studio.back_of("T1").name == "backs.jpg"
    assert json.loads(studio.back_of("T1").outline) == [list(corner) for corner in SQUARE]
    assert studio.back_of("T9") is None
    assert studio.undo_name == ("keep-readings", {"n": 1})
    studio.keep_shots([], [(again, seen_again, [TileBack("T1", SQUARE)])])
    assert studio.undo_name == ("keep-backs", {"n": 1})
    assert studio.back_of("T1").name == "again.jpg"
    studio.undo()
    assert studio.back_of("T1").name == "backs.jpg"
    studio.remove_tiles([row.id for row in studio.tiles_called("T1")])
    assert studio.back_of("T1") is None
    studio.undo()
    assert studio.back_of("T1").path.read_bytes() == backs.read_bytes()
