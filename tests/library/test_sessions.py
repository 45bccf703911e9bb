"""Photos find their session by camera, time and light; what tells nothing stays with what it is kept with."""

import dataclasses

import pytest
from kept_by_hand import photo_in, read_of, reading

from swatch.terms.measured import Taken


def shot(folder, name, tile, at, camera="Ferrotype 2", warmth=0.2):
    """A photo taken then, of one tile."""
    path, read, _ = read_of(photo_in(folder, name))
    taken = None if at is None else Taken(camera, f"2031-04-02T{at}")
    return path, dataclasses.replace(read, taken=taken, warmth=warmth), [reading(tile, 50)]


def sessions(studio):
    return {r.tile: r.session for r in studio.evidence().readings}


@pytest.fixture
def morning(studio, tmp_path):
    studio.keep_shots([shot(tmp_path, "a.jpg", "T1", "09:00:00"), shot(tmp_path, "b.jpg", "T2", "09:20:00")])
    assert sessions(studio) == {"T1": "a", "T2": "a"}
    return studio


@pytest.mark.parametrize(
    ("more", "session"),
    [
        ({"at": "10:00:00"}, "a"),
        ({"at": "11:00:00"}, "c"),
        ({"at": "09:25:00", "camera": "Ferrotype 3"}, "c"),
        ({"at": "09:25:00", "warmth": 0.5}, "c"),
        ({"at": "09:25:00", "warmth": None}, "a"),
        ({"at": None}, "c"),
    ],
)
def test_a_photo_kept_later_joins_the_session_it_was_taken_in(morning, tmp_path, more, session):
    morning.keep_shots([shot(tmp_path, "c.jpg", "T3", **more)])
    assert sessions(morning)["T3"] == session
    assert morning.verify() == []


def test_photos_kept_together_part_by_time_and_those_that_tell_nothing_stay(studio, tmp_path):
    studio.keep_shots(
        [
            shot(tmp_path, "a.jpg", "T1", None),
            shot(tmp_path, "b.jpg", "T2", "09:00:00"),
            shot(tmp_path, "c.jpg", "T3", "15:00:00"),
            shot(tmp_path, "d.jpg", "T4", "09:10:00"),
            shot(tmp_path, "e.jpg", "T5", None),
        ]
    )
    assert sessions(studio) == {"T1": "a", "T2": "a", "T3": "c", "T4": "a", "T5": "a"}
    row = studio.file.sql.execute("SELECT camera, lamp FROM session WHERE name = 'c'").fetchone()
    assert row == ("Ferrotype 2", "0.200")
    assert studio.file.sql.execute("SELECT taken_at FROM photo WHERE name = 'c.jpg'").fetchone() == (
        "2031-04-02T15:00:00",
    )
    studio.undo()
    assert studio.evidence().readings == ()
    studio.redo()
    assert sessions(studio)["T3"] == "c"
    assert studio.verify() == []


def test_a_session_that_is_named_stays_as_named(morning, tmp_path):
    path, read, ((zone, value),) = shot(tmp_path, "c.jpg", "T3", "09:25:00")
    morning.keep_shots([(path, read, [(zone, dataclasses.replace(value, session="Bench by the door"))])])
    assert sessions(morning)["T3"] == "Bench by the door"
