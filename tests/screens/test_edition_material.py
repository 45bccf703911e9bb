"""An edition's material and its report in the window."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QFileDialog

from swatch.terms.cone import Cone
from swatch.terms.editions import EditionRegion, Tallied
from swatch.terms.layering import parse_layers
from swatch.terms.problems import StudioProblem
from swatch.work.edition_report import edition_report_job
from swatch.work.material_plan import material_plan_job


def silent(*_said):
    return None


@pytest.fixture
def planned(small_shop):
    region = EditionRegion(
        "Lid", "outside", planned=40, body="Dunbank", cone=Cone(6.0), area_dm2=2.0, layers=parse_layers("Amber*2")
    )
    given = frozenset({"planned", "body", "cone", "area_dm2", "layers"})
    small_shop.desks.studio.do(lambda one: one.put_editions([region], given))
    small_shop.workers.answers["material plan"] = lambda asked: material_plan_job(asked, silent)
    small_shop.workers.answers["edition report"] = lambda asked: edition_report_job(asked, silent)
    return small_shop


def shown(shop):
    screen = shop.place("editions")
    shop.qtbot.mouseClick(screen.tabs["material"], Qt.MouseButton.LeftButton)
    shop.qtbot.waitUntil(lambda: shop.desks.edition_plan.plan is not None and not shop.desks.edition_plan.busy)
    QApplication.processEvents()
    return screen.material


def test_what_is_needed_is_said_and_counts_are_entered(planned):
    view = shown(planned)
    assert "40 planned" in view.counts.whole()
    assert "Amber" in view._rows.itemAt(0).layout().itemAt(0).widget().whole()
    view.many.setValue(6)
    planned.qtbot.mouseClick(view.enter, Qt.MouseButton.LeftButton)
    planned.qtbot.mouseClick(view.enter, Qt.MouseButton.LeftButton)
    planned.qtbot.waitUntil(lambda: bool(planned.desks.edition_plan.plan))
    (tally,) = planned.desks.studio.studio.tallies()
    assert (tally.what, tally.count) == (Tallied.FIRED, 12)
    planned.qtbot.waitUntil(lambda: "12 fired" in view.counts.whole())


def test_a_plan_that_cannot_be_made_is_asked_for_once(planned):
    planned.workers.answers["material plan"] = StudioProblem("unknown-edition", name="Lid", known="–")
    screen = planned.place("editions")
    planned.qtbot.mouseClick(screen.tabs["material"], Qt.MouseButton.LeftButton)
    planned.qtbot.waitUntil(lambda: not planned.desks.edition_plan.busy and bool(planned.workers.asked))
    QApplication.processEvents()
    assert [name for name, _asked in planned.workers.asked] == ["material plan"]
    assert planned.window.message.isVisible()


def test_the_report_is_written_where_it_is_wanted(planned, tmp_path, monkeypatch):
    screen = planned.place("editions")
    out = tmp_path / "lid.csv"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_asked: (str(out), ""))
    with planned.qtbot.waitSignal(planned.desks.edition_plan.reported, timeout=20_000):
        planned.qtbot.mouseClick(screen.report, Qt.MouseButton.LeftButton)
    assert "Lid" in out.read_text(encoding="utf-8-sig")
    planned.qtbot.waitUntil(screen.report.isEnabled)
