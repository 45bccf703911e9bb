"""Editions: regions with their layers, what they lack, and the pieces that define the look."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from PySide6.QtCore import QRect, QSize, Qt, Signal
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QVBoxLayout, QWidget

from swatch.desk.editions import Editions, EditionView
from swatch.desk.firings import cone_typed, number_typed
from swatch.desk.opening import OpenStudio
from swatch.screens.components.painting import Painted, fill, write
from swatch.screens.components.section import SectionDetail
from swatch.screens.place import Place
from swatch.screens.plain_list import PlainList, PlainRow
from swatch.screens.style import UNIT, look
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
    quiet,
    row,
    scrolled,
    strong,
    text_field,
)
from swatch.terms.cone import Cone
from swatch.terms.editions import EditionRegion, RegionKind, Role
from swatch.terms.layering import format_layers, parse_layers
from swatch.terms.problems import StudioProblem
from swatch.wording.layering import cone_figure, layering_in_words
from swatch.wording.problems import problem_in_words
from swatch.wording.text import say, say_many

LIST = 304


def row_of(view: EditionView) -> PlainRow:
    """An edition in the list."""
    if view.short_of:
        return PlainRow(view.name, say("{material} cannot be had").format(material=view.short_of[0]), "diamond")
    if not view.pieces:
        return PlainRow(view.name, say("no pieces measured"), "dot")
    n = view.approved
    return PlainRow(view.name, say_many("{n} approved piece", "{n} approved pieces", n).format(n=n), "ring")


class ApprovedPieces(Painted):
    """Measured colours of the approved pieces in one region, edge to edge."""

    def __init__(self) -> None:
        super().__init__()
        self._view: EditionView | None = None
        self._region = ""
        self.setSizePolicy(self.sizePolicy().Policy.Expanding, self.sizePolicy().Policy.Fixed)

    def show_pieces(self, view: EditionView, region: str) -> None:
        """Show another region."""
        self._view, self._region = view, region
        n = len(self._labs())
        self.say_as(say("Approved pieces"), say_many("{n} measured", "{n} measured", n).format(n=n))
        self.setVisible(n > 0)
        self.update()

    def _labs(self) -> list:  # type: ignore[type-arg]
        if self._view is None:
            return []
        return [p.lab for p in self._view.pieces if p.region == self._region and p.role is Role.APPROVED][:60]

    def wanted_size(self) -> QSize:
        """Three rows of twenty."""
        return QSize(480, 32 + 3 * 28)

    def paint(self, painter: QPainter) -> None:
        """All of them."""
        write(painter, QRect(16, 4, 400, 20), say("the look: approved pieces as measured"), look.bench_ink)
        for n, lab in enumerate(self._labs()):
            fill(painter, QRect(16 + n % 20 * 22, 28 + n // 20 * 28, 22, 28), lab)


class RegionForm(QWidget):
    """One region of an edition: layers, body, cone, area."""

    def __init__(self, editions: Editions, replace: Callable[[str], object]) -> None:
        super().__init__()
        self._editions, self._replace = editions, replace
        self.title = heading()
        self._regions = row(spacing=UNIT)
        self.section = SectionDetail()
        self.pieces = ApprovedPieces()
        self.kind, self.body = Choice(say("Region touches")), Choice(say("Body"), editable=True)
        self.cone, self.area = text_field(say("Cone")), text_field(say("Area of the region, dm²"))
        self.planned = text_field(say("Pieces planned"))
        self.layers = text_field(say("Layers from the body outward"), "Iron slip*2 > Clear")
        self.new_region = text_field(say("Another region"), say("rim"))
        self.add_region = button(say("Add region"), self._add_region)
        self.bad = quiet(wrap=True)
        self._short: QVBoxLayout = column(spacing=UNIT)
        self.setLayout(self._lay_out())
        self._join()
        editions.chosen_changed.connect(self.follow)
        self.follow()

    def _lay_out(self) -> QVBoxLayout:
        inside = column(margins=3 * UNIT, spacing=2 * UNIT)
        inside.addWidget(self.title)
        inside.addLayout(self._short)
        inside.addLayout(self._regions)
        inside.addWidget(self.section)
        inside.addWidget(self.pieces)
        inside.addLayout(labelled(say("Layers from the body outward"), self.layers))
        for group in (
            ((say("Body"), self.body), (say("Cone"), self.cone), (say("Region"), self.kind)),
            ((say("Area, dm²"), self.area), (say("Pieces planned"), self.planned)),
        ):
            line = row(spacing=2 * UNIT)
            for text, field in group:
                line.addLayout(labelled(text, field), 1)
            inside.addLayout(line)
        inside.addWidget(self.bad)
        inside.addWidget(Rule())
        line = row(spacing=2 * UNIT)
        line.addLayout(labelled(say("Another region"), self.new_region), 2)
        line.addWidget(self.add_region, 1, Qt.AlignmentFlag.AlignBottom)
        inside.addLayout(line)
        inside.addStretch(1)
        return inside

    def _join(self) -> None:
        write = self._editions.write
        self.kind.chosen.connect(lambda kind: write(region_kind=kind))
        edit = self.body.lineEdit()
        assert edit is not None
        edit.editingFinished.connect(lambda: write(body=" ".join(edit.text().split()) or None))
        self.body.chosen.connect(lambda body: write(body=body))
        self.area.editingFinished.connect(lambda: write(area_dm2=number_typed(self.area.text())))
        self.planned.editingFinished.connect(self._planned)
        self.cone.editingFinished.connect(self._cone)
        self.layers.editingFinished.connect(self._layers)

    def _planned(self) -> None:
        n = number_typed(self.planned.text())
        self._editions.write(planned=int(n) if n is not None else None)

    def _cone(self) -> None:
        try:
            cone = cone_typed(self.cone.text())
        except StudioProblem as problem:
            self.bad.say(" ".join(problem_in_words(problem)))
            return
        self.bad.say("")
        self._editions.write(cone=cone)

    def _layers(self) -> None:
        try:
            layers = parse_layers(self.layers.text())
        except StudioProblem as problem:
            self.bad.say(" ".join(problem_in_words(problem)))
            return
        self.bad.say("")
        self._editions.write(layers=layers)

    def _add_region(self) -> None:
        self._editions.add(self._editions.chosen_name, self.new_region.text())
        self.new_region.clear()

    def follow(self) -> None:
        """Show the chosen edition and region."""
        view, region = self._editions.chosen, self._editions.region
        self.setVisible(view is not None)
        if view is None or region is None:
            return
        self.title.say(view.name)
        self._show_short(view)
        self._show_regions(view, region)
        cone = region.cone or Cone(6.0)
        section = self._editions.fired.section(region.layers, region.body or say("body"), cone)
        self.section.show_section(section)
        self.pieces.show_pieces(view, region.region)
        kinds = {
            RegionKind.INSIDE: say("inside"),
            RegionKind.LIP: say("lip"),
            RegionKind.OUTSIDE: say("outside"),
            RegionKind.FOOT: say("foot"),
        }
        self.kind.offer([("–", None), *((text, kind) for kind, text in kinds.items())], region.region_kind)
        self.body.offer([(body, body) for body in self._editions.bodies()])
        for field, text in (
            (self.body.lineEdit(), region.body or ""),
            (self.cone, cone_figure(region.cone) if region.cone else ""),
            (self.area, f"{region.area_dm2:g}" if region.area_dm2 is not None else ""),
            (self.planned, str(region.planned) if region.planned is not None else ""),
            (self.layers, format_layers(region.layers)),
        ):
            if field is not None and field.text() != text:
                field.setText(text)

    def _show_short(self, view: EditionView) -> None:
        empty(self._short)
        for material in view.short_of:
            line = row(spacing=2 * UNIT)
            text = say("{material} can no longer be had, and this edition needs it.").format(material=material)
            line.addWidget(strong(text), 1)
            ask = say("What could replace {material}?").format(material=material)
            line.addWidget(button(ask, partial(self._replace, material), main=True))
            self._short.addLayout(line)

    def _show_regions(self, view: EditionView, chosen: EditionRegion) -> None:
        empty(self._regions)
        for region in view.regions:
            key = button(region.region, partial(self._editions.choose_region, region.region))
            key.setProperty("small", True)
            key.setCheckable(True)
            key.setChecked(region.region == chosen.region)
            layers = layering_in_words(region.layers)
            key.setAccessibleName(say("Region {region}, {layers}").format(region=region.region, layers=layers))
            self._regions.addWidget(key)
        self._regions.addStretch(1)


class EditionsScreen(Place):
    """The editions, one of them closely."""

    code = "editions"
    replacement_wanted = Signal(str)

    def __init__(self, editions: Editions, studio: OpenStudio) -> None:
        super().__init__()
        self._editions, self._studio = editions, studio
        self.list = PlainList(say("Editions"))
        self.name = text_field(say("Name of a new edition"), say("Name"))
        self.add = button(say("Add an edition"), self._add)
        self.form = RegionForm(editions, self.replacement_wanted.emit)
        foot = column(margins=2 * UNIT, spacing=UNIT)
        foot.addLayout(labelled(say("New edition"), self.name))
        foot.addWidget(self.add)
        left = column(spacing=0)
        left.addWidget(self.list, 1)
        left.addWidget(area("panel", foot))
        self.nothing = Empty(
            say("No editions yet."),
            say("An edition is all the pieces held to one look. Name one at the left to begin."),
        )
        ground = column(spacing=0)
        ground.addWidget(self.nothing)
        ground.addWidget(self.form)
        line = row(spacing=0)
        line.addWidget(area("panel", left, LIST))
        line.addWidget(scrolled(area("raised", ground)), 1)
        self.setLayout(line)
        self.list.chosen.connect(editions.choose)
        self.name.returnPressed.connect(self._add)
        editions.shown.connect(self._shown)
        editions.chosen_changed.connect(self._shown)
        self._shown()

    def _add(self) -> None:
        self._editions.add(self.name.text(), say("outside"))
        self.name.clear()

    def _shown(self) -> None:
        rows: Sequence[PlainRow] = [row_of(view) for view in self._editions.all]
        self.list.show_rows(rows, self._editions.chosen_name)
        self.nothing.setVisible(not self._editions.all)
        self.headed.emit()

    def heading(self) -> tuple[str, str]:
        """Which edition, and how many pieces."""
        view = self._editions.chosen
        if view is None:
            return say("Editions"), say("All the pieces held to one look.")
        planned = say("{n} planned. ").format(n=view.planned) if view.planned else ""
        n = view.approved
        approved = say_many("{n} approved piece defines the look.", "{n} approved pieces define the look.", n)
        few = " " + say("With fewer than ten from three firings nothing is judged.") if n < 10 else ""
        return say("Editions"), planned + approved.format(n=n) + few

    def come(self) -> None:
        """Keyboard to the list."""
        (self.list if self._editions.all else self.name).setFocus()
