"""What a material is, written down anew in its own panel."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLineEdit, QWidget

from swatch.desk.firings import number_typed
from swatch.desk.materials import Materials
from swatch.screens.components.caution_line import CautionLine
from swatch.screens.style import UNIT
from swatch.screens.widgets import Choice, button, column, labelled, quiet, restyle, row, text_field
from swatch.terms.cone import Cone, parse_cone
from swatch.terms.materials import Kind, Material
from swatch.terms.problems import StudioProblem
from swatch.terms.problems.files import cones_reversed
from swatch.wording.layering import cone_figure
from swatch.wording.problems import problem_in_words
from swatch.wording.surface import kind_in_words
from swatch.wording.text import say

HEAVIEST = 5.0
"""No wet glaze weighs more than this, g/ml (common practice, no source: they are brought to 1.3 to 1.8)."""


class MaterialForm(QWidget):
    """Name, kind, cones, label and density of the chosen material; Enter keeps, Escape leaves."""

    def __init__(self, materials: Materials, done: Callable[[], object]) -> None:
        super().__init__()
        self._materials, self._done = materials, done
        self.name = text_field(say("Name"))
        self.kind = Choice(say("Kind"))
        self.low, self.high = text_field(say("Fires from cone")), text_field(say("Fires to cone"))
        self.label = Choice(say("What the maker's label says of food"))
        self.label_cone = text_field(say("At which cone the label says so"))
        self.density = text_field(say("Density of the wet glaze, g/ml"))
        self.bad = CautionLine()
        self.keep = button(say("Keep this"), self._keep, main=True)
        self.leave = button(say("Leave it"), done)
        self.label.chosen.connect(lambda said: self.label_cone.setEnabled(said is True))
        inside = column(margins=2 * UNIT, spacing=UNIT)
        inside.addLayout(labelled(say("Name"), self.name))
        inside.addLayout(labelled(say("Kind"), self.kind))
        cones = row(spacing=UNIT)
        cones.addLayout(labelled(say("From cone"), self.low))
        cones.addLayout(labelled(say("To cone"), self.high))
        cones.addLayout(labelled(say("Density, g/ml"), self.density))
        inside.addLayout(cones)
        label = row(spacing=UNIT)
        label.addLayout(labelled(say("Label, on food"), self.label), 2)
        label.addLayout(labelled(say("At cone"), self.label_cone), 1)
        inside.addLayout(label)
        inside.addWidget(quiet(say("What its maker claims. It settles nothing: a leach test does."), wrap=True))
        inside.addWidget(self.bad)
        inside.addStretch(1)
        keys = row(spacing=UNIT)
        keys.addWidget(self.leave, 1)
        keys.addWidget(self.keep, 1)
        inside.addLayout(keys)
        self.setLayout(inside)
        for field in self._fields():
            field.returnPressed.connect(self._keep)

    def _fields(self) -> tuple[QLineEdit, ...]:
        return self.name, self.low, self.high, self.density, self.label_cone

    def open(self) -> None:
        """Show the chosen material as it is on record."""
        material = self._materials.chosen
        if material is None:
            return
        self.bad.show_caution("")
        self.name.setText(material.name)
        kinds: list[tuple[str, object]] = [(kind_in_words(kind), kind) for kind in Kind]
        self.kind.offer([(say("not entered"), None), *kinds], material.kind)
        says: list[tuple[str, object]] = [
            (say("says nothing"), None),
            (say("not for food"), False),
            (say("claims food use"), True),
        ]
        self.label.offer(says, material.food_label)
        self.low.setText(_cone(material.cone_from))
        self.high.setText(_cone(material.cone_to))
        self.label_cone.setText(_cone(material.food_label_cone))
        self.label_cone.setEnabled(material.food_label is True)
        density = material.density_g_per_ml
        self.density.setText(f"{density:g}" if density is not None else "")
        for field in self._fields():
            _mark(field, bad=False)
        self.name.setFocus()
        self.name.selectAll()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Escape leaves everything as it was."""
        if event.key() == Qt.Key.Key_Escape:
            self._done()
            return
        super().keyPressEvent(event)

    def _keep(self) -> None:
        material = self._materials.chosen
        if material is None:
            return
        value = self._typed(material)
        if value is not None and (value == material or self._materials.edit(value)):
            self._done()

    def _typed(self, material: Material) -> Material | None:
        """The material as typed; None where a field is refused, which then says why."""
        for field in self._fields():
            _mark(field, bad=False)
        name = " ".join(self.name.text().split())
        if not name:
            self._refuse(self.name, say("A material needs a name."))
            return None
        cones: list[Cone | None] = []
        for field in (self.low, self.high, self.label_cone):
            try:
                cones.append(parse_cone(field.text()) if field.text().strip() else None)
            except StudioProblem as problem:
                self._refuse(field, problem_in_words(problem)[0])
                return None
        low, high = cones[0] or cones[1], cones[1] or cones[0]
        if low is not None and high is not None and high < low:
            self._refuse(self.low, problem_in_words(cones_reversed(str(low), str(high)))[0])
            return None
        density = None
        if self.density.text().strip():
            density = number_typed(self.density.text())
            if density is None or not 0.5 <= density <= HEAVIEST:
                self._refuse(self.density, say("Density is in g/ml, between 0.5 and 5."))
                return None
        said = self.label.currentData()
        return replace(
            material,
            name=name,
            kind=Kind(self.kind.currentData()) if self.kind.currentData() else None,
            cone_from=low,
            cone_to=high,
            density_g_per_ml=density,
            food_label=said,
            food_label_cone=cones[2] if said is True else None,
        )

    def _refuse(self, field: QLineEdit, why: str) -> None:
        _mark(field, bad=True)
        self.bad.show_caution(why)
        field.setFocus()


def _mark(field: QLineEdit, *, bad: bool) -> None:
    if bool(field.property("bad")) != bad:
        field.setProperty("bad", bad)
        restyle(field)


def _cone(cone: Cone | None) -> str:
    return cone_figure(cone) if cone is not None else ""
