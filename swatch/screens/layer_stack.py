"""The layers in hand, outermost on top: dragged by their handles or moved by keys, coats by a slider."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPen
from PySide6.QtWidgets import QSlider, QWidget

from swatch.desk.what_if import COAT, MOST_COATS, MOST_LAYERS, WhatIf
from swatch.screens.components.painting import Painted
from swatch.screens.style import HALF, UNIT, look
from swatch.screens.widgets import Choice, area, button, column, plain, row
from swatch.terms.layering import Layer
from swatch.wording.answers import coats_in_words
from swatch.wording.text import say

ROW = 84


class Handle(Painted):
    """What a layer is dragged by; Up and Down move it too."""

    on_bench = False
    taken = Signal()
    dragged = Signal(int)
    """Places outward; negative towards the body."""
    dropped = Signal()
    nudged = Signal(int)
    """The same by keys."""

    def __init__(self) -> None:
        super().__init__()
        self._from: float | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.OpenHandCursor)

    def wanted_size(self) -> QSize:
        """A narrow strip."""
        return QSize(28, 44)

    def paint(self, painter: QPainter) -> None:
        """Three lines."""
        painter.setPen(QPen(look.colour("edge"), 2))
        middle = self.height() // 2
        for y in (middle - 6, middle, middle + 6):
            painter.drawLine(8, y, 20, y)

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Take hold."""
        self._from = event.globalPosition().y()
        self.taken.emit()
        event.accept()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """A layer's height further: one place on."""
        if self._from is None:
            return
        by = self._from - event.globalPosition().y()
        if abs(by) > ROW * 0.6:
            self._from -= ROW if by > 0 else -ROW
            self.dragged.emit(1 if by > 0 else -1)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Let go."""
        self._from = None
        self.dropped.emit()
        event.accept()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Up is outward, as the layers are drawn."""
        if event.key() in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self.nudged.emit(1 if event.key() == Qt.Key.Key_Up else -1)
        else:
            super().keyPressEvent(event)


class LayerRow(QWidget):
    """One layer: handle, material, coats, and the way to take it off."""

    def __init__(self, desk: WhatIf, at: int, again: Callable[[int], object]) -> None:
        super().__init__()
        self._desk, self.at, self._again = desk, at, again
        self._now = at
        self.handle = Handle()
        self.material = Choice(say("Material of the layer"))
        self.coats = QSlider(Qt.Orientation.Horizontal)
        self.coats.setRange(1, round(MOST_COATS / COAT))
        self.coats.setPageStep(2)
        self.words = plain().hug()
        self.off = button("×", lambda: desk.take_off(self.at))
        self.off.setProperty("small", True)
        self.off.setFixedWidth(40)
        inside = column(spacing=HALF)
        head = row(spacing=UNIT)
        head.addWidget(self.material, 1)
        head.addWidget(self.off)
        inside.addLayout(head)
        under = row(spacing=UNIT)
        under.addWidget(self.coats, 1)
        self.words.setFixedWidth(72)
        under.addWidget(self.words)
        inside.addLayout(under)
        line = row(spacing=HALF)
        line.addWidget(self.handle)
        line.addLayout(inside, 1)
        self.setLayout(line)
        self.setFixedHeight(ROW)
        self.handle.taken.connect(self._taken)
        self.handle.dragged.connect(self._dragged)
        self.handle.dropped.connect(desk.end_drag)
        self.handle.nudged.connect(self._nudged)
        self.material.chosen.connect(lambda name: self._lay(material=str(name)))
        self.coats.valueChanged.connect(lambda n: self._lay(coats=n * COAT))
        self.coats.sliderPressed.connect(desk.begin_drag)
        self.coats.sliderReleased.connect(desk.end_drag)

    def _taken(self) -> None:
        self._now = self.at
        self._desk.begin_drag()

    def _dragged(self, by: int) -> None:
        """The mouse holds this row's handle; the layer it took has moved on to another place."""
        if 0 <= self._now + by < len(self._desk.held.layers):
            self._desk.move(self._now, self._now + by)
            self._now += by

    def _nudged(self, by: int) -> None:
        self._desk.move(self.at, self.at + by)
        self._again(self.at + by)

    def _lay(self, material: str | None = None, coats: float | None = None) -> None:
        now = self._desk.held.layers[self.at]
        self._desk.lay(self.at, Layer(material or now.material, coats or now.coats, now.wiped))

    def follow(self) -> None:
        """Show the layer as it is now, silently."""
        layer = self._desk.held.layers[self.at]
        self.material.offer([(name, name) for name in self._desk.materials()], layer.material)
        self.coats.blockSignals(True)
        self.coats.setValue(round(layer.coats / COAT))
        self.coats.blockSignals(False)
        self.words.say(coats_in_words(layer.coats))
        self.coats.setAccessibleName(say("Coats of {material}").format(material=layer.material))
        self.coats.setAccessibleDescription(coats_in_words(layer.coats))
        text = say("Layer {n}, {material}: Up and Down move it").format(n=self.at + 1, material=layer.material)
        self.handle.say_as(text, "")
        self.off.setAccessibleName(say("Take off {material}").format(material=layer.material))


class LayerStack(QWidget):
    """All layers, the outermost on top, and a box to lay one more."""

    def __init__(self, desk: WhatIf) -> None:
        super().__init__()
        self._desk = desk
        self.rows: list[LayerRow] = []
        self.more = Choice(say("Lay one more on top"))
        self._lines = column(spacing=UNIT)
        inside = column(spacing=UNIT)
        inside.addWidget(self.more)
        inside.addLayout(self._lines)
        whole = column()
        whole.addWidget(area("raised", inside))
        self.setLayout(whole)
        self.more.chosen.connect(self._add)
        desk.changed.connect(self.follow)
        self.follow()

    def _add(self, name: object) -> None:
        if isinstance(name, str) and name:
            self._desk.add(name)

    def _again(self, at: int) -> None:
        """The keyboard stays on the layer that was moved."""
        found = next((one for one in self.rows if one.at == at), None)
        if found is not None:
            found.handle.setFocus()

    def follow(self) -> None:
        """As many rows as layers; a row stands for a place, so that a drag is never torn off."""
        layers = self._desk.held.layers
        while len(self.rows) < len(layers):
            made = LayerRow(self._desk, len(self.rows), self._again)
            self.rows.append(made)
            self._lines.insertWidget(0, made)
        for spare in self.rows[len(layers) :]:
            self._lines.removeWidget(spare)
            spare.hide()
            spare.deleteLater()
        del self.rows[len(layers) :]
        for one in self.rows:
            one.follow()
        offered = [(say("lay one more on top…"), ""), *((name, name) for name in self._desk.materials())]
        self.more.offer(offered, "")
        self.more.setEnabled(len(layers) < MOST_LAYERS)
