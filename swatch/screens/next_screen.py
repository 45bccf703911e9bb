"""What needs you, the costliest to leave first; each with the step that deals with it."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QDate, QLocale, QRect, QSize, Qt, Signal
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QVBoxLayout, QWidget

from swatch.desk.next import Next, NextThing
from swatch.desk.opening import OpenStudio
from swatch.screens.components.caution_line import paint_triangle
from swatch.screens.components.painting import Painted, fill
from swatch.screens.place import Place
from swatch.screens.seen import when_seen
from swatch.screens.style import UNIT
from swatch.screens.widgets import (
    Bench,
    Rule,
    area,
    button,
    column,
    empty,
    link,
    plain,
    quiet,
    row,
    scrolled,
    strong,
)
from swatch.terms.answers import TrustLine
from swatch.wording.languages import spoken
from swatch.wording.problems import problem_in_words
from swatch.wording.text import say, say_many

BENCH, SIDE, ROW = 168, 336, 116


class ThingSwatch(Painted):
    """The colours a thing is about, edge to edge; empty bench where it is about none."""

    def __init__(self, thing: NextThing) -> None:
        super().__init__()
        self._colours = thing.colours
        self.say_as(say("Colours"), thing.title if thing.colours else "")

    def wanted_size(self) -> QSize:
        """The width of the bench column."""
        return QSize(BENCH, ROW)

    def paint(self, painter: QPainter) -> None:
        """All colours."""
        n = len(self._colours)
        for k, lab in enumerate(self._colours):
            left, right = 136 * k // n, 136 * (k + 1) // n
            fill(painter, QRect(16 + left, 14, right - left, ROW - 28), lab)


class Sign(Painted):
    """The triangle before what warns."""

    on_bench = False

    def wanted_size(self) -> QSize:
        """One sign."""
        return QSize(20, 20)

    def paint(self, painter: QPainter) -> None:
        """The triangle, in ink."""
        paint_triangle(painter, 3, 10)


class NextScreen(Place):
    """The list at the left, trust and safety at the right."""

    code = "next"
    shows_colour = False
    act_wanted = Signal(str, str)

    def __init__(self, desk: Next, studio: OpenStudio) -> None:
        super().__init__()
        self._desk, self._studio = desk, studio
        self.steps: list[QWidget] = []
        self._shown: Sequence[NextThing] | None = None
        self._things: QVBoxLayout = column(spacing=0)
        self._trust: QVBoxLayout = column(spacing=UNIT)
        self.check = button(say("Check now"), desk.check_trust)
        self.worst = link(say("How far off I've been…"), lambda: self.act_wanted.emit("trust", ""))
        list_ground = area("panel", self._things)
        line = row(spacing=0)
        line.addWidget(scrolled(list_ground), 1)
        line.addWidget(self._side())
        self.setLayout(line)
        desk.shown.connect(self._show)
        desk.trust_changed.connect(self._show_trust)
        self._show()
        self._show_trust()

    def _side(self) -> QWidget:
        inside = column(margins=2 * UNIT, spacing=UNIT)
        inside.addWidget(strong(say("How far to trust it")))
        inside.addLayout(self._trust)
        inside.addWidget(self.check)
        inside.addWidget(self.worst)
        inside.addWidget(Rule())
        inside.addWidget(strong(say("Safety")))
        for text in (
            say("A new layering may run: keep 3 mm clear of the foot, and put a cookie under it."),
            say("Bare underglaze, crazed glaze: not for food. Only a laboratory's leach test settles it."),
            say("Dry glaze dust holds silica: clean wet, wear a fitted respirator when spraying."),
        ):
            inside.addWidget(plain(text, wrap=True))
        inside.addStretch(1)
        return area("raised", inside, SIDE)

    @when_seen
    def _show(self) -> None:
        things = self._desk.things
        if self._shown == things:
            self.headed.emit()  # the same rows, perhaps on another day
            return
        self._shown = things
        held = self.window().focusWidget()
        had = next((n for n, step in enumerate(self.steps) if step is held), None)
        empty(self._things)
        self.steps = []
        for n, thing in enumerate(things):
            self._things.addWidget(self._row(thing, main=n == 0))
        if not things:
            words = column(margins=3 * UNIT, spacing=UNIT)
            words.addWidget(strong(say("Nothing needs you now.")))
            words.addWidget(plain(say("Drop photos of new tiles, or look for a colour under Match."), wrap=True))
            self._things.addLayout(words)
        rest = Bench()
        rest.setFixedWidth(BENCH)
        self._things.addWidget(rest, 1)
        if had is not None and self.steps:
            # The step that held the keyboard was made anew: the one in its place holds it now.
            self.steps[min(had, len(self.steps) - 1)].setFocus(Qt.FocusReason.OtherFocusReason)
        self.headed.emit()

    def _row(self, thing: NextThing, *, main: bool) -> QWidget:
        line = row(spacing=0)
        line.addWidget(ThingSwatch(thing))
        words = column(spacing=4)
        words.setContentsMargins(3 * UNIT, 2 * UNIT, 2 * UNIT, 2 * UNIT)
        words.addStretch(1)
        head = row(spacing=UNIT)
        if thing.warns:
            head.addWidget(Sign())
        else:
            head.addSpacing(20 + UNIT)  # a space in a row has none beside it
        head.addWidget(strong(thing.title), 1)
        words.addLayout(head)
        below = row(spacing=0)
        below.addSpacing(20 + UNIT)
        below.addWidget(quiet(thing.why, wrap=True), 1)
        words.addLayout(below)
        words.addStretch(1)
        beside = QWidget()
        across = row(spacing=2 * UNIT)
        across.setContentsMargins(0, 0, 3 * UNIT, 0)
        across.addLayout(words, 1)
        act = button(thing.button, lambda: self.act_wanted.emit(thing.act, thing.about), main=main)
        act.setFixedWidth(208)
        act.setMinimumHeight(44)
        act.setAccessibleDescription(f"{thing.title}. {thing.why}")
        self.steps.append(act)
        across.addWidget(act)
        beside.setLayout(across)
        ground = column(spacing=0)
        ground.addWidget(beside, 1)
        ground.addWidget(Rule())
        line.addWidget(area("raised" if main else "panel", ground), 1)
        whole = QWidget()
        whole.setLayout(line)
        whole.setFixedHeight(ROW)
        return whole

    @when_seen
    def _show_trust(self) -> None:
        empty(self._trust)
        trust, desk = self._desk.trust, self._desk
        self.check.setVisible(trust is None and not desk.checking)
        if desk.checking:
            self._trust.addWidget(
                plain(say("Leaving tiles out and predicting them: this takes a while."), wrap=True)
            )
        elif desk.trust_problem is not None:
            for text in problem_in_words(desk.trust_problem):
                self._trust.addWidget(plain(text, wrap=True))
        elif trust is None:
            hint = say("Leaves your own tiles out, predicts them, and compares: how far off was it?")
            self._trust.addWidget(plain(hint, wrap=True))
        else:
            text = say("Learnt from {n} readings; measured by leaving your own tiles out.")
            self._trust.addWidget(plain(text.format(n=trust.learnt_from), wrap=True))
            for one in trust.questions:
                self._trust.addLayout(_trust_line(one))
        self._trust.addWidget(
            quiet(say("Proven on simulated studios and real paint, not yet on fired glazes."), wrap=True)
        )

    def heading(self) -> tuple[str, str]:
        """The day, and how many things wait."""
        today = QLocale(spoken()).toString(QDate.currentDate(), say("dddd d MMMM"))
        n = len(self._desk.things)
        if not n:
            return say("Next"), say("{day}. Nothing needs you now.").format(day=today)
        text = say_many(
            "{day}. {n} thing needs you.", "{day}. {n} things need you; the first costs most if it waits.", n
        )
        return say("Next"), text.format(day=today, n=n)

    def come(self) -> None:
        """Keyboard on the first step."""
        if self.steps:
            self.steps[0].setFocus(Qt.FocusReason.OtherFocusReason)


def _trust_line(line: TrustLine) -> QVBoxLayout:
    words = {
        "another tile": say("another tile of a known layering"),
        "new layering": say("a new layering"),
        "another cone": say("another cone"),
        "another firing": say("another firing"),
        "unseen material": say("a material never fired"),
    }
    whole = column(spacing=0)
    text = say("{question}: half within {median:.1f}, 9 of 10 within {p90:.1f} ΔE00 ({n} tried)")
    name = words.get(line.question, line.question)
    whole.addWidget(
        plain(text.format(question=name, median=line.median_de00, p90=line.p90_de00, n=line.n), wrap=True)
    )
    return whole
