"""A load's photo in the window: pieces proposed, named, approved, regions nudged and placed everywhere."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication

from swatch.terms.buttons import ButtonReading
from swatch.terms.colour import Covariance, Lab
from swatch.terms.editions import EditionRegion, PieceReading, Role
from swatch.terms.forms import Form
from swatch.terms.holding import CheckAnswer
from swatch.terms.measured import PhotoRead, PieceSeen, Verdict, ZoneRead
from swatch.terms.problems import Notice

DOUBT = Covariance(0.3, 0.0, 0.0, 0.3, 0.0, 0.3)


def square(x, y, side=40.0):
    return ((x, y), (x + side, y), (x + side, y + side), (x, y + side))


def read_of(asked, pieces=3):
    """What a worker would say: pieces in a row, their regions where they were nudged to, else proposed."""
    from swatch.work.load_entries import pairs_beside
    from swatch.work.measure import with_comparisons

    moved = {shape.zone: shape.polygon for shape in asked["zones"]}
    zones = []
    for n in range(1, pieces + 1):
        for k, region in enumerate(("inside", "outside")):
            name = f"{n} {region}"
            lab = Lab(50.0, 10.0, 10.0) if n < 3 else Lab(60.0, 0.0, 20.0)
            zones.append(ZoneRead(name, moved.get(name, square(100 * n, 100 * k)), lab, DOUBT, 1.0, 0.4, 1.0))
    seen = tuple(PieceSeen(str(n), square(100 * n, 0, 90.0), 0.97, n == 1) for n in range(1, pieces + 1))
    read = PhotoRead(asked["photo"], (640, 480), Verdict.GOOD, None, tuple(zones), pieces=seen,
                     form=Form(asked["wanted"].name, square(0, 0, 1.0), ()))  # fmt: skip
    return with_comparisons(read, pairs_beside(read))


@pytest.fixture
def lids(small_shop, tmp_path):
    studio = small_shop.desks.studio
    pieces = [
        PieceReading("Lid", f"L{n}", region, Lab(50, 10, 10), DOUBT, firing="F-1", shelf=shelf, role=Role.APPROVED)
        for n, shelf in ((1, "top"), (2, "bottom"))
        for region in ("inside", "outside")
    ]
    studio.do(lambda one: one.put_editions([EditionRegion("Lid", r) for r in ("inside", "outside")], frozenset()))
    studio.do(lambda one: one.put_pieces(pieces, frozenset({"firing", "shelf", "role"})))
    preview = tmp_path / "preview.jpg"
    QImage(64, 48, QImage.Format.Format_RGB32).save(str(preview))
    nothing = CheckAnswer("Lid", 3.5, False, 2, 1, ("inside", "outside"))
    small_shop.workers.answers |= {"pieces": read_of, "preview": str(preview), "check": nothing}
    return small_shop


@pytest.fixture
def dropped(lids, tmp_path):
    photo = tmp_path / "load.jpg"
    photo.write_bytes(b"a photo")
    lids.place("editions")
    lids.window.take_files([Path(photo)])
    loads = lids.desks.load_photos
    lids.qtbot.waitUntil(lambda: loads.photo is not None and loads.photo.read is not None and not loads.busy)
    lids.qtbot.waitUntil(lambda: loads.photo.preview is not None)
    QApplication.processEvents()
    return lids


def rows(screen):
    return [screen.list.item(n).data(Qt.ItemDataRole.AccessibleTextRole) for n in range(screen.list.count())]


def press(shop, button):
    shop.qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    QApplication.processEvents()


def test_pieces_are_proposed_with_names_shelves_and_how_they_differ(dropped):
    screen = dropped.window.now
    assert screen.code == "load"
    assert rows(screen)[:2] == ["1  L1, approved, beside the card", "2  L3, top; as L1"]
    assert rows(screen)[2].startswith("3  L4, bottom; inside ")
    assert rows(screen)[2].endswith(" ΔE00 from L1")
    assert screen.keep.text() == "Keep 6 readings and check"
    assert "only a guess" in screen._facts.itemAt(0).widget().whole()


def test_another_piece_is_the_approved_one(dropped):
    screen = dropped.window.now
    dropped.desks.load_photos.choose("2")
    assert screen.kept.text() == "This is L1"
    press(dropped, screen.kept)
    assert [row.split(",")[0] for row in rows(screen)] == ["1  L3", "2  L1", "3  L4"]


def test_a_piece_is_renamed_approved_or_left_out(dropped):
    screen, loads = dropped.window.now, dropped.desks.load_photos
    loads.choose("3 inside")
    screen.name.setFocus()
    screen.name.setText("Lid nine")
    dropped.qtbot.keyClick(screen.name, Qt.Key.Key_Return)
    press(dropped, screen.approve)
    assert (loads.entry("3").name, loads.entry("3").approve) == ("Lid nine", True)
    loads.choose("2")
    press(dropped, screen.leave)
    assert rows(screen)[1].startswith("2  left out")
    assert screen.keep.text() == "Keep 4 readings and check"


def test_a_region_nudged_by_keyboard_is_read_again_and_can_be_taken_back(dropped):
    screen, loads = dropped.window.now, dropped.desks.load_photos
    loads.choose("2 inside")
    before = loads.outlines()["2 inside"]
    screen.canvas.setFocus()
    dropped.qtbot.keyClick(screen.canvas, Qt.Key.Key_Right)
    assert loads.outlines()["2 inside"][0][0] > before[0][0]
    dropped.qtbot.waitUntil(lambda: bool(dropped.workers.asked[-1][1].get("zones")))
    dropped.desks.undoing.undo()
    assert loads.outlines()["2 inside"] == before


def test_regions_are_placed_so_on_every_piece(dropped):
    screen, loads = dropped.window.now, dropped.desks.load_photos
    loads.choose("2 inside")
    press(dropped, screen.everywhere)
    dropped.qtbot.waitUntil(lambda: not loads.busy)
    wanted = dropped.workers.asked[-1][1]["wanted"]
    assert [shape.zone for shape in wanted.pattern] == ["inside", "outside"]
    assert wanted.pattern[0].polygon == square(200, 0)
    assert not loads.guessed


def test_kept_readings_stand_in_the_records_and_the_edition_is_shown(dropped):
    screen = dropped.window.now
    press(dropped, screen.keep)
    dropped.qtbot.waitUntil(lambda: dropped.window.now.code == "editions")
    pieces = dropped.desks.studio.studio.pieces()
    assert {one.piece for one in pieces} == {"L1", "L2", "L3", "L4"}
    assert sorted(one.reading for one in pieces if one.piece == "L1" and one.region == "inside") == [1, 2]
    assert [form.name for form in dropped.desks.studio.studio.forms()] == ["Lid"]
    assert dropped.desks.editions.chosen_name == "Lid"


def test_buttons_are_kept_as_buttons(lids, tmp_path):
    kept = [ButtonReading("Kept", s, Lab(50, 0, 0), DOUBT, firing="F-1", kept=True) for s in ("inside", "outside")]
    lids.desks.studio.do(lambda one: one.put_buttons(kept, frozenset({"firing", "kept"})))
    photo = tmp_path / "buttons.jpg"
    photo.write_bytes(b"a photo of buttons")
    lids.place("editions")
    lids.window.take_files([photo])
    loads = lids.desks.load_photos
    loads.say(subject="")
    lids.qtbot.waitUntil(lambda: loads.photo.read is not None and not loads.busy)
    assert [one.name for one in loads.photo.entries] == ["Kept", "F-1 top", "F-1 bottom"]
    press(lids, lids.window.now.keep)
    lids.qtbot.waitUntil(lambda: lids.window.now.code == "editions")
    assert {one.button for one in lids.desks.studio.studio.buttons()} == {"Kept", "F-1 top", "F-1 bottom"}


def test_a_photo_of_tiles_in_hand_is_handed_over(lids, tmp_path):
    photo = tmp_path / "load.jpg"
    photo.write_bytes(b"a photo")
    lids.workers.answers["measure"] = PhotoRead(str(photo), (640, 480), Verdict.GOOD, None, ())
    lids.place("tiles")
    lids.window.take_files([photo])
    lids.qtbot.waitUntil(lambda: lids.desks.measuring.photo.read is not None)
    lids.window.now.pieces.trigger()
    QApplication.processEvents()
    assert lids.window.now.code == "load"
    assert lids.desks.load_photos.photo.path == photo
    assert lids.desks.measuring.photo is None


def test_a_photo_without_pieces_says_what_to_do(lids, tmp_path):
    photo = tmp_path / "load.jpg"
    photo.write_bytes(b"a photo")
    lids.workers.answers["pieces"] = PhotoRead(
        str(photo), (640, 480), Verdict.GOOD, None, (), (Notice("pieces-none"),)
    )
    lids.place("editions")
    lids.window.take_files([photo])
    screen = lids.window.now
    lids.qtbot.waitUntil(lambda: lids.desks.load_photos.photo.read is not None)
    QApplication.processEvents()
    assert "No piece stands out" in screen._facts.itemAt(0).widget().whole()
    assert not screen.keep.isEnabled()
