"""Loads of the kiln: add one, say what was asked and what each shelf reached."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QDate, QLocale, Qt, Signal
from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from swatch.desk.firings import Firings, FiringView, cone_typed, number_typed
from swatch.desk.opening import OpenStudio
from swatch.screens.firing_sections import LoadSection, LogSection
from swatch.screens.place import Place
from swatch.screens.plain_list import PlainList, PlainRow
from swatch.screens.style import UNIT
from swatch.screens.widgets import (
    Choice,
    Empty,
    Rule,
    area,
    button,
    column,
    empty,
    heading,
    labelled,
    plain,
    quiet,
    restyle,
    row,
    scrolled,
    strong,
    text_field,
)
from swatch.terms.cone import Cone
from swatch.terms.problems import StudioProblem
from swatch.wording.layering import cone_figure, cone_in_words
from swatch.wording.problems import problem_in_words
from swatch.wording.text import say, say_many
from swatch.wording.units import celsius_of, celsius_per_h_of, heat_figure, heat_unit, rate_figure

LIST, FORM = 304, 560
COOLING = ("fast", "normal", "slow")


def row_of(view: FiringView) -> PlainRow:
    """A firing in the list."""
    firing = view.firing
    reached = firing.cone_reached
    asked = cone_in_words(firing.cone_asked) if firing.cone_asked else say("programme")
    if view.lacks_cone:
        text = say("{asked} asked, cone reached not entered").format(asked=asked)
        return PlainRow(firing.name, text, "warning")
    parts = [say("{asked} asked").format(asked=asked)]
    if reached is not None:
        parts = [say("{asked} asked, {reached} reached").format(asked=asked, reached=cone_figure(reached))]
    if view.tiles:
        parts.append(say_many("{n} tile", "{n} tiles", view.tiles).format(n=view.tiles))
    pieces = sum(len(load.shelves) for load in view.pieces)
    if pieces:
        parts.append(say_many("{n} piece", "{n} pieces", pieces).format(n=pieces))
    return PlainRow(firing.name, ", ".join(parts), "ring")


class FiringForm(QWidget):
    """What is written down of one firing."""

    def __init__(self, firings: Firings, tiles_wanted: Callable[[str], object]) -> None:
        super().__init__()
        self._firings = firings
        self.title = heading()
        self.date = text_field(say("Date"), "2026-11-25")
        self.asked, self.reached = text_field(say("Cone asked")), text_field(say("Cone reached"))
        self.peak, self.rate = text_field(say("Peak")), text_field(say("Rate an hour"))
        self._peak_words, self._rate_words = quiet(), quiet()
        self.hold = text_field(say("Hold, minutes"))
        self.cooling = Choice(say("Cooling"))
        self.atmosphere, self.kiln = text_field(say("Atmosphere")), text_field(say("Kiln"))
        self.shelf, self.shelf_cone = text_field(say("Shelf"), say("top")), text_field(say("Cone on that shelf"))
        self.add_witness = button(say("Enter witness cone"), self._witness)
        self.note = text_field(say("Notes"), say("lid lifted at 900, half load …"))
        self.log, self.load = LogSection(firings), LoadSection(firings, tiles_wanted)
        self.bad = quiet(wrap=True)
        self._witnesses: QVBoxLayout = column(spacing=2)
        self.setLayout(self._lay_out())
        self._join()
        firings.chosen_changed.connect(self.follow)
        self.follow()

    def _lay_out(self) -> QVBoxLayout:
        inside = column(margins=3 * UNIT, spacing=2 * UNIT)
        inside.addWidget(self.title)
        for group in (
            ((say("Date"), self.date), (say("Kiln"), self.kiln), (say("Atmosphere"), self.atmosphere)),
            ((say("Cone asked"), self.asked), (say("Cone reached"), self.reached), (say("Cooling"), self.cooling)),
        ):
            line = row(spacing=2 * UNIT)
            for text, field in group:
                line.addLayout(labelled(text, field), 1)
            inside.addLayout(line)
        line = row(spacing=2 * UNIT)
        for words, field in ((self._peak_words, self.peak), (self._rate_words, self.rate)):
            line.addLayout(labelled(words, field), 1)
        line.addLayout(labelled(say("Hold, minutes"), self.hold), 1)
        inside.addLayout(line)
        inside.addWidget(self.bad)
        inside.addWidget(Rule())
        inside.addWidget(strong(say("Witness cones by shelf")))
        inside.addLayout(self._witnesses)
        line = row(spacing=2 * UNIT)
        line.addLayout(labelled(say("Shelf"), self.shelf), 1)
        line.addLayout(labelled(say("Cone reached there"), self.shelf_cone), 1)
        line.addWidget(self.add_witness, 1, Qt.AlignmentFlag.AlignBottom)
        inside.addLayout(line)
        inside.addLayout(labelled(say("Notes"), self.note))
        for part in (self.load, self.log):
            inside.addWidget(Rule())
            inside.addWidget(part)
        inside.addStretch(1)
        return inside

    def _join(self) -> None:
        write = self._firings.write
        self._on(self.date, lambda text: write(date=text.strip() or None))
        self._on(self.kiln, lambda text: write(kiln=text.strip() or None))
        self._on(self.atmosphere, lambda text: write(atmosphere=text.strip() or None))
        self._on(self.note, lambda text: write(note=" ".join(text.split()) or None))
        self._on(self.peak, lambda text: self._programme("peak_c", text, heat_figure, celsius_of))
        self._on(self.rate, lambda text: self._programme("rate_c_per_h", text, rate_figure, celsius_per_h_of))
        self._on(self.hold, lambda text: write(hold_min=number_typed(text)))
        self.asked.editingFinished.connect(partial(self._cone, self.asked, "cone_asked"))
        self.reached.editingFinished.connect(partial(self._cone, self.reached, "cone_reached"))
        self.cooling.chosen.connect(lambda value: write(cooling=value))

    def _on(self, field: QLineEdit, typed: Callable[[str], None]) -> None:
        field.editingFinished.connect(lambda: typed(field.text()))

    def _programme(
        self, name: str, text: str, shown: Callable[[float], float], read: Callable[[float], float]
    ) -> None:
        """Write a figure down in the program's own unit; one that was only looked at stays as exact as it is."""
        view, typed = self._firings.chosen, number_typed(text)
        known = getattr(view.firing, name) if view is not None else None
        if text.strip() != _figure(known, shown):
            self._firings.write(**{name: read(typed) if typed is not None else None})

    def _cone(self, field: QLineEdit, name: str) -> None:
        cone = self._typed(field, between=name == "cone_reached")
        if cone is not None or not field.text().strip():
            self._firings.write(**{name: cone})

    def _typed(self, field: QLineEdit, *, between: bool) -> Cone | None:
        try:
            cone = cone_typed(field.text(), between=between)
        except StudioProblem as problem:
            self._mark(field, bad=True)
            self.bad.say(" ".join(problem_in_words(problem)))
            return None
        self._mark(field, bad=False)
        self.bad.say("")
        return cone

    def _mark(self, field: QLineEdit, *, bad: bool) -> None:
        if bool(field.property("bad")) != bad:
            field.setProperty("bad", bad)
            restyle(field)

    def _witness(self) -> None:
        cone = self._typed(self.shelf_cone, between=True)
        shelf = " ".join(self.shelf.text().split())
        if cone is not None and shelf:
            self._firings.witness(shelf, cone)
            self.shelf.clear()
            self.shelf_cone.clear()
            self.shelf.setFocus()

    def follow(self) -> None:
        """Show the chosen firing."""
        view = self._firings.chosen
        self.setVisible(view is not None)
        if view is None:
            return
        firing = view.firing
        self.title.say(firing.name)
        self._peak_words.say(say("Peak, {unit}").format(unit=heat_unit()))
        self._rate_words.say(say("Rate, {unit} an hour").format(unit=heat_unit()))
        for field, value in (
            (self.date, firing.date or ""),
            (self.kiln, firing.kiln or ""),
            (self.atmosphere, firing.atmosphere or ""),
            (self.note, firing.note or ""),
            (self.asked, cone_figure(firing.cone_asked) if firing.cone_asked else ""),
            (self.reached, cone_figure(firing.cone_reached) if firing.cone_reached else ""),
            (self.peak, _figure(firing.peak_c, heat_figure)),
            (self.rate, _figure(firing.rate_c_per_h, rate_figure)),
            (self.hold, _figure(firing.hold_min)),
        ):
            if field.text() != value:
                field.setText(value)
                self._mark(field, bad=False)
        words = {"fast": say("fast"), "normal": say("normal"), "slow": say("slow")}
        self.cooling.offer([("–", None), *((words[c], c) for c in COOLING)], firing.cooling)
        empty(self._witnesses)
        for witness in view.witnesses:
            text = say("{shelf}: {cone}").format(shelf=witness.shelf, cone=cone_in_words(witness.cone_reached))
            self._witnesses.addWidget(plain(text, size=15))
        if not view.witnesses:
            self._witnesses.addWidget(quiet(say("None entered: readings of this load count for less until then.")))
        self.log.follow()
        self.load.follow()


