"""Why: the tiles an answer rests on most, each in its colour, and what would change it."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout

from swatch.desk.footing import WhyAnswer
from swatch.screens.components.painting import Painted, fill
from swatch.screens.seen import Seen, when_seen
from swatch.screens.style import HALF, UNIT
from swatch.screens.widgets import column, empty, plain, quiet, row, strong
from swatch.terms.answers import RestsOn
from swatch.terms.colour import Lab
from swatch.wording.answers import lab_in_words, layers_in_words, one_more_in_words, rests_on_in_words
from swatch.wording.text import say


class TileColour(Painted):
    """One tile's colour on a piece of bench, as a thumbnail that can be pressed."""

    pressed = Signal()

    def __init__(self, lab: Lab, name: str, said: str) -> None:
        super().__init__()
        self._lab = lab
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.say_as(say("Look at {tile}").format(tile=name), f"{said} {lab_in_words(lab)}")

    def wanted_size(self) -> QSize:
        """A thumbnail with bench around it."""
        return QSize(56, 48)

    def paint(self, painter: QPainter) -> None:
        """The colour."""
        fill(painter, self.rect().adjusted(8, 6, -8, -6), self._lab)

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Open the tile."""
        event.accept()
        self.pressed.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Space and Enter open it too."""
        if event.key() in (Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.pressed.emit()
        else:
            super().keyPressEvent(event)


class WhyPane(Seen):
    """The tiles, most leant on first; pressing one opens it."""

    tile_wanted = Signal(str)

    def __init__(self, why: WhyAnswer) -> None:
        super().__init__()
        self._why = why
        self.tiles: list[TileColour] = []
        self._lines: QVBoxLayout = column(spacing=HALF)
        inside = column(spacing=HALF)
        inside.addWidget(strong(say("Rests most on")))
        inside.addLayout(self._lines)
        self.setLayout(inside)
        why.changed.connect(self._show)
        self._show()

    @when_seen
    def _show(self) -> None:
        empty(self._lines)
        self.tiles = []
        footing = self._why.footing
        if footing is None:
            text = say("Finding out…") if self._why.asking else say("Not known yet.")
            self._lines.addWidget(quiet(text))
            return
        for one in footing.tiles:
            self._lines.addLayout(self._line(one))
        if not footing.tiles:
            self._lines.addWidget(
                plain(say("No single tile: what is known of the materials in general."), wrap=True)
            )
        self._lines.addWidget(quiet(one_more_in_words(footing), wrap=True))

    def _line(self, one: RestsOn) -> QHBoxLayout:
        name = f"{one.tile} {one.zone}".strip()
        layers, rests = layers_in_words(one.layers), rests_on_in_words(one)
        tile = TileColour(one.lab, name, f"{layers}. {rests}.")
        tile.pressed.connect(lambda: self.tile_wanted.emit(one.tile))
        self.tiles.append(tile)
        words = column(spacing=0)
        words.addWidget(plain(f"{name}  {layers}"))
        words.addWidget(quiet(rests, wrap=True))
        line = row(spacing=UNIT)
        line.addWidget(tile)
        line.addLayout(words, 1)
        return line
