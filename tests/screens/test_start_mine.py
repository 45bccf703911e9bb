"""From the welcome page to a printed first board, by real widgets, steps counted; and its photo is understood."""

from __future__ import annotations

import numpy as np
import pypdfium2
import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QFileDialog

from swatch.desk.planned import named_by_slot
from swatch.terms.cone import Cone
from swatch.terms.layering import format_layers
from swatch.terms.sheet import Paper, SheetCode, SheetSeen, Split, firing_mark

JARS = """Moss, underglaze
Ink black, underglaze
Sky, underglaze
Brick, underglaze
Honey, glaze
Fern, glaze
Milk, glaze
Rust wash, wash
Bone slip, slip
Window, clear"""


class Steps:
    def __init__(self, shop):
        self.shop, self.n = shop, 0

    def press(self, button):
        self.shop.qtbot.waitUntil(button.isVisible)
        assert button.isEnabled()
        self.n += 1
        self.shop.qtbot.mouseClick(button, Qt.MouseButton.LeftButton)

    def type(self, field, text):
        self.n += 1
        self.shop.qtbot.keyClicks(field, text)

    def paste(self, field, text):
        self.n += 1
        QApplication.clipboard().setText(text)
        field.setFocus()
        self.shop.qtbot.keyClick(field, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)


@pytest.fixture
def at_board(shop, tmp_path, monkeypatch):
    monkeypatch.setattr("swatch.desk.starting.free_folder", lambda: tmp_path / "mine")
    steps = Steps(shop)
    shop.place("welcome")
    steps.press(shop.window.now.start)
    screen = shop.window.now
    assert screen.code == "start"
    assert not screen.plan.isEnabled()
    steps.type(screen.body, "Palebank")
    steps.type(screen.cone, "6")
    steps.paste(screen.jars, JARS)
    assert "10 jars: 19 step tiles" in screen.said.whole()
    assert "Ink black" in screen.said.whole()
    steps.press(screen.plan)
    shop.qtbot.waitUntil(lambda: bool(shop.desks.printing.pages), timeout=20_000)
    return shop, steps


def test_start_mine_to_a_printed_first_board(at_board, tmp_path, monkeypatch):
    shop, steps = at_board
    screen = shop.window.now
    assert screen.code == "papers"
    out = tmp_path / "board.pdf"

    def named(*_args):
        steps.n += 1
        return str(out), ""

    monkeypatch.setattr(QFileDialog, "getSaveFileName", named)
    monkeypatch.setattr("swatch.screens.papers_screen.QDesktopServices.openUrl", lambda _url: True)
    steps.press(screen.save)
    assert steps.n <= 8
    document = pypdfium2.PdfDocument(out.read_bytes())
    texts = [page.get_textpage().get_text_range() for page in document]
    whole = "\n".join(texts)
    assert all(f"T-{n:03d}" in whole for n in range(1, 20))
    assert "over 2 coats of Ink black" in whole
    assert "21 test tiles of Palebank" in whole
    assert "5, 6, 7" in whole
    assert "graphite pencil burns away" in whole
    assert "not for food" in whole
    assert "food safe" not in whole.casefold()
    assert sum("Photo sheet" in text for text in texts) == len(document) - 2
    (board,) = shop.desks.studio.studio.boards()
    assert (board.name, board.body, board.cone, len(board.tiles)) == ("F-1", "Palebank", Cone(6.0), 19)
    assert format_layers(board.tiles[11].zones[0].layers) == "Ink black*2 > Sky*3"


def test_the_planned_tiles_are_known_when_their_photo_comes(at_board):
    shop, _steps = at_board
    measuring = shop.desks.measuring
    seen = SheetSeen(SheetCode(Paper.A4, (50, 100), (125, 90), 3, 4, Split.STEPS, firing_mark("F-1")), (), ())
    assert named_by_slot(measuring.boards(), seen, "11.3") == ("T-011", "A")
    assert named_by_slot(measuring.boards(), seen, "11.1") == ("T-011", "C")
    other = SheetSeen(SheetCode(Paper.A4, (50, 100), (125, 90), 3, 1, Split.STEPS, firing_mark("F-2")), (), ())
    assert named_by_slot(measuring.boards(), other, "11.3")[0] != "T-011"
    entry = measuring._entry("z", (), "t-011", "c")
    assert (entry.body, entry.firing, entry.cone, entry.lacks) == ("Palebank", "F-1", Cone(6.0), "")
    assert format_layers(entry.layers) == "Ink black*2 > Moss"


def test_what_was_planned_can_be_taken_back(at_board):
    shop, _steps = at_board
    assert "Plan 19 tiles for F-1" in shop.window.header.undo.text()
    shop.qtbot.mouseClick(shop.window.header.undo, Qt.MouseButton.LeftButton)
    assert shop.desks.studio.studio.boards() == ()


def test_a_programme_stands_for_its_cone(shop):
    screen = shop.place("start")
    shop.qtbot.keyClicks(screen.peak, "1222")
    assert "cone 6" in screen.bad.whole()
    shop.qtbot.keyClicks(screen.cone, "O6")
    assert screen.cone.property("bad")
    assert shop.desks.starting.lacks() == "body"


def test_the_preview_is_the_page_at_actual_size(at_board):
    shop, _steps = at_board
    screen = shop.window.now
    screen.true_size.setChecked(True)
    view = screen.views[0]
    assert view.width() == pytest.approx(210 * view.dots_per_mm, abs=1)
    image = view.grab().toImage()
    row = [image.pixelColor(x, round((297 - 16) * view.dots_per_mm)).lightness() for x in range(image.width())]
    dark = np.flatnonzero(np.array(row) < 100)
    scale = image.width() / view.width()
    assert np.ptp(dark) == pytest.approx(100 * view.dots_per_mm * scale, abs=2.5)


def test_what_the_printer_gets_is_true_to_scale(at_board, tmp_path):
    from PySide6.QtPrintSupport import QPrinter

    from swatch.screens.papers_screen import print_pages

    shop, _steps = at_board
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(tmp_path / "printed.pdf"))
    pages = shop.desks.printing.pages
    print_pages(printer, (pages[0], pages[2]))
    document = pypdfium2.PdfDocument((tmp_path / "printed.pdf").read_bytes())
    per_mm = 5
    for number, page in enumerate((pages[0], pages[2])):
        size = np.array(document[number].get_size()) * 25.4 / 72
        assert size == pytest.approx([page.size.wide, page.size.high], abs=0.5)
    image = document[0].render(scale=per_mm * 25.4 / 72, grayscale=True).to_numpy().squeeze()
    dark = np.flatnonzero(image[round((297 - 16) * per_mm)] < 128)
    assert np.ptp(dark) == pytest.approx(100 * per_mm, abs=2)


def test_next_shows_the_board_until_its_tiles_came_back(at_board):
    shop, _steps = at_board
    screen = shop.place("next")
    titles = [thing.title for thing in shop.desks.next.things]
    assert "19 tiles of board F-1 are planned" in titles
    assert not any("no cone reached" in title for title in titles)
    next(one for one in screen.steps if one.text() == "See the board").click()
    assert shop.window.now.code == "papers"
