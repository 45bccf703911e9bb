"""A material's end: what stands in for it at every use; jars to buy; where what is left goes."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from swatch.desk.matching import Matching
from swatch.desk.sections import Section
from swatch.screens.components.caution_line import CautionLine
from swatch.screens.components.section import SectionSmall
from swatch.screens.place import Place
from swatch.screens.seen import when_seen
from swatch.screens.style import HALF, UNIT
from swatch.screens.widgets import (
    Bench,
    Rule,
    area,
    button,
    column,
    empty,
    plain,
    quiet,
    row,
    scrolled,
    strong,
)
from swatch.terms.answers import ReplaceAnswer
from swatch.terms.replacing import StandIn
from swatch.wording.answers import chance_in_words, layers_in_words
from swatch.wording.problems import notice_in_words
from swatch.wording.replacing import bridge_in_words, jars_in_words, need_in_words, sample_in_words
from swatch.wording.text import say, say_many

SIDE = 432


class StandInsScreen(Place):
    """Stand-ins at the left, what to buy and to keep at the right."""

    code = "stand-ins"
    place_wanted = Signal(str)
    tests_wanted = Signal(object)

    def __init__(self, matching: Matching) -> None:
        super().__init__()
        self._matching = matching
        self.names: list[str] = []
        self._rows: QVBoxLayout = column(spacing=0)
        self.jars = strong(wrap=True)
        self._lines: QVBoxLayout = column(spacing=UNIT)
        self.back = button(say("Back to the uses"), lambda: self.place_wanted.emit("match"))
        self.plan = button(say("Plan six test tiles"), self._plan, main=True)
        line = row(spacing=0)
        self._scroll = scrolled(area("panel", self._rows))
        self._scroll.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._scroll.setAccessibleName(say("Stand-ins, judged by their worst use"))
        line.addWidget(self._scroll, 1)
        line.addWidget(self._side())
        self.setLayout(line)
        matching.found_changed.connect(self._show)
        self._show()

    def _side(self) -> QWidget:
        inside = column(margins=2 * UNIT, spacing=UNIT)
        inside.addWidget(self.jars)
        inside.addLayout(self._lines)
        inside.addStretch(1)
        keys = row(margins=2 * UNIT, spacing=UNIT)
        keys.addWidget(self.back, 1)
        keys.addWidget(self.plan, 1)
        whole = column(spacing=0)
        whole.addWidget(scrolled(area("raised", inside)), 1)
        whole.addWidget(area("raised", keys))
        return area("raised", whole, SIDE)

    def _plan(self) -> None:
        self.tests_wanted.emit(self._matching.tests())

    @when_seen
    def _show(self) -> None:
        answer = self._matching.answer
        plan = answer.plan if isinstance(answer, ReplaceAnswer) else None
        empty(self._rows)
        empty(self._lines)
        self.names = []
        self.plan.setEnabled(plan is not None)
        self.jars.say("")
        if plan is None or not isinstance(answer, ReplaceAnswer):
            inside = column(margins=3 * UNIT)
            text = say("Looking…") if self._matching.looking else say("Ask under Materials what replaces one.")
            inside.addWidget(plain(text, wrap=True, size=15))
            self._rows.addLayout(inside)
            self._rows.addStretch(1)
            self.headed.emit()
            return
        for rank, one in enumerate(plan.together, 1):
            self._rows.addWidget(self._row(rank, one))
        if not plan.together:
            inside = column(margins=3 * UNIT)
            inside.addWidget(plain(say("Nothing in stock stands in for it everywhere."), wrap=True, size=15))
            self._rows.addLayout(inside)
        self._rows.addStretch(1)
        self.jars.say(jars_in_words(plan, answer.material))
        for need in plan.needs:
            self._lines.addWidget(plain(need_in_words(need, answer.material), wrap=True))
        kept = [bridge_in_words(step, answer.material) for step in plan.bridge if step.pieces]
        self._part(say("Where what is left goes"), kept)
        self._part(say("Samples worth buying"), [sample_in_words(one) for one in plan.samples])
        advice = [" ".join(filter(None, notice_in_words(one))) for one in plan.advice]
        self._part(say("Before any switch"), advice)
        self.headed.emit()

    def _part(self, title: str, lines: list[str]) -> None:
        if lines:
            self._lines.addWidget(Rule())
            self._lines.addWidget(strong(title))
            for text in lines:
                self._lines.addWidget(plain(text, wrap=True))

    def _row(self, rank: int, one: StandIn) -> QWidget:
        name = layers_in_words(one.layers)
        self.names.append(name)
        bench = Bench()
        small = SectionSmall(self._section(one))
        small.setFixedSize(84, 72)
        on_bench = column(margins=0)
        on_bench.addWidget(small)
        bench.setLayout(on_bench)
        bench.setFixedWidth(84)
        words = column(spacing=HALF)
        words.setContentsMargins(2 * UNIT, UNIT, 2 * UNIT, UNIT)
        words.addWidget(strong(f"{rank}   {name}", wrap=True))
        each = ", ".join(f"{off:.1f}" for off in one.de00)
        text = say_many("ΔE00 {each} at its use", "ΔE00 {each} at its {n} uses", len(one.de00))
        words.addWidget(quiet(text.format(each=each, n=len(one.de00)), wrap=True))
        for caution in one.cautions[:2]:
            said = CautionLine()
            said.show_caution(notice_in_words(caution)[0])
            words.addWidget(said)
        figures = column(spacing=0)
        figures.setContentsMargins(0, UNIT, 2 * UNIT, UNIT)
        worst = say("{de:.1f} at worst").format(de=one.worst_de00)
        figures.addWidget(strong(worst).hug())
        within = say("{chance} within 2.0").format(chance=chance_in_words(min(one.chances, default=0.0)))
        figures.addWidget(quiet(within).hug())
        figures.addStretch(1)
        across = row(spacing=0)
        across.addWidget(bench)
        across.addLayout(words, 1)
        across.addLayout(figures)
        ground = column(spacing=0)
        ground.addLayout(across, 1)
        ground.addWidget(Rule())
        return area("panel", ground)

    def _section(self, one: StandIn) -> Section | None:
        use = next(iter(self._matching.uses), None)
        if use is None:
            return None
        return self._matching.fired.section(one.layers, use.question.body, use.question.cone)

    def heading(self) -> tuple[str, str]:
        """Which material."""
        answer = self._matching.answer
        if not isinstance(answer, ReplaceAnswer):
            return say("Stand-ins"), say("What could take a material's place at every use at once.")
        text = say("In place of {material} at every use at once, judged by the worst use.")
        return say("Stand-ins"), text.format(material=answer.material)

    def come(self) -> None:
        """Keyboard on the next step."""
        self.plan.setFocus()
