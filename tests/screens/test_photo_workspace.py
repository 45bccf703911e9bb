"""The photo workspace with workers that answer at once: what the hands do, not what the eye reads."""

from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QColor, QImage
from small_studio import DOUBT

from swatch.desk.photo_work import State
from swatch.formats.keyword_text import write_card
from swatch.screens.photos_on_record import MeasureAgain
from swatch.terms.colour import Lab
from swatch.terms.layering import format_layers
from swatch.terms.measured import CardRead, PhotoRead, Verdict, ZoneRead
from swatch.terms.problems import Notice, StudioProblem
from swatch.terms.sheet import Paper, SheetCode, SheetSeen, Split
from swatch.work.measure import card_of
from swatch.work.own_card import OwnCardLearnt

SIZE = (1600, 1200)
CARD = CardRead(
    "rendition-24", ((60.0, 60.0), (360.0, 60.0), (360.0, 260.0), (60.0, 260.0)), 0.97, 1.1, 3.0, 5.0, ()
)


def preview(asked):
    image = QImage(800, 600, QImage.Format.Format_RGB32)
    image.fill(QColor("#DDDDDD"))
    image.save(asked["out"])
    return asked["out"]


def measure(asked):
    zones = tuple(
        ZoneRead(shape.zone, shape.polygon, Lab(50.0 + n, 0.0, 10.0), DOUBT, 2.0 + n / 10, 1.0, 0.9)
        for n, shape in enumerate(asked["zones"])
    )
    return PhotoRead(asked["photo"], SIZE, Verdict.GOOD, CARD, zones)


@pytest.fixture
def workspace(small_shop, tmp_path):
    small_shop.workers.answers |= {"preview": preview, "measure": measure}
    photo = tmp_path / "sheet.jpg"
    photo.write_bytes(b"the workers of this test do not look into it")
    small_shop.window.take_files([photo])
    measuring = small_shop.desks.measuring
    small_shop.qtbot.waitUntil(lambda: measuring.photo.state is State.READ and measuring.photo.preview is not None)
    small_shop.qtbot.waitUntil(lambda: small_shop.window.now.canvas.photo == SIZE)
    small_shop.taps = 0
    return small_shop


def press(shop, button):
    shop.qtbot.waitUntil(button.isVisible)
    assert button.isEnabled(), button.text()
    shop.taps += 1
    shop.qtbot.mouseClick(button, Qt.MouseButton.LeftButton)


def drag(shop, left, top, width, height):
    canvas = shop.window.now.canvas
    ends = [canvas.view.to_screen(point) for point in ((left, top), (left + width, top + height))]
    start, end = (QPoint(round(x), round(y)) for x, y in ends)
    shop.taps += 1
    shop.qtbot.mousePress(canvas, Qt.MouseButton.LeftButton, pos=start)
    shop.qtbot.mouseMove(canvas, end)
    shop.qtbot.mouseRelease(canvas, Qt.MouseButton.LeftButton, pos=end)


