"""Photos that come into a watched folder are offered once they are whole, and open in the workspace."""

from __future__ import annotations

import pytest

from swatch.desk.settings import Settings
from swatch.desk.watching import Watching


@pytest.fixture
def watching(qtbot, tmp_path):
    (tmp_path / "come").mkdir()
    (tmp_path / "come" / "old.jpg").write_bytes(b"old")
    made = Watching(Settings())
    made.watch(tmp_path / "come")
    return made


def names(watching):
    return [one.name for one in watching.waiting]


def test_a_half_written_photo_is_waited_for(watching, qtbot):
    folder = watching.folder
    assert names(watching) == []
    with (folder / "new.jpg").open("wb") as file:
        watching.look()
        file.write(b"half")
        file.flush()
        watching.look()
        assert names(watching) == []
        file.write(b"the rest")
    watching.look()
    assert names(watching) == []
    with qtbot.waitSignal(watching.changed, timeout=10_000):
        pass
    assert names(watching) == ["new.jpg"]


def test_the_folder_tells_by_itself_and_other_files_are_none(watching, qtbot):
    folder = watching.folder
    for name in ("notes.txt", ".hidden.jpg", "shot.jpg.part", "b.HEIC"):
        (folder / name).write_bytes(b"x")
    qtbot.waitUntil(lambda: names(watching) == ["b.HEIC"], timeout=10_000)
    assert [one.name for one in watching.take()] == ["b.HEIC"]
    watching.look()
    watching.look()
    assert names(watching) == []


def test_what_came_while_the_program_was_closed_is_offered(watching, qtbot):
    (watching.folder / "later.jpg").write_bytes(b"x")
    again = Watching(Settings())
    qtbot.waitUntil(lambda: names(again) == ["later.jpg"], timeout=10_000)
    again.watch(None)
    assert names(again) == []


def test_next_offers_them_and_opens_them(small_shop, tmp_path):
    shop = small_shop
    shop.workers.answers |= {"preview": str(tmp_path / "none.jpg"), "measure": _not_read()}
    (tmp_path / "come").mkdir()
    shop.desks.watching.watch(tmp_path / "come")
    (tmp_path / "come" / "new.jpg").write_bytes(b"x")
    screen = shop.place("next")
    shop.qtbot.waitUntil(lambda: "Read the new photos" in [one.text() for one in screen.steps], timeout=10_000)
    next(one for one in screen.steps if one.text() == "Read the new photos").click()
    assert shop.window.now.code == "measure"
    assert [one.path.name for one in shop.desks.measuring.photos] == ["new.jpg"]
    assert "watched" not in [one.act for one in shop.desks.next.things]


def _not_read():
    from swatch.terms.problems.studio import not_there

    return not_there("new.jpg")
