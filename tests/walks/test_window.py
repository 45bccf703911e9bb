"""The window as a potter uses it: real widgets, real workers, the demo studio; steps are counted."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys

from potter import LONG
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QApplication, QWidget

from swatch.desk.welcoming import demo_folder
from swatch.resources import demo_tiles
from swatch.terms.materials import Status
from swatch.work.demo import build_demo  # noqa: F401  the demo is built by the shared fixture

HEAVY = ("cv2", "scipy", "sklearn", "colour", "pyqtgraph", "PIL", "rawpy", "reportlab")


def test_nothing_heavy_is_loaded_when_the_window_shows(tmp_path):
    code = (
        "import sys\n"
        "from PySide6.QtWidgets import QApplication\n"
        "from swatch.desk.settings import Settings\n"
        "from swatch.screens.start import make_frame\n"
        "app = QApplication([])\n"
        "window = make_frame(app, Settings())\n"
        "window.show(); app.processEvents()\n"
        f"print([name for name in {HEAVY!r} if name in sys.modules])\n"
        "from swatch.screens.start import furnish\n"
        "desks = furnish(window, Settings()); app.processEvents()\n"
        f"print([name for name in {HEAVY!r} if name in sys.modules])\n"
        "desks.close()\n"
    )
    made = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert made.stdout.splitlines() == ["[]", "[]"]


def test_first_start_to_the_demos_question_takes_two_presses(potter, demo_answers):
    shutil.copytree(demo_answers.folder, demo_folder())
    window = potter.window
    assert window.now.code == "welcome"
    potter.press(window.now.demo)
    assert window.now.code == "next"
    assert "invented" in window.windowTitle()
    assert "Invented" in window.header.under.whole()
    potter.press(window.now.steps[0])
    assert potter.steps == 2
    assert window.now.code == "match"
    assert window.desks.matching.wanted.replaces == demo_answers.replace.material


def test_the_demos_answer_by_keyboard_alone(potter, demo_answers):
    shutil.copytree(demo_answers.folder, demo_folder())
    window = potter.window
    for place in ("welcome", "next"):
        assert window.now.code == place
        potter.wait(lambda: window.focusWidget() is not None and window.focusWidget().isVisible())
        potter.qtbot.keyClick(window.focusWidget(), Qt.Key.Key_Space)
    matching = window.desks.matching
    potter.wait(lambda: bool(matching.suggestions))
    assert matching.wanted.replaces == demo_answers.replace.material
    answers = window.now.answers.view
    assert answers.model().rowCount() == len(matching.suggestions)
    potter.qtbot.keyClick(answers, Qt.Key.Key_Down)
    assert window.desks.matching.chosen_row == 1
    assert window.now.detail.title.whole().startswith("2 ")


def test_a_material_discontinued_to_ranked_replacements(at_demo):
    window, desks = at_demo.window, at_demo.window.desks
    at_demo.press(window.rail["materials"])
    screen = window.now
    at_demo.choose(screen.list, desks.materials.rows.row_of("Cinderloaf"))
    assert screen.detail.title.whole() == "Cinderloaf"
    at_demo.press(screen.detail.replace)
    at_demo.wait(lambda: bool(desks.matching.suggestions))
    assert at_demo.steps == 3  # the place, the jar, the question
    used = {layer.material for one in desks.matching.suggestions for layer in one.prediction.question.layers}
    assert "Cinderloaf" not in used
    window.show_place("materials")
    at_demo.press(screen.detail.status)
    assert desks.materials.chosen.status is Status.DISCONTINUED
    assert "Cinderloaf" in window.header.undo.toolTip() + window.header.undo.text()


def test_a_reference_photo_to_the_nearest_layerings(at_demo):
    window, desks = at_demo.window, at_demo.window.desks
    at_demo.drop(demo_tiles() / "reference_shutter.jpg")
    assert window.now.code == "measure"
    at_demo.wait(lambda: window.now.match.isEnabled())
    at_demo.press(window.now.match)
    at_demo.wait(lambda: len(desks.matching.suggestions) >= 5)
    assert at_demo.steps <= 4
    assert window.now.code == "match"
    assert desks.matching.wanted.covariance is not None


def test_photos_dropped_to_readings_kept_and_taken_back(at_demo, tmp_path):
    window, desks = at_demo.window, at_demo.window.desks
    photo = tmp_path / "again.jpg"
    shutil.copy(demo_tiles() / "f12_layers.jpg", photo)
    zones = json.loads((demo_tiles() / "f12_layers.zones.json").read_text())
    (tmp_path / "again.zones.json").write_text(json.dumps({"zones": zones["zones"][:12]}))
    before = len(desks.studio.evidence.readings)
    at_demo.drop(photo)
    at_demo.wait(lambda: window.now.keep.isEnabled())
    assert "12" in window.now.keep.text()
    with at_demo.qtbot.waitSignal(desks.measuring.kept, timeout=LONG):
        at_demo.press(window.now.keep)
    assert at_demo.steps <= 3
    session = {reading.session for reading in desks.studio.evidence.readings}
    assert any("again" in (name or "") for name in session)
    assert "12" in desks.undoing.undo_name
    at_demo.press(window.header.undo)
    assert len(desks.studio.evidence.readings) == before
    assert not any("again" in (r.session or "") for r in desks.studio.evidence.readings)


def test_a_photo_without_zones_is_outlined_and_written_down_by_hand(at_demo, tmp_path):
    window, desks = at_demo.window, at_demo.window.desks
    photo = tmp_path / "bare.jpg"
    shutil.copy(demo_tiles() / "f12_layers.jpg", photo)
    at_demo.drop(photo)
    screen, measuring = window.now, desks.measuring
    at_demo.wait(lambda: measuring.photo.read is not None and screen.canvas.photo == measuring.photo.read.size)
    zones = json.loads((demo_tiles() / "f12_layers.zones.json").read_text())["zones"]
    corners = [screen.canvas.view.to_screen(tuple(point)) for point in zones[0]["polygon"]]
    xs, ys = [x for x, _y in corners], [y for _x, y in corners]
    at_demo.press(screen.draw)
    start, end = QPoint(round(min(xs)) + 6, round(min(ys)) + 6), QPoint(round(max(xs)) - 6, round(max(ys)) - 6)
    at_demo.qtbot.mousePress(screen.canvas, Qt.MouseButton.LeftButton, pos=start)
    at_demo.qtbot.mouseMove(screen.canvas, end)
    at_demo.qtbot.mouseRelease(screen.canvas, Qt.MouseButton.LeftButton, pos=end)
    entry = measuring.entry
    assert entry.tile not in {reading.tile for reading in desks.studio.evidence.readings}
    assert entry.body  # the body and firing last used are offered
    assert not screen.keep.isEnabled()
    at_demo.press(screen.shelf.jars["Skimveil"])
    at_demo.press(screen.shelf.jars["Skimveil"])
    at_demo.press(screen.shelf.jars["Alderlees"])
    assert screen.form.layers.text() == "Skimveil*2 > Alderlees"
    assert "Alderlees" in window.header.undo.text()
    at_demo.press(window.header.undo)
    assert screen.form.layers.text() == "Skimveil*2"
    at_demo.wait(lambda: screen.keep.isEnabled())
    with at_demo.qtbot.waitSignal(measuring.kept, timeout=LONG):
        at_demo.press(screen.keep)
    kept = [r for r in desks.studio.evidence.readings if r.tile == entry.tile]
    assert [(r.layers[0].material, r.layers[0].coats) for r in kept] == [("Skimveil", 2.0)]


def test_every_place_opens_and_every_control_has_a_name(at_demo):
    window = at_demo.window
    for code in ("next", "tiles", "materials", "match", "editions", "firings", "measure", "welcome"):
        window.show_place(code)
        QApplication.processEvents()
        assert window.now.heading()[0]
        for widget in window.findChildren(QWidget):
            taken = widget.focusPolicy() != Qt.FocusPolicy.NoFocus and widget.isVisible()
            inner = widget.objectName().startswith("qt_") or widget.focusProxy() is not None
            if taken and not inner:
                assert widget.accessibleName() or getattr(widget, "text", str)(), (code, widget)


def test_search_finds_tiles_from_anywhere(at_demo):
    window, tiles = at_demo.window, at_demo.window.desks.tiles
    window.show_place("firings")
    actions = window.menuBar().findChildren(QAction) + window.findChildren(QAction)
    next(action for action in actions if action.shortcut() == QKeySequence("Ctrl+F")).trigger()
    assert window.now.code == "tiles"
    at_demo.qtbot.keyClicks(window.header.search, "alderlees")
    assert 0 < tiles.grid.rowCount() < len(tiles.all)
    assert all("alderlees" in tiles.grid.tile(row).hay for row in range(tiles.grid.rowCount()))


def test_a_file_that_is_no_photo_says_so_in_place(at_demo, tmp_path):
    window, measuring = at_demo.window, at_demo.window.desks.measuring
    false = tmp_path / "false.jpg"
    false.write_bytes(b"%PDF-1.4\n%false")
    at_demo.drop(false)
    at_demo.wait(lambda: measuring.photo.problem is not None)
    assert "no photo" in window.now.trouble.words.text()
    assert not window.now.keep.isEnabled()


def test_tables_dropped_come_in_and_can_be_taken_back(at_demo, tmp_path):
    window, desks = at_demo.window, at_demo.window.desks
    table = tmp_path / "shelf.csv"
    table.write_text("material,kind\nNewly bought,glaze\n", encoding="utf-8")
    at_demo.drop(table)
    at_demo.wait(lambda: any(m.name == "Newly bought" for m in desks.studio.evidence.materials))
    assert "1 added" in window.message.happened.whole()
    at_demo.press(window.header.undo)
    assert not any(m.name == "Newly bought" for m in desks.studio.evidence.materials)


def test_a_folder_that_is_no_studio_leaves_the_open_one(at_demo, tmp_path):
    window, studio = at_demo.window, at_demo.window.desks.studio
    before = studio.folder
    assert not studio.open(tmp_path)
    assert studio.folder == before
    assert window.message.isVisible()
    assert window.message.next_step.whole()
