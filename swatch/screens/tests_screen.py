"""The tiles to fire next: planned at one press, kept under one undo, printed with their photo sheet."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from swatch.desk.planning import MOST_TILES, Planning
from swatch.screens.components.caution_line import CautionLine
from swatch.screens.components.planned_list import PlannedHeader, PlannedList
from swatch.screens.components.shelf_plan import ShelfPlan, shelf_in_words
from swatch.screens.place import Place
from swatch.screens.seen import when_seen
from swatch.screens.style import UNIT
from swatch.screens.widgets import (
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
    whole_number,
)
from swatch.wording.layering import cone_in_words
from swatch.wording.next_tests import outlook_in_words
from swatch.wording.problems import notice_in_words, problem_in_words
from swatch.wording.text import say, say_many

DETAIL = 296


class TestsScreen(Place):
    """The tiles at the left, what they may bring and the shelf at the right."""

    code = "tests"
    place_wanted = Signal(str)

    def __init__(self, planning: Planning) -> None:
        super().__init__()
        self._planning = planning
        self.header, self.list = PlannedHeader(), PlannedList(planning.rows)
        self.tiles = whole_number(say("Tiles to fire"), 1, MOST_TILES)
        self.wide = whole_number(say("Width of the kiln's shelf"), 100, 2000, suffix=" mm")
        self.deep = whole_number(say("Depth of the kiln's shelf"), 100, 2000, suffix=" mm")
        self.shelf, self.on_shelf = ShelfPlan(), quiet(wrap=True)
        self.brings = plain(wrap=True, size=15)
        self._advice: QVBoxLayout = column(spacing=4)
        self.back = button(say("Back to Match"), lambda: self.place_wanted.emit("match"))
        self.keep = button(say("Keep the plan"), planning.keep)
        self.print = button("", planning.print, main=True)
        left = column(spacing=0)
        left.addWidget(self.header)
        left.addWidget(self.list, 1)
        line = row(spacing=0)
        line.addLayout(left, 1)
        line.addWidget(self._side())
        self.setLayout(line)
        self.tiles.valueChanged.connect(planning.set_tiles)
        for field in (self.wide, self.deep):
            field.valueChanged.connect(lambda _n: planning.set_shelf(self.wide.value(), self.deep.value()))
        planning.changed.connect(self._show)
        self._show()

    def _side(self) -> QWidget:
        inside = column(margins=2 * UNIT, spacing=UNIT)
        inside.addWidget(strong(say("What they may bring")))
        inside.addWidget(self.brings)
        inside.addLayout(labelled(say("Tiles to fire"), self.tiles))
        inside.addWidget(Rule())
        inside.addWidget(strong(say("On the kiln's shelf")))
        size = row(spacing=UNIT)
        size.addLayout(labelled(say("Shelf, width"), self.wide), 1)
        size.addLayout(labelled(say("depth"), self.deep), 1)
        inside.addLayout(size)
        inside.addWidget(self.shelf)
        inside.addWidget(self.on_shelf)
        inside.addWidget(Rule())
        inside.addLayout(self._advice)
        inside.addStretch(1)
        foot = column(margins=2 * UNIT, spacing=UNIT)
        second = row(spacing=UNIT)
        second.addWidget(self.back, 1)
        second.addWidget(self.keep, 1)
        foot.addLayout(second)
        foot.addWidget(self.print)
        whole = column(spacing=0)
        whole.addWidget(scrolled(area("raised", inside)), 1)
        whole.addWidget(area("raised", foot))
        return area("raised", whole, DETAIL)

    @when_seen
    def _show(self) -> None:
        planning, answer = self._planning, self._planning.answer
        request = planning.request
        aims = request is not None and (request.target is not None or bool(request.replaces))
        n = len(answer.tests) if answer is not None else 0
        title = say_many("{n} tile to fire next", "{n} tiles to fire next, chosen together", n) if n else ""
        self.header.show_title(title.format(n=n), with_target=aims or request is None)
        self.list.empty_text = self._nothing()
        self.list.viewport().update()
        if n and not self.list.currentIndex().isValid():
            self.list.setCurrentIndex(planning.rows.index(0))
        for field, value in (
            (self.tiles, request.tiles if request is not None else 6),
            (self.wide, round(planning.shelf.wide)),
            (self.deep, round(planning.shelf.high)),
        ):
            field.blockSignals(True)
            field.setValue(value)
            field.blockSignals(False)
        kept = planning.kept
        self.tiles.setEnabled(request is not None and not kept)
        self.brings.say(outlook_in_words(answer) if answer is not None else "")
        names = [one.tile for one in answer.tests] if answer is not None else []
        laid = planning.laid()
        self.shelf.show_shelf(laid, names, planning.shelf, planning.tile)
        self.on_shelf.say(shelf_in_words(laid, n))
        self._show_advice()
        self.keep.setText(say("Plan is kept") if kept else say("Keep the plan"))
        self.keep.setAccessibleName(self.keep.text())
        self.keep.setEnabled(bool(n) and not kept)
        self.print.setText(say("Print board and sheet") if kept else say("Keep and print"))
        self.print.setAccessibleName(self.print.text())
        self.print.setEnabled(bool(n))
        self.headed.emit()

    def _show_advice(self) -> None:
        empty(self._advice)
        answer = self._planning.answer
        for notice in answer.advice if answer is not None else ():
            sentence, next_step = notice_in_words(notice)
            line = CautionLine()
            line.show_caution(sentence)
            self._advice.addWidget(line)
            if next_step:
                self._advice.addWidget(quiet(next_step, wrap=True))

    def _nothing(self) -> str:
        planning = self._planning
        if planning.looking:
            return say("Choosing the tiles that together bring most…")
        if planning.problem is not None:
            return "\n".join(problem_in_words(planning.problem))
        return say("Nothing is planned. Look for a colour under Match or choose a material, and plan tests there.")

    def heading(self) -> tuple[str, str]:
        """What the tiles are for."""
        planning, answer = self._planning, self._planning.answer
        if planning.request is None:
            return say("Tests"), say("The tiles to fire next.")
        text = say("For {origin}.").format(origin=planning.origin)
        if answer is not None and answer.provisional:
            text += " " + say("Provisional: the newest tiles are still being learnt.")
        if answer is not None and answer.boards:
            board = answer.boards[0]
            where = say("Board for firing {name}: {body}, {cone}.")
            text += " " + where.format(name=board.name, body=board.body, cone=cone_in_words(board.cone))
        return say("Tests"), text

    def foot(self) -> str:
        """How the numbers come home."""
        return say("Pencil the numbers on the backs: the fired photo then finds its layers by itself.")

    def come(self) -> None:
        """Keyboard on the tiles, or on the button where they stand."""
        (self.print if self._planning.kept else self.list).setFocus()
