import threading

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from swatch.desk.settings import Settings
from swatch.screens.frame import PATIENCE_MS
from swatch.screens.style import Surround, look
from swatch.terms.materials import Status
from swatch.terms.problems import StudioProblem, Where


def test_without_a_studio_only_the_welcome_page_opens(shop):
    shop.window.show_place("match")
    assert shop.window.now.code == "welcome"
    assert not any(key.isEnabled() for key in shop.window.rail.values())


def test_undo_says_what_it_takes_back_and_redo_too(small_shop):
    window, desks = small_shop.window, small_shop.desks
    small_shop.place("materials")
    assert not window.header.undo.isEnabled()
    desks.studio.do(lambda studio: studio.set_status("Amber", Status.DISCONTINUED))
    assert "Amber" in window.header.undo.text()
    assert "Amber" in window.menus.undo.text()
    window.menus.undo.trigger()
    assert not window.header.undo.isEnabled()
    assert "Amber" in window.menus.redo.text()
    window.menus.redo.trigger()
    assert desks.studio.evidence.materials[0].status is Status.DISCONTINUED


def test_work_in_hand_is_taken_back_before_the_records(small_shop):
    window, desks = small_shop.window, small_shop.desks
    desks.studio.do(lambda studio: studio.set_status("Amber", Status.DISCONTINUED))
    small_shop.place("match")
    desks.matching.want("Tolerance 3.0", tolerance=3.0)
    assert "Tolerance 3.0" in window.header.undo.text()
    small_shop.qtbot.mouseClick(window.header.undo, Qt.MouseButton.LeftButton)
    assert desks.matching.wanted.tolerance == 2.0
    assert "Amber" in window.header.undo.text()
    small_shop.place("tiles")
    assert "Amber" in window.header.undo.text()


def test_a_problem_is_said_where_it_is_with_the_next_step(small_shop):
    window = small_shop.window
    window.tell_problem(StudioProblem("file-missing", Where(file="tiles.csv", row=3)))
    assert window.message.isVisible()
    assert "tiles.csv" in window.message.happened.whole()
    assert window.message.next_step.whole()
    small_shop.qtbot.mouseClick(window.message.away, Qt.MouseButton.LeftButton)
    assert not window.message.isVisible()


def test_long_work_shows_how_far_it_is_and_can_be_cancelled(small_shop):
    line, jobs = small_shop.window.jobs_line, small_shop.desks.jobs
    go_on = threading.Event()

    def work(report):
        report(3, 12, "photos")
        while not go_on.wait(0.01):
            report(3, 12, "photos")

    job = jobs.start(work, "measure")
    assert not line.isVisible()
    small_shop.qtbot.waitUntil(line.isVisible, timeout=PATIENCE_MS * 10)
    assert "3 of 12 photos" in line.words.whole()
    small_shop.qtbot.mouseClick(line.cancel, Qt.MouseButton.LeftButton)
    assert job.stopped
    assert not line.isVisible()
    go_on.set()


def test_short_work_does_not_flash(small_shop):
    line, jobs = small_shop.window.jobs_line, small_shop.desks.jobs
    with small_shop.qtbot.waitSignal(jobs.start(lambda report: None, "measure").ended):
        pass
    assert not line.isVisible()
    assert not line._patience.isActive()


def test_the_surround_changes_by_key_and_by_button(small_shop):
    window = small_shop.window
    small_shop.place("tiles")
    try:
        small_shop.qtbot.mouseClick(window.header.surround.keys[Surround.WHITE], Qt.MouseButton.LeftButton)
        assert look.surround is Surround.WHITE
        small_shop.qtbot.keyClick(window, Qt.Key.Key_S)
        assert look.surround is Surround.BLACK
    finally:
        look.set_surround(Surround.GREY)


def test_the_window_remembers_its_size(small_shop):
    small_shop.window.resize(1111, 777)
    QApplication.processEvents()
    small_shop.window.close()
    assert Settings().text("geometry")


def test_every_place_has_its_own_help(small_shop):
    from swatch.screens.help_window import page_of

    pages = {code: page_of(code) for code in (*small_shop.window.rail, "measure", "keys", "cautions", "welcome")}
    assert len(set(pages.values())) == len(pages)


def test_nothing_in_the_help_calls_a_surface_safe():
    from swatch.resources import resource

    for file in resource("help").glob("*.md"):
        text = " ".join(file.read_text(encoding="utf-8").split())
        for at in range(len(text)):
            if text.startswith("safe for food", at):
                before = text[max(0, at - 80) : at]
                assert "never says" in before or "Nothing here says" in before, (file.name, before)