def test_twelve_step_tiles_take_at_most_sixty_taps_and_nothing_typed(workspace):
    screen, measuring = workspace.window.now, workspace.desks.measuring
    press(workspace, screen.draw)
    for n in range(12):
        drag(workspace, 420 + 280 * (n % 4), 80 + 360 * (n // 4), 180, 300)
        press(workspace, screen.shelf.jars["Amber" if n % 2 else "Moss"])
        press(workspace, screen.shelf.step)
    workspace.qtbot.waitUntil(lambda: len(measuring.photo.keepable()) == 36, timeout=10_000)
    with workspace.qtbot.waitSignal(measuring.kept, timeout=10_000):
        press(workspace, screen.keep)
    assert workspace.taps <= 60
    kept = [r for r in workspace.desks.studio.evidence.readings if r.session]
    assert len(kept) == 36
    assert {format_layers(r.layers) for r in kept if r.zone == "A"} == {"Moss*3", "Amber*3"}
    assert len({r.tile for r in kept}) == 12
    assert {(r.body, r.firing) for r in kept} == {("Palebank", "F-1")}


def test_step_tiles_on_a_sheet_are_filled_with_two_taps_each(small_shop, tmp_path):
    code = SheetCode(Paper.A3, (50, 100), (90, 60), 12, split=Split.STEPS)

    def measure_sheet(asked):
        zones = tuple(
            ZoneRead(
                f"{slot}.{coats}", ((0.0, 0.0), (9.0, 0.0), (9.0, 9.0)), Lab(50, 0, slot), DOUBT, 2.0, 1.0, 0.9
            )
            for slot in range(1, 13)
            for coats in (3, 2, 1)
        )
        return PhotoRead(asked["photo"], SIZE, Verdict.GOOD, CARD, zones, sheet=SheetSeen(code, (), (0, 1, 2, 3)))

    small_shop.workers.answers |= {"preview": preview, "measure": measure_sheet}
    photo = tmp_path / "sheet.jpg"
    photo.write_bytes(b"the workers of this test do not look into it")
    small_shop.window.take_files([photo])
    screen, measuring = small_shop.window.now, small_shop.desks.measuring
    small_shop.qtbot.waitUntil(lambda: measuring.photo.state is State.READ)
    small_shop.taps = 0
    for n in range(12):
        assert (measuring.entry.tile, measuring.entry.zone) == (str(n + 1), "A")
        press(small_shop, screen.shelf.jars["Amber" if n % 2 else "Moss"])
        press(small_shop, screen.shelf.step)
    assert small_shop.taps == 24
    assert len(measuring.photo.keepable()) == 36
    three, two, one = measuring.photo.zones[3:6]
    assert [format_layers(z.layers) for z in (three, two, one)] == ["Amber*3", "Amber*2", "Amber"]
    measuring.choose("1.1")
    screen.form.tile.setText("T-090")
    screen.form.tile.editingFinished.emit()
    assert [zone.tile for zone in measuring.photo.zones[:4]] == ["T-090", "T-090", "T-090", "2"]


def test_a_photo_without_a_card_gives_a_target_by_one_press_and_no_tile(workspace):
    asked = []

    def by_neutral(one):
        asked.append(one["neutral"])
        read = measure(one)
        return read if one["neutral"] is None else replace(read, card=None, verdict=Verdict.USABLE)

    workspace.workers.answers["measure"] = by_neutral
    screen, measuring = workspace.window.now, workspace.desks.measuring
    press(workspace, screen.draw)
    drag(workspace, 420, 80, 180, 300)
    press(workspace, screen.draw)
    press(workspace, screen.neutral)
    drag(workspace, 900, 600, 0, 0)
    workspace.qtbot.waitUntil(
        lambda: bool(asked) and asked[-1] is not None and measuring.photo.state is State.READ
    )
    assert asked[-1] == pytest.approx((900, 600), abs=2)
    press(workspace, screen.shelf.jars["Moss"])
    assert not measuring.photo.keepable()
    assert not screen.keep.isEnabled()
    with workspace.qtbot.waitSignal(measuring.match_wanted) as wanted:
        press(workspace, screen.match)
    assert wanted.args[0].covariance == DOUBT
    workspace.window.show_place("measure")
    measuring.steps.undo()  # the jar
    measuring.steps.undo()  # the point
    assert measuring.photo.neutral is None
    workspace.qtbot.waitUntil(lambda: asked[-1] is None and measuring.photo.state is State.READ)


def test_everything_done_to_a_photo_can_be_taken_back_by_name(workspace):
    window, measuring = workspace.window, workspace.desks.measuring
    screen = window.now
    press(workspace, screen.draw)
    drag(workspace, 500, 100, 200, 200)
    entry = measuring.entry
    press(workspace, screen.shelf.jars["Moss"])
    press(workspace, screen.shelf.jars["Moss"])
    press(workspace, screen.shelf.wiped)
    measuring.move_zone(entry.key, ((500.0, 100.0), (640.0, 100.0), (640.0, 240.0), (500.0, 240.0)))
    names = []
    while measuring.steps.canUndo():
        names.append(measuring.steps.undoText())
        press(workspace, window.header.undo)
    assert [name.split(":")[0] for name in names] == [
        f"Move {entry.name}",
        "Wiped",
        "Moss",
        "Moss",
        f"Outline {entry.name}",
    ]
    assert measuring.photo.zones == ()
    while measuring.steps.canRedo():
        measuring.steps.redo()
    assert format_layers(measuring.photo.zones[0].layers) == "Moss*2 (wiped)"


def test_a_reading_is_not_shown_for_an_outline_that_has_moved(workspace):
    screen, measuring = workspace.window.now, workspace.desks.measuring
    press(workspace, screen.draw)
    drag(workspace, 500, 100, 200, 200)
    key = measuring.chosen
    workspace.qtbot.waitUntil(lambda: measuring.photo.reading(key) is not None)
    workspace.workers.let_go.clear()
    measuring.move_zone(key, ((700.0, 100.0), (900.0, 100.0), (900.0, 300.0), (700.0, 300.0)))
    assert measuring.photo.reading(key) is None
    assert not screen.keep.isEnabled()
    workspace.workers.let_go.set()
    workspace.qtbot.waitUntil(lambda: measuring.photo.reading(key) is not None)


def test_same_as_the_last_copies_everything_but_the_names(workspace):
    screen, measuring = workspace.window.now, workspace.desks.measuring
    press(workspace, screen.draw)
    drag(workspace, 500, 100, 100, 100)
    press(workspace, screen.shelf.jars["Amber"])
    first = measuring.entry
    drag(workspace, 700, 100, 100, 100)
    press(workspace, screen.shelf.same)
    assert measuring.entry.layers == first.layers
    assert measuring.entry.tile != first.tile
    press(workspace, screen.form.same_tile)
    assert (measuring.entry.tile, measuring.entry.zone) == (first.tile, "B")


def test_layers_can_be_typed_and_nonsense_is_refused_in_place(workspace):
    screen, measuring = workspace.window.now, workspace.desks.measuring
    press(workspace, screen.draw)
    drag(workspace, 500, 100, 100, 100)
    screen.form.layers.setText("Moss*2 > Amber")
    workspace.qtbot.keyClick(screen.form.layers, Qt.Key.Key_Return)
    assert format_layers(measuring.entry.layers) == "Moss*2 > Amber"
    screen.form.layers.setText("Moss**")
    workspace.qtbot.keyClick(screen.form.layers, Qt.Key.Key_Return)
    assert screen.form.bad.isVisible()
    assert format_layers(measuring.entry.layers) == "Moss*2 > Amber"


def test_a_warned_zone_says_why_and_can_be_left_out(workspace):
    def warned(asked):
        read = measure(asked)
        zones = tuple(
            ZoneRead(
                z.zone, z.polygon, z.lab, z.covariance, 6.8, 1.0, 0.2, (Notice("zone-glare", {"percent": 18}),)
            )
            for z in read.zones
        )
        return PhotoRead(read.photo, read.size, Verdict.USABLE, CARD, zones)

    workspace.workers.answers["measure"] = warned
    screen = workspace.window.now
    press(workspace, screen.draw)
    drag(workspace, 500, 100, 100, 100)
    press(workspace, screen.shelf.bare)
    workspace.qtbot.waitUntil(screen.canvas.callout_box.isVisible)
    assert "18" in screen.canvas.callout_box.title.text()
    assert screen.keep.isEnabled()
    press(workspace, screen.leave_out)
    assert not screen.keep.isEnabled()
    assert not screen.canvas.callout_box.isVisible()


def test_a_photo_that_cannot_be_read_says_so_and_the_next_is_read(workspace, tmp_path):
    def fails(asked):
        if Path(asked["photo"]).name == "bad.jpg":
            raise StudioProblem("file-missing")
        return measure(asked)

    workspace.workers.answers["measure"] = fails
    measuring = workspace.desks.measuring
    workspace.window.take_files([tmp_path / "bad.jpg", tmp_path / "good.jpg"])
    workspace.qtbot.waitUntil(lambda: measuring.photos[2].state is State.READ)
    workspace.qtbot.waitUntil(lambda: measuring.photos[1].state is State.FAILED)
    screen = workspace.window.now
    assert "could not be read" in screen.trouble.accessibleDescription()
    assert screen.read_again.isVisible()


def test_kept_photos_are_measured_again_and_nothing_changes_before_it_is_asked_for(workspace):
    screen, measuring, studio = workspace.window.now, workspace.desks.measuring, workspace.desks.studio
    press(workspace, screen.draw)
    drag(workspace, 420, 80, 180, 300)
    press(workspace, screen.shelf.jars["Moss"])
    workspace.qtbot.waitUntil(lambda: len(measuring.photo.keepable()) == 1)
    with workspace.qtbot.waitSignal(measuring.kept, timeout=10_000):
        press(workspace, screen.keep)

    def lighter(asked):
        read = measure(asked)
        return replace(read, zones=tuple(replace(z, lab=Lab(58.0, 0.0, 10.0)) for z in read.zones))

    workspace.workers.answers["measure"] = lighter
    before = {(r.tile, r.zone): r.lab for r in studio.evidence.readings}
    screen.again.trigger()
    dialog = screen.findChild(MeasureAgain)
    workspace.qtbot.waitUntil(lambda: dialog.table.rowCount() == 1 and dialog.keep.isEnabled())
    assert dialog.table.item(0, 2).text().startswith("50")
    assert dialog.table.item(0, 4).text().startswith("58")
    assert {(r.tile, r.zone): r.lab for r in studio.evidence.readings} == before
    dialog.keep.click()
    workspace.qtbot.waitUntil(lambda: any(r.lab.L == 58.0 for r in studio.evidence.readings))
    studio.undo()
    workspace.qtbot.waitUntil(lambda: {(r.tile, r.zone): r.lab for r in studio.evidence.readings} == before)
    dialog.close()


def test_a_learnt_card_is_used_until_it_is_taken_back(workspace, monkeypatch):
    card = card_of("rendition-24")

    def learn(request, report, workers):
        Path(request.out).write_bytes(write_card(card))
        return OwnCardLearnt(card, 3, 2, (0.0, 1.5), ())

    monkeypatch.setattr("swatch.work.own_card.learn_own_card", learn)
    own = []

    def told(asked):
        own.append(asked["own"])
        return measure(asked)

    workspace.workers.answers["measure"] = told
    screen, measuring = workspace.window.now, workspace.desks.measuring
    screen.learn_card.trigger()
    workspace.qtbot.waitUntil(lambda: bool(own) and own[-1] is not None and measuring.photo.state is State.READ)
    assert len(own[-1]) == 24
    assert "1.5" in screen.facts.whole()
    measuring.steps.undo()
    assert not measuring.own_card.in_use
    workspace.qtbot.waitUntil(lambda: own[-1] is None and measuring.photo.state is State.READ)
    measuring.steps.redo()
    screen.leave_card.trigger()
    assert not measuring.own_card.in_use
    assert "learnt card" not in screen.facts.whole()
