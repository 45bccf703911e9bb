"""How far off I've been: predicted beside fired, worst first; errors by kind of question; stated against held."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from swatch.desk.trusting import ALL, Trusting
from swatch.screens.components.calibration_curve import CalibrationCurve
from swatch.screens.components.pair_list import PairHead, PairList
from swatch.screens.place import Place
from swatch.screens.seen import when_seen
from swatch.screens.style import UNIT, look
from swatch.screens.widgets import (
    Choice,
    Rule,
    area,
    button,
    column,
    empty,
    labelled,
    plain,
    quiet,
    restyle,
    row,
    scrolled,
    strong,
)
from swatch.terms.answers import TrustAnswer, TrustLine
from swatch.wording.answers import chance_in_words
from swatch.wording.problems import problem_in_words
from swatch.wording.text import say
from swatch.wording.trust import (
    against_others_in_words,
    outlier_in_words,
    trust_in_words,
    trust_kind_in_words,
    trust_note,
)

SIDE = 432


class TrustScreen(Place):
    """The pairs at the left, the figures at the right."""

    code = "trust"
    place_wanted = Signal(str)
    act_wanted = Signal(str, str)

    def __init__(self, trusting: Trusting) -> None:
        super().__init__()
        self._trusting = trusting
        self.kind = Choice(say("Kind of question"))
        self.head, self.list = PairHead(), PairList(trusting.rows)
        self.sentence = strong(wrap=True)
        self.table = QGridLayout()
        self.table.setHorizontalSpacing(UNIT)
        self.curve = CalibrationCurve()
        self._odd: QVBoxLayout = column(spacing=UNIT)
        self.back = button(say("Back to Next"), lambda: self.place_wanted.emit("next"))
        self.check = button("", trusting.desk.check_trust, main=True)
        bar = row(spacing=UNIT)
        bar.setContentsMargins(2 * UNIT, UNIT, 2 * UNIT, UNIT)
        bar.addWidget(quiet(say("Asked as")).hug())
        self.kind.setMinimumWidth(240)
        bar.addWidget(self.kind)
        bar.addStretch(1)
        left = column(spacing=0)
        left.addWidget(area("panel", bar))
        left.addWidget(self.head)
        left.addWidget(self.list, 1)
        line = row(spacing=0)
        line.addLayout(left, 1)
        line.addWidget(self._side())
        self.setLayout(line)
        self.kind.chosen.connect(lambda kind: trusting.look_at(str(kind)))
        self.list.tile_wanted.connect(lambda tile: self.act_wanted.emit("tile", tile))
        trusting.changed.connect(self._show)
        self._show()

    def _side(self) -> QWidget:
        inside = column(margins=2 * UNIT, spacing=UNIT)
        inside.addWidget(self.sentence)
        inside.addLayout(self.table)
        inside.addWidget(quiet(trust_note(), wrap=True))
        inside.addWidget(Rule())
        self._curves = area("raised", labelled(say("Is the doubt stated right?"), self.curve))
        self._curve_words = quiet(
            say("Below the dashes it was too sure of itself, above them too careful."), wrap=True
        )
        inside.addWidget(self._curves)
        inside.addWidget(self._curve_words)
        inside.addLayout(self._odd)
        inside.addStretch(1)
        keys = row(margins=2 * UNIT, spacing=UNIT)
        keys.addWidget(self.back, 1)
        keys.addWidget(self.check, 1)
        whole = column(spacing=0)
        read = scrolled(area("raised", inside))
        whole.addWidget(read, 1)
        whole.addWidget(area("raised", keys))
        return area("raised", whole, SIDE)

    @when_seen
    def _show(self) -> None:
        trusting, answer = self._trusting, self._trusting.answer
        kinds = [(trust_kind_in_words(kind), kind) for kind in trusting.kinds()]
        self.kind.offer([(say("any kind of question"), ALL), *kinds], trusting.kind)
        self.kind.setEnabled(answer is not None)
        self.head.setVisible(answer is not None)
        self.list.empty_text = self._nothing()
        self.list.viewport().update()
        if answer is not None and trusting.rows.rowCount() and not self.list.currentIndex().isValid():
            self.list.setCurrentIndex(trusting.rows.index(0))
        self.check.setText(say("Check again") if answer is not None else say("Check now"))
        self.check.setAccessibleName(self.check.text())
        if bool(self.check.property("main")) != (answer is None):  # the accent is on what is still to do
            self.check.setProperty("main", answer is None)
            self.check.setFont(look.font(strong=answer is None))
            restyle(self.check)
        self.check.setEnabled(not trusting.checking)
        self.sentence.say(trust_in_words(answer.questions) if answer is not None else "")
        self._curves.setVisible(answer is not None)
        self._curve_words.setVisible(answer is not None)
        self.curve.show_curves({kind: trusting.curve(kind) for kind in trusting.kinds()}, trusting.kind)
        self._show_table(answer)
        self._show_odd(answer)
        self.headed.emit()

    def _show_table(self, answer: TrustAnswer | None) -> None:
        empty(self.table)
        if answer is None:
            return
        names = (say("half within"), say("9 of 10"), say("95 % hold"))
        self.table.setColumnStretch(0, 1)
        for k, name in enumerate(names, 1):
            self.table.addWidget(quiet(name).hug(), 0, k)
        for n, one in enumerate(answer.questions):
            self._show_line(2 * n + 1, one)

    def _show_line(self, at: int, one: TrustLine) -> None:
        name = strong(trust_kind_in_words(one.question), wrap=True)
        self.table.addWidget(name, at, 0)
        figures = (f"{one.median_de00:.1f}", f"{one.p90_de00:.1f}", chance_in_words(one.covers_95))
        for k, text in enumerate(figures, 1):
            self.table.addWidget(plain(text, size=15).hug(), at, k)
        tried = say("({n} tried)").format(n=one.n)
        under = quiet(f"{against_others_in_words(one)} {tried}", wrap=True)
        self.table.addWidget(under, at + 1, 0, 1, 4)

    def _show_odd(self, answer: TrustAnswer | None) -> None:
        empty(self._odd)
        odd = answer.outliers if answer is not None else ()
        if not odd:
            return
        self._odd.addWidget(Rule())
        self._odd.addWidget(strong(say("Tiles that do not fit the others")))
        for one in odd:
            line = row(spacing=UNIT)
            line.addWidget(plain(outlier_in_words(one), wrap=True), 1)
            key = button(one.tile, partial(self.act_wanted.emit, "tile", one.tile))
            key.setProperty("small", True)
            key.setAccessibleName(say("Look at {tile}").format(tile=one.tile))
            line.addWidget(key)
            self._odd.addLayout(line)

    def _nothing(self) -> str:
        trusting = self._trusting
        if trusting.checking:
            return say("Leaving tiles out and predicting them: this takes a while.")
        if trusting.desk.trust_problem is not None:
            return "\n".join(problem_in_words(trusting.desk.trust_problem))
        return say("Predicts your own tiles as if unseen, and lays each beside what came out. Press “Check now”.")

    def heading(self) -> tuple[str, str]:
        """From how many readings."""
        answer = self._trusting.answer
        if answer is None:
            return say("How far off I've been"), say("Your own tiles, predicted as if unseen.")
        text = say("Learnt from {n} readings; each tile here was left out before it was predicted.")
        return say("How far off I've been"), text.format(n=answer.learnt_from)

    def foot(self) -> str:
        """How to open a tile."""
        return say("Enter opens the tile. X swaps predicted and fired.") if self._trusting.answer else ""

    def come(self) -> None:
        """Keyboard on the pairs, or on the check where there are none."""
        (self.list if self._trusting.rows.rowCount() else self.check).setFocus()
