"""The left column of Match: the target and the limits of the search."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QRect, QSize, Qt, Signal
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QCheckBox, QFrame, QVBoxLayout, QWidget

from swatch.desk.matching import Matching
from swatch.screens.components.painting import Painted, fill, unknown
from swatch.screens.seen import Seen, when_seen
from swatch.screens.style import HALF, UNIT
from swatch.screens.widgets import (
    Bench,
    Choice,
    Rule,
    area,
    button,
    column,
    labelled,
    link,
    number,
    plain,
    quiet,
    row,
    scrolled,
    strong,
    whole_number,
)
from swatch.terms.answers import ReplaceAnswer
from swatch.terms.colour import Lab
from swatch.terms.editions import RegionKind
from swatch.wording.answers import lab_in_words, seen_in_words
from swatch.wording.layering import cone_figure
from swatch.wording.surface import region_in_words
from swatch.wording.text import say

WIDTH = 184


class TargetSwatch(Painted):
    """The target, large."""

    def __init__(self) -> None:
        super().__init__()
        self._lab: Lab | None = None
        self.show_target(None, "")

    def show_target(self, lab: Lab | None, name: str) -> None:
        """Show another target."""
        self._lab = lab
        text = lab_in_words(lab) if lab is not None else say("No target yet")
        self.say_as(say("Target {name}").format(name=name), text)
        self.update()

    def wanted_size(self) -> QSize:
        """As wide as the column allows."""
        return QSize(WIDTH - 32, 56)

    def paint(self, painter: QPainter) -> None:
        """The colour, or dashes."""
        place = QRect(self.rect())
        if self._lab is None:
            unknown(painter, place, say("no target yet"))
        else:
            fill(painter, place, self._lab)


class AnotherTarget(QWidget):
    """Where a target can come from: typed numbers, a tile, a photo, a material to replace."""

    tile_wanted = Signal()
    photo_wanted = Signal()
    material_wanted = Signal(str)
    typed = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self.lightness, self.a, self.b = (
            number(say("Target L*"), 0.0, 100.0, 1.0),
            number(say("Target a*"), -128.0, 128.0, 1.0),
            number(say("Target b*"), -128.0, 128.0, 1.0),
        )
        self.lightness.setValue(50.0)
        self.replace = Choice(say("Material to replace"))
        self.use = button(say("Use this colour"), self._typed)
        self.from_tile = button(say("From a tile…"), self.tile_wanted.emit)
        self.from_photo = button(say("From a photo…"), self.photo_wanted.emit)
        inside = column(spacing=HALF)
        for text, field in (("L*", self.lightness), ("a*", self.a), ("b*", self.b)):
            line = row(spacing=HALF)
            line.addWidget(quiet(text).hug())
            line.addWidget(field, 1)
            inside.addLayout(line)
        inside.addWidget(self.use)
        inside.addWidget(self.from_tile)
        inside.addWidget(self.from_photo)
        inside.addLayout(labelled(say("Or replace a material"), self.replace))
        self.setLayout(inside)
        self.replace.chosen.connect(self._chosen)

    def offer(self, materials: tuple[str, ...]) -> None:
        """Name the materials that could be replaced."""
        self.replace.offer([(say("choose…"), None), *((name, name) for name in materials)])

    def _typed(self) -> None:
        self.typed.emit(Lab(self.lightness.value(), self.a.value(), self.b.value()))

    def _chosen(self, material: object) -> None:
        if isinstance(material, str):
            self.material_wanted.emit(material)


class LeaveOut(QFrame):
    """A list of the materials in stock; those without a tick are left out of the search."""

    changed = Signal(object)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent, Qt.WindowType.Popup)
        self.setObjectName("raised")
        self._boxes: list[QCheckBox] = []
        self._inside = column(margins=UNIT, spacing=0)
        ground = area("raised", self._inside)
        whole = column(spacing=0, margins=1)
        whole.addWidget(scrolled(ground))
        self.setLayout(whole)
        self.resize(240, 400)

    def offer(self, materials: tuple[str, ...], out: frozenset[str]) -> None:
        """List the materials, ticked unless left out."""
        for box in self._boxes:
            box.deleteLater()
        self._boxes = []
        for name in materials:
            box = QCheckBox(name.replace("&", "&&"))
            box.setAccessibleName(say("Use {material}").format(material=name))
            box.setChecked(name not in out)
            box.setProperty("material", name)
            box.clicked.connect(self._clicked)
            self._inside.addWidget(box)
            self._boxes.append(box)

    def _clicked(self) -> None:
        self.changed.emit(frozenset(str(box.property("material")) for box in self._boxes if not box.isChecked()))


class MatchControls(Seen):
    """Target above, limits beneath; every change is a named step on the desk."""

    all_uses_wanted = Signal()

    def __init__(self, matching: Matching) -> None:
        super().__init__()
        self._matching = matching
        self.swatch = TargetSwatch()
        self.origin, self.numbers = strong(wrap=True), plain(wrap=True)
        self.another = button(say("Another target…"), self._open_another)
        self.another.setCheckable(True)
        self.sources = AnotherTarget()
        self.sources.hide()
        self.use = Choice(say("Where it is used"))
        self.use_words = quiet(wrap=True)
        self.all_uses = link(say("All uses, jars to buy…"), self.all_uses_wanted.emit)
        self.widen = link(say("Search with other limits"), matching.widen)
        self.body, self.cone = Choice(say("Body")), Choice(say("Cone"))
        self.region = Choice(say("Part of the piece"))
        self.region.setToolTip(say("Inside, lip and outside touch food or mouth: labels are heeded there."))
        self.layers = whole_number(say("Different materials in a layering, at most"), 1, 3)
        self.coats = whole_number(say("Coats in all, at most"), 1, 6)
        self.tolerance = number(say("Tolerance, ΔE00"), 0.5, 20.0, 0.5)
        self.pieces = whole_number(say("Pieces to glaze"), 0, 100_000)
        self.pieces.setSpecialValueText("–")
        self.seen = quiet(wrap=True)
        self.stock = button("", self._open_stock)
        self.stock.setProperty("small", True)
        self.leave_out = LeaveOut(self)
        self.find_button = button(say("Find layerings"), matching.find, main=True)
        self.setFixedWidth(WIDTH)
        self._lay_out()
        self._join()
        self.follow()

    def _lay_out(self) -> None:
        bench = Bench()
        on_bench = column(margins=2 * UNIT)
        on_bench.addWidget(self.swatch)
        bench.setLayout(on_bench)
        inside = column(margins=2 * UNIT, spacing=UNIT)
        target: QVBoxLayout = column(spacing=2)
        target.addWidget(quiet(say("Target")))
        target.addWidget(self.origin)
        target.addWidget(self.numbers)
        inside.addLayout(target)
        inside.addWidget(self.another)
        inside.addWidget(self.sources)
        self.use.setMinimumContentsLength(4)
        self.use.view().setMinimumWidth(360)
        used = labelled(say("Where it is used"), self.use)
        used.addWidget(self.use_words)
        self._use_box = area("panel", used)
        inside.addWidget(self._use_box)
        inside.addWidget(self.widen)
        inside.addWidget(self.all_uses)
        self._limits = area("panel", self._limit_fields())
        inside.addWidget(self._limits)
        inside.addStretch(1)
        foot = column(margins=2 * UNIT)
        foot.addWidget(self.find_button)
        whole = column(spacing=0)
        whole.addWidget(bench)
        whole.addWidget(scrolled(area("panel", inside)), 1)
        whole.addWidget(area("panel", foot))
        self.setLayout(whole)

    def _limit_fields(self) -> QVBoxLayout:
        inside = column(spacing=HALF)
        inside.addWidget(Rule())
        inside.addLayout(labelled(say("Body"), self.body))
        inside.addLayout(labelled(say("Part of the piece"), self.region))
        for pair in (
            ((say("Cone"), self.cone), (say("Pieces"), self.pieces)),
            ((say("Layers, most"), self.layers), (say("Coats, most"), self.coats)),
            ((say("Tolerance"), self.tolerance), (say("From stock"), self.stock)),
        ):
            line = row(spacing=UNIT)
            for text, field in pair:
                line.addLayout(labelled(text, field), 1)
            inside.addLayout(line)
        inside.addWidget(self.seen)
        return inside

    def _join(self) -> None:
        want = self._matching.want
        self.body.chosen.connect(lambda body: want(say("Body {body}").format(body=body), body=body))
        self.cone.chosen.connect(lambda cone: want(say("Cone {cone}").format(cone=cone_figure(cone)), cone=cone))
        self.region.chosen.connect(self._region)
        self.layers.valueChanged.connect(lambda n: want(say("At most {n} materials").format(n=n), max_layers=n))
        self.coats.valueChanged.connect(lambda n: want(say("At most {n} coats").format(n=n), max_coats=n))
        self.tolerance.valueChanged.connect(
            lambda de: want(say("Tolerance {de:.1f}").format(de=de), tolerance=round(de, 2))
        )
        self.pieces.valueChanged.connect(lambda n: want(say("{n} pieces").format(n=n), pieces=n or None))
        self.use.chosen.connect(self._matching.show_use)
        self.leave_out.changed.connect(lambda out: want(say("Materials to use"), leave_out=out))
        self.sources.typed.connect(self._typed)
        self.sources.material_wanted.connect(self._replace)
        self._matching.wanted_changed.connect(self.follow)
        self._matching.found_changed.connect(self.follow)

    def _region(self, region: object) -> None:
        name = region_in_words(str(region or ""))
        step = say("Part of the piece: {region}").format(region=name)
        self._matching.want(step, regions=(str(region),) if region else ())

    def _typed(self, lab: Lab) -> None:
        self._close_another()
        self._matching.want_colour(lab, say("typed"))

    def _replace(self, material: str) -> None:
        self._close_another()
        self._matching.want_replacement(material)

    def _open_another(self) -> None:
        self.sources.setVisible(self.another.isChecked())
        self._limits.setVisible(not self.another.isChecked())

    def _close_another(self) -> None:
        self.another.setChecked(False)
        self._open_another()

    def _open_stock(self) -> None:
        self.leave_out.offer(self._matching.in_stock(), self._matching.wanted.leave_out)
        self.leave_out.move(self.stock.mapToGlobal(self.stock.rect().topRight()) - self._popup_rise())
        self.leave_out.show()

    def _popup_rise(self) -> Any:
        return self.leave_out.rect().bottomLeft() - self.stock.rect().bottomLeft()

    @when_seen
    def follow(self) -> None:
        """Show what the desk holds, silently."""
        matching, wanted = self._matching, self._matching.wanted
        target, replacing = matching.target, bool(wanted.replaces)
        self.swatch.show_target(target, wanted.origin)
        self.origin.say(wanted.origin)
        if target is not None:
            self.numbers.say(lab_in_words(target))
        else:
            self.numbers.say(say("Looking…") if replacing else "")
        self.another.setText(say("Another target…") if wanted.complete else say("Choose a target…"))
        self.another.setAccessibleName(self.another.text())
        self.sources.offer(matching.all_materials())
        self.use.offer(
            [(name, n) for n, name in enumerate(matching.named_uses())],
            matching.use_number,
        )
        self._use_box.setVisible(replacing and bool(matching.uses))
        self.use.setToolTip(self.use.currentText())
        self.use_words.say(self.use.currentText())
        planned = isinstance(matching.answer, ReplaceAnswer) and matching.answer.plan is not None
        self.all_uses.setVisible(planned)
        self.widen.setVisible(replacing and matching.use is not None)
        self._limits.setDisabled(replacing)
        self._limits.setHidden(replacing or self.another.isChecked())
        self.body.offer([(body, body) for body in matching.bodies()], wanted.body)
        self.cone.offer([(cone_figure(cone), cone) for cone in matching.cones()], wanted.cone)
        for field, value in (
            (self.layers, wanted.max_layers),
            (self.coats, wanted.max_coats),
            (self.tolerance, wanted.tolerance),
            (self.pieces, wanted.pieces or 0),
        ):
            field.blockSignals(True)
            field.setValue(value)  # type: ignore[arg-type]
            field.blockSignals(False)
        text = say("{de:.1f}: {seen}.")
        self.seen.say(text.format(de=wanted.tolerance, seen=seen_in_words(wanted.tolerance)))
        stock = matching.in_stock()
        used = [name for name in stock if name not in wanted.leave_out]
        all_of = say("All {n}…").format(n=len(stock))
        some = say("{n} of {all}…").format(n=len(used), all=len(stock))
        self.stock.setText(all_of if len(used) == len(stock) else some)
        self.stock.setAccessibleName(say("Materials to use: {n}").format(n=self.stock.text()))
        self.region.offer(
            [(region_in_words(code), code) for code in ("", *(str(kind) for kind in RegionKind))],
            wanted.regions[0] if wanted.regions else "",
        )
        # What was found stands until something is asked otherwise: there is nothing more to find.
        self.find_button.setEnabled(wanted.complete and not matching.looking and matching.answer is None)
