"""What if: layers, coats, cone and body changed by hand; the colour follows, beside target and own tile."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QRect, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QUndoStack
from PySide6.QtWidgets import QSlider, QVBoxLayout, QWidget

from swatch.desk.sureness import sureness_of
from swatch.desk.what_if import WhatIf
from swatch.screens.components.caution_line import CautionLine
from swatch.screens.components.how_sure import HowSure
from swatch.screens.components.painting import Painted, fill, write
from swatch.screens.components.section import SectionDetail
from swatch.screens.components.what_if_bench import WhatIfBench
from swatch.screens.layer_stack import LayerStack
from swatch.screens.place import Place
from swatch.screens.seen import when_seen
from swatch.screens.style import UNIT, look
from swatch.screens.widgets import (
    Bench,
    Choice,
    Rule,
    area,
    button,
    column,
    empty,
    labelled,
    plain,
    quiet,
    row,
    scrolled,
    strong,
)
from swatch.terms.answers import Refusal
from swatch.terms.colour import Lab
from swatch.terms.trial import Aside, OneStep
from swatch.wording.answers import difference_in_words, evidence_in_words, lab_in_words, layers_in_words
from swatch.wording.layering import cone_in_words, question_in_words
from swatch.wording.problems import notice_in_words, problem_in_words
from swatch.wording.text import say

LEFT, RIGHT = 304, 296


class StepSwatch(Painted):
    """Now and one step away, touching; pressing it takes the step."""

    pressed = Signal()

    def __init__(self, now: Lab, step: OneStep) -> None:
        super().__init__()
        self._now, self._step = now, step
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self._words = step_in_words(step)
        said = difference_in_words(step.lab, now) if step.lab is not None else say("Not known.")
        self._difference = said
        self.say_as(self._words, said)

    def wanted_size(self) -> QSize:
        """A pair, with two lines of words beside it."""
        return QSize(208, 48)

    def paint(self, painter: QPainter) -> None:
        """The pair and its words."""
        fill(painter, QRect(8, 6, 28, 36), self._now)
        fill(painter, QRect(36, 6, 28, 36), self._step.lab)
        words = QRect(72, 5, self.width() - 76, 18)
        write(painter, words, self._words, look.bench_ink, strong=True)
        write(painter, words.translated(0, 19), self._difference, look.bench_ink)

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Take the step."""
        event.accept()
        self.pressed.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Space and Enter take it too."""
        if event.key() in (Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.pressed.emit()
        else:
            super().keyPressEvent(event)


def step_in_words(step: OneStep) -> str:
    """Name a step."""
    names = {
        Aside.HOTTER: say("half a cone hotter"),
        Aside.COOLER: say("half a cone cooler"),
        Aside.THICKER: say("half a coat more on top"),
        Aside.THINNER: say("half a coat less on top"),
    }
    return names.get(step.aside) or say("on {body}").format(body=step.question.body)


class WhatIfScreen(Place):
    """Layers at the left, the colour in the middle, how sure it is at the right."""

    code = "what-if"
    place_wanted = Signal(str)
    act_wanted = Signal(str, str)
    evidence_wanted = Signal(object)

    def __init__(self, desk: WhatIf) -> None:
        super().__init__()
        self._desk = desk
        self.stack = LayerStack(desk)
        self.body = Choice(say("Body"))
        self.cone = QSlider(Qt.Orientation.Horizontal)
        self.cone.setAccessibleName(say("Cone"))
        self.cone.setPageStep(2)
        self._cone_words = strong()
        self.bench = WhatIfBench()
        self.steps: list[StepSwatch] = []
        self._steps: QVBoxLayout = column(spacing=0)
        self.section, self.sure = SectionDetail(), HowSure()
        self.sure.evidence_asked.connect(self._show_evidence)
        self.said, self._cautions = plain(wrap=True, size=15), column(spacing=4)
        self.tile = button("", self._open_tile)
        self.back = button(say("Back to Match"), lambda: self.place_wanted.emit("match"))
        self.plan = button(say("Plan a tile of it"), desk.plan, main=True)
        line = row(spacing=0)
        line.addWidget(self._left())
        line.addWidget(self._middle(), 1)
        line.addWidget(self._right())
        self.setLayout(line)
        self.body.chosen.connect(lambda body: desk.stand_on(str(body)))
        self.cone.valueChanged.connect(self._fire)
        self.cone.sliderPressed.connect(desk.begin_drag)
        self.cone.sliderReleased.connect(desk.end_drag)
        desk.changed.connect(self._follow)
        desk.answered.connect(self._show)
        self._follow()
        self._show()

    def _left(self) -> QWidget:
        inside = column(margins=2 * UNIT, spacing=UNIT)
        inside.addWidget(quiet(say("Layers, the outermost on top: drag them, or Up and Down"), wrap=True))
        inside.addWidget(self.stack)
        inside.addWidget(Rule())
        inside.addLayout(labelled(say("Body"), self.body))
        heat = row(spacing=UNIT)
        heat.addWidget(quiet(say("Cone")).hug())
        heat.addWidget(self._cone_words, 1)
        inside.addLayout(heat)
        inside.addWidget(self.cone)
        inside.addStretch(1)
        return area("raised", _only(scrolled(area("raised", inside))), LEFT)

    def _middle(self) -> QWidget:
        ground = Bench()
        inside = column(spacing=0)
        inside.addWidget(self.bench, 1)
        steps = column(margins=UNIT, spacing=0)
        steps.addLayout(self._steps)
        inside.addLayout(steps)
        ground.setLayout(inside)
        return ground

    def _right(self) -> QWidget:
        inside = column(margins=2 * UNIT, spacing=UNIT)
        inside.addWidget(self.section)
        inside.addWidget(self.said)
        inside.addWidget(self.sure)
        inside.addWidget(self.tile)
        inside.addWidget(Rule())
        inside.addLayout(self._cautions)
        inside.addStretch(1)
        foot = column(margins=2 * UNIT, spacing=UNIT)
        foot.addWidget(self.back)
        foot.addWidget(self.plan)
        whole = column(spacing=0)
        whole.addWidget(scrolled(area("raised", inside)), 1)
        whole.addWidget(area("raised", foot))
        return area("raised", whole, RIGHT)

    def _fire(self, at: int) -> None:
        cones = self._desk.cones()
        if 0 <= at < len(cones):
            self._desk.fire_to(cones[at])

    @when_seen
    def _follow(self) -> None:
        desk, held = self._desk, self._desk.held
        self.body.offer([(body, body) for body in desk.bodies()], held.body)
        cones = desk.cones()
        self.cone.blockSignals(True)
        self.cone.setRange(0, max(len(cones) - 1, 0))
        if held.cone in cones:
            self.cone.setValue(cones.index(held.cone))
        self.cone.blockSignals(False)
        self._cone_words.say(cone_in_words(held.cone))
        self.cone.setAccessibleDescription(cone_in_words(held.cone))
        self.section.show_section(desk.section())
        self.plan.setEnabled(bool(held.layers) and held.question is not None)
        self.headed.emit()

    @when_seen
    def _show(self) -> None:
        desk, answer, said = self._desk, self._desk.answer, self._desk.said
        self.bench.follow(desk)
        near = answer.near if answer is not None else None
        target = desk.held.target
        self.sure.setVisible(near is not None and target is not None)
        if near is not None and target is not None:
            self.sure.show_sureness(sureness_of(near, target))
        self.said.say(self._in_words())
        nearest = answer.nearest if answer is not None else None
        self.tile.setVisible(nearest is not None)
        if nearest is not None:
            name = f"{nearest.tile} {nearest.zone}".strip()
            self.tile.setText(say("Nearest own tile: {tile}, {de:.1f} away").format(tile=name, de=nearest.de00))
            self.tile.setAccessibleName(self.tile.text())
            self.tile.setAccessibleDescription(layers_in_words(nearest.layers))
        empty(self._cautions)
        for caution in said.cautions if said is not None else ():
            line = CautionLine()
            line.show_caution(notice_in_words(caution)[0])
            self._cautions.addWidget(line)
        never = say("No answer here says that a surface is safe for food: only a laboratory's leach test can.")
        self._cautions.addWidget(plain(never, wrap=True))
        self._show_steps()
        self.headed.emit()

    def _show_steps(self) -> None:
        """The steps of the layering in hand; while the hand moves, those of the last stay in their places."""
        desk = self._desk
        answer, said = desk.answer, desk.said
        if answer is None or said is None or not answer.steps:
            if not desk.fresh or answer is None or said is None:
                empty(self._steps)
                self.steps = []
            return
        held = next((n for n, one in enumerate(self.steps) if one.hasFocus()), None)
        empty(self._steps)
        self.steps = []
        across = None
        for n, one in enumerate(answer.steps):
            if n % 2 == 0:
                across = row(spacing=0)
                self._steps.addLayout(across)
            made = StepSwatch(said.lab, one)
            made.pressed.connect(partial(desk.try_step, one.question))
            assert across is not None
            across.addWidget(made, 1)
            self.steps.append(made)
        if across is not None and len(self.steps) % 2:
            across.addStretch(1)
        if held is not None and self.steps:
            self.steps[min(held, len(self.steps) - 1)].setFocus()

    def _in_words(self) -> str:
        desk, answer = self._desk, self._desk.answer
        if desk.problem is not None:
            return " ".join(problem_in_words(desk.problem))
        if answer is None:
            return say("Looking…") if desk.held.question is not None else say("No tile has been fired yet.")
        if isinstance(answer.said, Refusal):
            return " ".join(notice_in_words(answer.said.reason))
        if answer.near is not None:
            return ""
        return f"{lab_in_words(answer.said.lab)}. {evidence_in_words(answer.said.grounds).capitalize()}."

    def _show_evidence(self) -> None:
        near = self._desk.answer.near if self._desk.answer is not None else None
        if near is not None:
            self.evidence_wanted.emit(near)

    def _open_tile(self) -> None:
        nearest = self._desk.answer.nearest if self._desk.answer is not None else None
        if nearest is not None:
            self.act_wanted.emit("tile", nearest.tile)

    def heading(self) -> tuple[str, str]:
        """The layering in hand."""
        held = self._desk.held
        if held.question is None:
            return say("What if"), say("Change a layering by hand and see its colour follow.")
        text = question_in_words(held.layers, held.body, held.cone)
        if held.target is not None and held.origin:
            text = say("{layering}, beside {origin}").format(layering=text, origin=held.origin)
        text += "."
        if self._desk.answer is not None and self._desk.answer.provisional:
            text += " " + say("Provisional: the newest tiles are still being learnt.")
        return say("What if"), text

    def in_hand(self) -> QUndoStack | None:
        """Every change can be taken back."""
        return self._desk.steps

    def come(self) -> None:
        """Keyboard on the outermost layer."""
        self._desk.wake()
        if self.stack.rows:
            self.stack.rows[-1].handle.setFocus()

    def go(self) -> None:
        """Rest until it is opened again."""
        self._desk.sleep()


def _only(inside: QWidget) -> QVBoxLayout:
    whole = column(spacing=0)
    whole.addWidget(inside)
    return whole
