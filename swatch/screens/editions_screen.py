"""Editions: regions with their layers, what they lack, and the pieces that define the look."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QPushButton, QStackedWidget, QVBoxLayout, QWidget

from swatch.desk.checking import Checking
from swatch.desk.edition_plan import EditionPlan
from swatch.desk.editions import Editions, EditionView
from swatch.desk.firing_charts import FILLED, RING, SIGNS
from swatch.desk.opening import OpenStudio
from swatch.screens.edition_kiln import EditionKiln
from swatch.screens.edition_layers import RegionForm
from swatch.screens.edition_loads import EditionLoads, held
from swatch.screens.edition_material import EditionMaterial
from swatch.screens.edition_sets import EditionSets
from swatch.screens.place import Place
from swatch.screens.plain_list import PlainList, PlainRow
from swatch.screens.seen import when_seen
from swatch.screens.style import UNIT
from swatch.screens.widgets import (
    Empty,
    area,
    button,
    column,
    heading,
    labelled,
    quiet,
    restyle,
    row,
    scrolled,
    text_field,
)
from swatch.terms.holding import CheckAnswer
from swatch.wording.holding import verdict_in_words
from swatch.wording.text import say, say_many

LIST = 304


def row_of(view: EditionView, answer: CheckAnswer | None = None) -> PlainRow:
    """An edition in the list; `answer` is of the one that was checked last."""
    if answer is not None and answer.edition == view.name and answer.loads:
        last = answer.loads[-1]
        sign = "diamond" if SIGNS[last.verdict] == FILLED else "ring" if SIGNS[last.verdict] == RING else "dot"
        return PlainRow(view.name, f"{last.firing}: {verdict_in_words(last.verdict)}", sign)
    if view.short_of:
        return PlainRow(view.name, say("{material} cannot be had").format(material=view.short_of[0]), "diamond")
    if not view.pieces:
        return PlainRow(view.name, say("no pieces measured"), "dot")
    n = view.approved
    return PlainRow(view.name, say_many("{n} approved piece", "{n} approved pieces", n).format(n=n), "ring")


FEWEST = 10
VIEWS = ("loads", "material", "kiln", "sets", "layers")


class EditionsScreen(Place):
    """The editions, one of them closely: its loads, the kiln, pairs and sets, its layers."""

    code = "editions"
    replacement_wanted = Signal(str)
    photos_wanted = Signal()

    def __init__(self, editions: Editions, checking: Checking, plan: EditionPlan, studio: OpenStudio) -> None:
        super().__init__()
        self._editions, self._checking, self._plan, self._studio = editions, checking, plan, studio
        self._view = ""
        self.list = PlainList(say("Editions"))
        self.name = text_field(say("Name of a new edition"), say("Name"))
        self.add = button(say("Add an edition"), self._add)
        self.check_load = button(say("Check a load: open its photos…"), self.photos_wanted.emit, main=True)
        self.form = RegionForm(editions, self.replacement_wanted.emit)
        self.loads = EditionLoads(checking, self.photos_wanted.emit)
        self.material = EditionMaterial(plan)
        self.report = button(say("Report…"), self._report)
        self.kiln, self.sets = EditionKiln(checking), EditionSets(checking)
        self.title, self.counts = heading(), quiet()
        self.tabs: dict[str, QPushButton] = {}
        self.stack = QStackedWidget()
        self.nothing = Empty(
            say("No editions yet."),
            say("An edition is all the pieces held to one look. Name one at the left to begin."),
        )
        self.setLayout(self._lay_out())
        self.list.chosen.connect(editions.choose)
        self.name.returnPressed.connect(self._add)
        editions.shown.connect(self._shown)
        editions.chosen_changed.connect(self._shown)
        checking.shown.connect(self._say_list)
        plan.shown.connect(lambda: self.report.setDisabled(plan.writing))
        self._shown()

    def _lay_out(self) -> QHBoxLayout:
        foot = column(margins=2 * UNIT, spacing=UNIT)
        foot.addLayout(labelled(say("New edition"), self.name))
        foot.addWidget(self.add)
        foot.addWidget(self.check_load)
        left = column(spacing=0)
        left.addWidget(self.list, 1)
        left.addWidget(area("panel", foot))
        names = {
            "loads": say("Loads"),
            "material": say("Material"),
            "kiln": say("Kiln and variation"),
            "sets": say("Pairs and sets"),
            "layers": say("Regions and layers"),
        }
        keys = row(spacing=UNIT)
        for code, text in names.items():
            self.tabs[code] = key = button(text, partial(self.show_view, code))
            key.setProperty("small", True)
            key.setCheckable(True)
            keys.addWidget(key)
        keys.addStretch(1)
        self.report.setProperty("small", True)
        keys.addWidget(self.report)
        top = column(margins=3 * UNIT, spacing=UNIT)
        top.setContentsMargins(3 * UNIT, 2 * UNIT, 3 * UNIT, 0)
        top.addWidget(self.title)
        top.addWidget(self.counts)
        top.addLayout(keys)
        self._head = area("raised", top)
        for code, view in zip(VIEWS, (self.loads, self.material, self.kiln, self.sets, self.form), strict=True):
            self.stack.addWidget(scrolled(held(view) if code != "layers" else area("raised", _only(view))))
        right = column(spacing=0)
        right.addWidget(self._head)
        right.addWidget(self.stack, 1)
        right.addWidget(self.nothing, 1)
        line = row(spacing=0)
        line.addWidget(area("panel", left, LIST))
        line.addLayout(right, 1)
        return line

    def show_view(self, code: str) -> None:
        """Show the loads, the kiln, the sets or the layers."""
        self._view = code
        self._shown()

    def _view_now(self) -> str:
        """The view asked for; else the loads where pieces are measured, and the layers where none are."""
        return self._view or ("loads" if self._checking.measured else "layers")

    def _report(self) -> None:
        """Ask where to, and write the edition's report there."""
        name = f"{self._editions.chosen_name}.pdf"
        kinds = "PDF (*.pdf);;CSV (*.csv)"
        file, _kind = QFileDialog.getSaveFileName(self, say("Write the report to"), name, kinds)
        if file:
            self._plan.write_report(Path(file))

    def _add(self) -> None:
        self._view = "layers"
        self._editions.add(self.name.text(), say("outside"))
        self.name.clear()

    def _say_list(self) -> None:
        rows: Sequence[PlainRow] = [row_of(view, self._checking.answer) for view in self._editions.all]
        self.list.show_rows(rows, self._editions.chosen_name)

    @when_seen
    def _shown(self) -> None:
        self._say_list()
        view = self._editions.chosen
        self.nothing.setVisible(view is None)
        self._head.setVisible(view is not None)
        self.stack.setVisible(view is not None)
        if view is not None:
            self.title.say(view.name)
            self.counts.say(counts_in_words(view))
            # One accent on the screen: where a material is missing, that comes first.
            self._accent(self._checking.measured)
            code = self._view_now()
            self.stack.setCurrentIndex(VIEWS.index(code))
            for name, key in self.tabs.items():
                key.setChecked(name == code)
        self.headed.emit()

    def _accent(self, wanted: bool) -> None:
        if bool(self.check_load.property("main")) != wanted:
            self.check_load.setProperty("main", wanted)
            restyle(self.check_load)

    def go(self) -> None:
        """Nothing new is asked while the place is closed."""
        self._checking.sleep()
        self._plan.sleep()

    def heading(self) -> tuple[str, str]:
        """Which edition, and how many pieces."""
        view = self._editions.chosen
        if view is None:
            return say("Editions"), say("All the pieces held to one look.")
        planned = say("{n} planned. ").format(n=view.planned) if view.planned else ""
        n = view.approved
        approved = say_many("{n} approved piece defines the look.", "{n} approved pieces define the look.", n)
        if n < FEWEST:
            text = say("{n} approved: ten approved pieces from three firings, and loads can be judged.")
            return say("Editions"), planned + text.format(n=n or say("none"))
        return say("Editions"), planned + approved.format(n=n)

    def come(self) -> None:
        """Keyboard to the list; the loads are checked where anything has changed."""
        self._checking.wake()
        self._shown()
        (self.list if self._editions.all else self.name).setFocus()


def _only(inside: QWidget) -> QVBoxLayout:
    whole = column(spacing=0)
    whole.addWidget(inside)
    return whole


def counts_in_words(view: EditionView) -> str:
    """Planned, measured, approved."""
    parts = [say("{n} planned").format(n=view.planned)] if view.planned else []
    parts.append(say("{n} measured").format(n=len({piece.piece for piece in view.pieces})))
    parts.append(say_many("{n} approved piece", "{n} approved pieces", view.approved).format(n=view.approved))
    return ", ".join(parts)
