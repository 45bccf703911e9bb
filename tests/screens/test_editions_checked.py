"""Loads, kiln and sets of an edition in the window, driven as a potter does."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from swatch.terms.colour import Covariance, Lab
from swatch.terms.editions import EditionRegion, PieceReading, Role
from swatch.terms.holding import (
    CheckAnswer,
    FiringChart,
    KilnPlace,
    LikelyCause,
    LoadCheck,
    LoadVerdict,
    PieceCheck,
    PieceVerdict,
    RegionChange,
    Spread,
)
from swatch.terms.problems import Notice

DOUBT = Covariance(1.0, 0.0, 0.0, 1.0, 0.0, 1.0)
LOOK, NOW = Lab(50.0, 10.0, 10.0), Lab(47.0, 10.0, 13.0)


def load(firing, verdict, causes=(), missing=()):
    regions = (RegionChange("inside", LOOK, LOOK, 0.0), RegionChange("outside", LOOK, NOW, 3.4, 4.1, 1.2))
    return LoadCheck(
        firing, "2026-09-01", 2, 3.4, 40.0, 29.0, verdict, ("look",), Lab(-3.0, 0.0, 3.0), regions, causes, 0.2,
        2.0, heat_cones=0.8, heat_from="buttons", missing=missing,
    )  # fmt: skip


def answer(request):
    heat = (LikelyCause("heat", 0.8, "cone", 0.85), LikelyCause("not-explained", 2.0, "ΔE", 0.15))
    pieces = tuple(
        PieceCheck(name, "F-2", "top", "outside", de00, de00 * 5, 20.0, verdict)
        for name, de00, verdict in (("P3", 1.0, PieceVerdict.WITHIN), ("P4", 6.0, PieceVerdict.OFF))
    )
    return CheckAnswer(
        request["request"].edition, 3.5, True, 12, 3, ("inside", "outside"),
        (load("F-1", LoadVerdict.HOLDS), load("F-2", LoadVerdict.DRIFTED, heat, (Notice("no-kept-piece"),))),
        pieces, (("P3", "P4"),), ("P5",), Spread(0.2, 0.1, 0.6, 0.1), 0.1,
        (KilnPlace("bottom", 3, Lab(0, 0, 0), 0.1), KilnPlace("top", 3, Lab(2, 0, 0), 2.0, 0.2)),
        (FiringChart("L*", ("F-1", "F-2"), (0.1, -3.0), 0.0, -2.0, 2.0),),
    )  # fmt: skip


@pytest.fixture
def checked(small_shop):
    regions = [EditionRegion("Lantern lid", region, planned=40) for region in ("inside", "outside")]
    readings = [
        PieceReading("Lantern lid", piece, region, LOOK, DOUBT, firing="F-1", role=role)
        for piece, role in (("P1", Role.APPROVED), ("P3", Role.PIECE), ("P4", Role.PIECE))
        for region in ("inside", "outside")
    ]
    studio = small_shop.desks.studio
    studio.do(lambda records: records.put_editions(regions, frozenset({"planned"})))
    studio.do(lambda records: records.put_pieces(readings, frozenset({"firing", "role"})))
    small_shop.workers.answers["check"] = answer
    return small_shop


def opened(shop):
    screen = shop.place("editions")
    shop.qtbot.waitUntil(lambda: shop.desks.checking.answer is not None and not shop.desks.checking.busy)
    QApplication.processEvents()
    return screen


def rows(plain_list):
    return [plain_list.item(n).data(Qt.ItemDataRole.AccessibleTextRole) for n in range(plain_list.count())]


def test_loads_are_checked_when_the_place_opens_and_said_in_words(checked):
    screen = opened(checked)
    loads = screen.loads
    assert rows(loads.list) == ["F-2, 2 pieces: drifted", "F-1, 2 pieces: holds the look"]
    assert loads.title.whole() == "F-2 drifted: darker, yellower."
    assert loads.cause.whole() == "Probably heat: 0.80 cones hotter (85 %)."
    assert "check cones and programme" in loads.next_step.whole()
    assert rows(loads.pieces)[0].startswith("P4, top, off; most in outside: 6.0 ΔE00")
    assert "heat: 0.80 cones hotter 85 %" in loads.shares.accessibleDescription()
    assert rows(screen.list) == ["Lantern lid, F-2: drifted"]
    facts = [loads._facts.itemAt(n).widget().whole() for n in range(loads._facts.count())]
    assert "outside, by its colours and their shares: 4.1 ΔE00 apart, 1.2 from piece to piece." in facts


def test_another_load_and_another_chart_are_chosen_by_keyboard(checked):
    screen = opened(checked)
    screen.loads.chart.build()
    screen.loads.chart.setFocus()
    checked.qtbot.keyClick(screen.loads.chart, Qt.Key.Key_Left)
    assert screen.loads.title.whole() == "F-1 holds the look: darker, yellower."
    screen.loads.chart_choice.setFocus()
    checked.qtbot.keyClick(screen.loads.chart_choice, Qt.Key.Key_Down)
    assert screen.loads.chart.accessibleName() == "Chart over firings: Lightness"
    assert screen.loads.chart.accessibleDescription() == "F-1 0.1, F-2 -3.0. Beyond the limit: F-2."


def test_the_strip_shows_the_region_that_changed_most(checked):
    screen = opened(checked)
    assert screen.loads.region.currentText() == "outside"
    assert screen.loads.strip.accessibleName() == "The look and each load, outside"


def test_kiln_and_sets(checked):
    screen = opened(checked)
    checked.qtbot.mouseClick(screen.tabs["kiln"], Qt.MouseButton.LeftButton)
    QApplication.processEvents()
    assert screen.kiln.sentence.whole() == "Most of the variation is between pieces of a shelf: hand and clay."
    assert screen.kiln.map.accessibleDescription().startswith("top: lighter, 2.0 ΔE00 from the mean of its loads")
    checked.qtbot.mouseClick(screen.tabs["sets"], Qt.MouseButton.LeftButton)
    QApplication.processEvents()
    assert screen.sets.sets.accessibleDescription() == "P3, P4"
    assert screen.sets.held_back.whole() == "Hold back: P5."
    screen.sets.many.setFocus()
    checked.qtbot.keyClick(screen.sets.many, Qt.Key.Key_Up)
    checked.qtbot.waitUntil(lambda: not checked.desks.checking.busy)
    assert checked.workers.asked[-1][1]["request"].set_size == 3


def test_without_measured_pieces_it_says_what_to_do_first(small_shop):
    studio = small_shop.desks.studio
    studio.do(lambda records: records.put_editions([EditionRegion("Bare", "outside")], frozenset()))
    screen = small_shop.place("editions")
    assert screen.form.isVisible()
    small_shop.qtbot.mouseClick(screen.tabs["loads"], Qt.MouseButton.LeftButton)
    QApplication.processEvents()
    assert screen.loads.state.whole().startswith("No piece has been measured yet.")
    assert small_shop.workers.asked == []


def test_a_tolerance_that_no_sample_supports_is_said_to_be_so(checked):
    screen = opened(checked)
    screen.show_view("layers")
    screen.form.tolerance.setText("2")
    checked.qtbot.keyClick(screen.form.tolerance, Qt.Key.Key_Return)
    assert checked.desks.editions.region.tolerance == 2.0
    assert "can mostly not be promised" in screen.form.bad.whole()