def _figure(value: float | None, shown: Callable[[float], float] = float) -> str:
    return f"{round(shown(value), 1):g}" if value is not None else ""


class FiringsScreen(Place):
    """The loads, one of them closely."""

    code = "firings"
    shows_colour = False
    tiles_wanted = Signal(str)

    def __init__(self, firings: Firings, studio: OpenStudio) -> None:
        super().__init__()
        self._firings, self._studio = firings, studio
        self.list = PlainList(say("Firings, the latest first"))
        self.form = FiringForm(firings, self.tiles_wanted.emit)
        self.add = button(say("Add a firing"), self._add, main=True)
        foot = column(margins=2 * UNIT)
        foot.addWidget(self.add)
        left = column(spacing=0)
        left.addWidget(self.list, 1)
        left.addWidget(area("panel", foot))
        line = row(spacing=0)
        line.addWidget(area("panel", left, LIST))
        self.nothing = Empty(
            say("No firings yet."),
            say("Add the last one: the cone you asked for, or your programme. Tiles are kept by firing."),
        )
        ground = column(spacing=0)
        ground.addWidget(self.nothing)
        ground.addWidget(self.form)
        self._scroll = scrolled(area("raised", ground))
        line.addWidget(self._scroll, 1)
        self.setLayout(line)
        self.list.chosen.connect(firings.choose)
        firings.shown.connect(self._shown)
        firings.chosen_changed.connect(self._shown)
        self._shown()

    def _add(self) -> None:
        self._firings.add(QLocale.c().toString(QDate.currentDate(), "yyyy-MM-dd"))
        self.form.asked.setFocus()
        self.form.asked.selectAll()

    def _shown(self) -> None:
        self.list.show_rows([row_of(view) for view in self._firings.all], self._firings.chosen_name)
        self.nothing.setVisible(not self._firings.all)
        self.headed.emit()

    def begin(self) -> None:
        """The cursor where the cone reached is written."""
        self._scroll.ensureWidgetVisible(self.form.shelf)
        self.form.shelf.setFocus()

    def go(self) -> None:
        """Nothing is asked while the place is closed."""
        self._firings.sleep()

    def heading(self) -> tuple[str, str]:
        """How many there are, and how many lack a cone."""
        views = self._firings.all
        if not views:
            return say("Firings"), say("Loads of the kiln: what was asked, and what each shelf reached.")
        lacking = sum(view.lacks_cone for view in views)
        text = say_many("{n} firing.", "{n} firings.", len(views)).format(n=len(views))
        if lacking:
            text += " " + say("{n} without a cone reached.").format(n=lacking)
        return say("Firings"), text

    def come(self) -> None:
        """Keyboard to the list; what the chosen firing's log comes to is asked for."""
        self._firings.wake()
        (self.list if self._firings.all else self.add).setFocus()
