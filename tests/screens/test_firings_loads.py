"""What was in a firing, the unloading order, notes, and its log with the chart."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from swatch.terms.colour import Covariance, Lab
from swatch.terms.editions import EditionRegion, PieceReading, Role
from swatch.terms.materials import Firing
from swatch.work.firing_heat import heat_job

DOUBT = Covariance(0.3, 0.0, 0.0, 0.3, 0.0, 0.3)


@pytest.fixture
def fired(small_shop):
    studio = small_shop.desks.studio
    pieces = [PieceReading("Lid", f"L{n}", "outside", Lab(50, 0, 0), DOUBT, firing="F-2") for n in range(1, 7)]
    studio.do(lambda one: one.put_firings([Firing("F-2", "2026-06-01")], frozenset({"date"})))
    studio.do(lambda one: one.put_editions([EditionRegion("Lid", "outside")], frozenset()))
    studio.do(lambda one: one.put_pieces(pieces, frozenset({"firing"})))
    small_shop.workers.answers["heat"] = lambda asked: heat_job(asked, lambda *_: None)
    small_shop.desks.firings.choose("F-2")
    return small_shop


def lines(layout):
    return [layout.itemAt(n).widget().whole() for n in range(layout.count())]


def rows(screen):
    return [screen.list.item(n).data(Qt.ItemDataRole.AccessibleTextRole) for n in range(screen.list.count())]


def test_pieces_count_in_the_list_and_lack_a_cone(fired):
    screen = fired.place("firings")
    assert rows(screen)[0] == "F-2, programme asked, cone reached not entered"
    assert "2 without a cone reached" in screen.heading()[1]


def test_the_unloading_order_fills_the_shelves(fired):
    screen = fired.place("firings")
    load = screen.form.load
    assert lines(load._lines) == ["6 pieces of Lid: no shelf L1, L2, L3, L4, L5, L6"]
    load.shelves.setText("top, middle, bottom")
    assert load.fill.text() == "Put 6 pieces on these shelves"
    fired.qtbot.mouseClick(load.fill, Qt.MouseButton.LeftButton)
    QApplication.processEvents()
    assert lines(load._lines) == ["6 pieces of Lid: top L1, L2; middle L3, L4; bottom L5, L6"]
    assert not load.fill.isVisible()
    pieces = fired.desks.studio.studio.pieces()
    assert [one.shelf for one in pieces] == ["top", "top", "middle", "middle", "bottom", "bottom"]
    assert all(one.role is Role.PIECE and one.lab == Lab(50, 0, 0) for one in pieces)
    fired.desks.undoing.undo()
    assert {one.shelf for one in fired.desks.studio.studio.pieces()} == {None}


def test_notes_are_kept(fired):
    screen = fired.place("firings")
    screen.form.note.setText("lid lifted at 900")
    fired.qtbot.keyClick(screen.form.note, Qt.Key.Key_Return)
    assert fired.desks.firings.chosen.firing.note == "lid lifted at 900"
    assert fired.desks.firings.chosen.firing.date == "2026-06-01"


def test_a_log_is_brought_in_and_charted_with_its_heat_work(fired, tmp_path):
    log = tmp_path / "kiln.csv"
    rows_ = [(0, 20), (600, 1190), (610, 1222), (620, 1222), (700, 900)]
    log.write_text("minutes,celsius\n" + "\n".join(f"{a},{b}" for a, b in rows_) + "\n")
    screen = fired.place("firings")
    fired.desks.firings.bring_log(log)
    fired.qtbot.waitUntil(lambda: fired.desks.firings.heat is not None)
    section = screen.form.log
    section.chart.build()
    assert section.chart.accessibleDescription() == "11.7 hours, peak 1222 °C."
    assert "peak 1222 °C" in lines(section._lines)[0]
    heat = fired.desks.firings.heat
    assert heat.done[0] == 0.0
    assert heat.done[-1] == 1.0
    assert list(heat.done) == sorted(heat.done)
    assert not fired.desks.firings.chosen.lacks_cone


def test_a_file_that_is_no_log_is_refused_in_words(fired, tmp_path):
    log = tmp_path / "kiln.csv"
    log.write_text("time,heat\n1,2\n")
    fired.place("firings")
    fired.desks.firings.bring_log(log)
    assert fired.window.message.isVisible()
    assert fired.desks.studio.evidence.logs == ()
