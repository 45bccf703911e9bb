"""The regions of an edition with their layers, what they lack, and the pieces that define the look."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QEvent, QRect, QSize, Qt
from PySide6.QtGui import QHelpEvent, QPainter
from PySide6.QtWidgets import QToolTip, QVBoxLayout, QWidget

from swatch.desk.editions import Editions, EditionView
from swatch.desk.firings import cone_typed, number_typed
from swatch.screens.components.painting import Painted, fill, write
from swatch.screens.components.section import SectionDetail
from swatch.screens.style import UNIT, look
from swatch.screens.widgets import (
    Choice,
    Rule,
    button,
    column,
    empty,
    labelled,
    quiet,
    row,
    strong,
    text_field,
)
from swatch.terms.colour import Lab
from swatch.terms.cone import Cone
from swatch.terms.editions import EditionRegion, PieceReading, RegionKind, Role
from swatch.terms.layering import format_layers, parse_layers
from swatch.terms.problems import StudioProblem
from swatch.wording.answers import lab_in_words
from swatch.wording.layering import cone_figure, layering_in_words
from swatch.wording.problems import problem_in_words
from swatch.wording.text import say, say_many

LEAST_PROMISED = 3.0
"""ΔE00 below which a sample of six pieces mostly supports no verdict (simulated editions, `bench/RESULTS.md`)."""


MOST_SHOWN = 60


class ApprovedPieces(Painted):
    """The approved pieces in one region, a square each, edge to edge."""

    def __init__(self) -> None:
        super().__init__()
        self._view: EditionView | None = None
        self._region = self._caption = ""
        self._pieces: list[tuple[str, Lab, int, str]] = []
        self.setSizePolicy(self.sizePolicy().Policy.Expanding, self.sizePolicy().Policy.Fixed)

    def show_pieces(self, view: EditionView, region: str) -> None:
        """Show another region."""
        self._view, self._region = view, region
        self._pieces = self._means()
        readings = sum(n for _name, _lab, n, _firing in self._pieces)
        firings = len({firing for *_rest, firing in self._pieces if firing})
        n = len(self._pieces)
        text = say_many("{n} approved piece", "{n} approved pieces", n).format(n=n)
        self._caption = say("{pieces}, {region}, from {firings} firings; {readings} readings").format(
            pieces=text, region=region, firings=firings, readings=readings
        )
        told = "; ".join(f"{name} {lab_in_words(lab)}" for name, lab, _n, _firing in self._pieces)
        self.say_as(self._caption, told)
        self.setVisible(n > 0)
        self.updateGeometry()
        self.update()

    def _means(self) -> list[tuple[str, Lab, int, str]]:
        """Each approved piece with its mean colour here, its readings and its firing."""
        found: dict[str, list[PieceReading]] = {}
        for one in self._view.pieces if self._view is not None else ():
            if one.region == self._region and one.role is Role.APPROVED:
                found.setdefault(one.piece, []).append(one)
        means = []
        for name, rows in found.items():
            n = len(rows)
            lab = Lab(*(sum(one.lab[k] for one in rows) / n for k in range(3)))
            means.append((name, lab, n, rows[0].firing or ""))
        return means[:MOST_SHOWN]

    def wanted_size(self) -> QSize:
        """Rows of twenty."""
        return QSize(480, 36 + 28 * max(1, -(-len(self._pieces) // 20)))

    def event(self, event: QEvent) -> bool:
        """A pointer that rests on a square is told which piece it is."""
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            at = (event.pos().x() - 16) // 22 + 20 * ((event.pos().y() - 28) // 28)
            on = event.pos().x() >= 16 and event.pos().y() >= 28 and 0 <= at < len(self._pieces)
            name, lab, _n, firing = self._pieces[at] if on else ("", Lab(0, 0, 0), 0, "")
            QToolTip.showText(event.globalPos(), f"{name}, {firing}\n{lab_in_words(lab)}" if on else "", self)
            return True
        return super().event(event)

    def paint(self, painter: QPainter) -> None:
        """All of them."""
        write(painter, QRect(16, 4, self.width() - 32, 20), self._caption, look.bench_ink)
        for n, (_name, lab, _count, _firing) in enumerate(self._pieces):
            fill(painter, QRect(16 + n % 20 * 22, 28 + n // 20 * 28, 22, 28), lab)


class RegionForm(QWidget):
    """One region of an edition: layers, body, cone, area."""

    def __init__(self, editions: Editions, replace: Callable[[str], object]) -> None:
        super().__init__()
        self._editions, self._replace = editions, replace
        self._regions = row(spacing=UNIT)
        self.section = SectionDetail()
        self.pieces = ApprovedPieces()
        self.kind, self.body = Choice(say("Touches")), Choice(say("Body"), editable=True)
        self.cone, self.area = text_field(say("Cone")), text_field(say("Area of the region, dm²"))
        self.planned = text_field(say("Pieces planned"))
        self.tolerance = text_field(say("Tolerance, ΔE00"), "3.5")
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
        inside.addLayout(self._short)
        inside.addLayout(self._regions)
        inside.addWidget(self.section)
        inside.addWidget(self.pieces)
        inside.addLayout(labelled(say("Layers from the body outward"), self.layers))
        for group in (
            ((say("Body"), self.body), (say("Cone"), self.cone), (say("Touches"), self.kind)),
            (
                (say("Area, dm²"), self.area),
                (say("Pieces planned"), self.planned),
                (say("Tolerance, ΔE00"), self.tolerance),
            ),
        ):
            line = row(spacing=2 * UNIT)
            for text, field in group:
                line.addLayout(labelled(text, field), 1)
            inside.addLayout(line)
        inside.addWidget(self.bad)
        text = say(
            "Inside, lip and outside: only glazes whose label claims food use are offered on top. "
            "That approves nothing."
        )
        inside.addWidget(quiet(text, wrap=True))
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
        self.tolerance.editingFinished.connect(self._tolerance)
        self.cone.editingFinished.connect(self._cone)
        self.layers.editingFinished.connect(self._layers)

    def _planned(self) -> None:
        n = number_typed(self.planned.text())
        self._editions.write(planned=int(n) if n is not None else None)

    def _tolerance(self) -> None:
        """Write down how far a load may be off, and say at once what a sample cannot support."""
        wanted = number_typed(self.tolerance.text())
        if wanted is not None and not 0.1 <= wanted <= 50:
            self.bad.say(say("A tolerance is between 0.1 and 50 ΔE00."))
            return
        self.bad.say("")
        if wanted is not None and wanted < LEAST_PROMISED:
            self.bad.say(
                say("Six pieces of a load support 3 to 4 ΔE00: so tight a tolerance can mostly not be promised.")
            )
        self._editions.write(tolerance=wanted)

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
        self._show_short(view)
        self._show_regions(view, region)
        cone = region.cone or Cone(6.0)
        section = self._editions.fired.section(region.layers, region.body or say("body"), cone)
        self.section.show_section(section)
        self.pieces.show_pieces(view, region.region)
        kinds = {
            RegionKind.INSIDE: say("inside: food"),
            RegionKind.LIP: say("lip: mouth"),
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
            (self.tolerance, f"{region.tolerance:g}" if region.tolerance is not None else ""),
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
