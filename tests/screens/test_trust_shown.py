"""How far off I've been: opened from Next, worst pair first, figures and curve said in words."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from swatch.terms.answers import Held, Outlier, SaidAndFired, TrustAnswer, TrustLine
from swatch.terms.colour import Lab
from swatch.wording.trust import trust_in_words

NEW, CONE = "new layering", "another cone"
ANSWER = TrustAnswer(
    40,
    (TrustLine(NEW, 30, 3.6, 9.8, 11.2, 9.9, 0.81, 0.96), TrustLine(CONE, 10, 2.0, 5.0, 6.0, 7.0, 0.8, 0.95)),
    (Outlier("T2", "A", 14.2),),
    (Held(NEW, 0.8, 0.81), Held(NEW, 0.95, 0.96), Held(CONE, 0.8, 0.8)),
    (
        SaidAndFired(NEW, "T3", "A", Lab(45.0, 0.0, 20.0), Lab(35.0, 0.0, 20.0), 9.0),
        SaidAndFired(CONE, "T1", "B", Lab(50.0, -16.0, 14.0), Lab(50.0, -18.0, 14.0), 1.5),
    ),
)


@pytest.fixture
def checked(small_shop):
    small_shop.workers.answers["trust"] = ANSWER
    screen = small_shop.place("next")
    small_shop.qtbot.mouseClick(screen.worst, Qt.MouseButton.LeftButton)
    place = small_shop.window.now
    assert place.code == "trust"
    assert "Check now" in place.list.empty_text
    small_shop.qtbot.mouseClick(place.check, Qt.MouseButton.LeftButton)
    small_shop.qtbot.waitUntil(lambda: place.list.model().rowCount() == 2, timeout=15_000)
    small_shop.qtbot.waitUntil(place.check.isEnabled, timeout=15_000)
    QApplication.processEvents()
    return small_shop


def test_the_sentence_speaks_of_new_layerings():
    assert trust_in_words(ANSWER.questions) == (
        "For a new layering expect about 4; one in ten is off by more than 10 ΔE00."
    )


def test_pairs_touch_the_worst_first_and_are_said(checked):
    place = checked.window.now
    assert place.sentence.whole().startswith("For a new layering expect about 4")
    said = place.list.model().index(0, 0).data(Qt.ItemDataRole.AccessibleTextRole)
    assert said.startswith("T3 A, asked as a new layering: predicted L* 45.0")
    assert "Darker by 10.0" in said
    checked.qtbot.keyClick(place.list, Qt.Key.Key_Down)
    checked.qtbot.keyClick(place.list, Qt.Key.Key_Return)
    assert checked.window.now.code == "tiles"
    assert checked.desks.tiles.chosen.tile == "T1"


def test_one_kind_of_question_is_looked_at_with_its_curve(checked):
    place = checked.window.now
    place.kind.chosen.emit(NEW)
    assert place.list.model().rowCount() == 1
    assert place.curve.accessibleDescription() == (
        "a new layering: of 80 % stated 81 % held; of 95 % stated 96 % held."
    )


def test_what_was_found_of_other_records_is_shown_no_more(checked):
    place = checked.window.now
    checked.desks.studio.do(lambda studio: studio.set_aside([1]))
    assert place.list.model().rowCount() == 0
    assert place.check.text() == "Check now"
