"""The studio's fired tiles: filters, the bench, one tile closely."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QCheckBox, QWidget

from swatch.desk.opening import OpenStudio
from swatch.desk.tiles import Filters, Order, Tiles
from swatch.screens.components.swatch_grid import SwatchGrid
from swatch.screens.place import Place
from swatch.screens.seen import when_seen
from swatch.screens.style import UNIT, look
from swatch.screens.tile_detail import TileDetail
from swatch.screens.widgets import (
    Choice,
    area,
    button,
    column,
    dashed,
    labelled,
    link,
    quiet,
    row,
    scrolled,
    strong,
)
from swatch.terms.evidence import Stage
from swatch.wording.answers import coats_in_words
from swatch.wording.layering import cone_figure
from swatch.wording.text import say, say_many

FILTERS = 184


class DropHere(QWidget):
    """Where photos can be dropped; the whole window takes them as well."""

    def __init__(self, choose: Callable[[], object]) -> None:
        super().__init__()
        inside = column(margins=UNIT, spacing=0)
        word = strong(say("Drop photos here"))
        word.setAlignment(Qt.AlignmentFlag.AlignHCenter)
        inside.addWidget(word)
        self.choose = link(say("or choose…"), choose)
        inside.addWidget(self.choose, 0, Qt.AlignmentFlag.AlignHCenter)
        self.setLayout(inside)
        self.setFixedHeight(74)
        look.changed.connect(self.update)

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802
        """A dashed outline: to be filled."""
        painter = QPainter(self)
        dashed(painter, self.rect().adjusted(0, 0, -1, -1), look.colour("edge"))
        painter.end()


class TilesScreen(Place):
    """Every tile the studio has fired, in true colour."""

    code = "tiles"
    searchable = True
    photos_wanted = Signal()

    def __init__(self, tiles: Tiles, studio: OpenStudio) -> None:
        super().__init__()
        self._tiles, self._studio = tiles, studio
        self.material, self.body = Choice(say("Material")), Choice(say("Body"))
        self.cone, self.firing, self.coats = Choice(say("Cone")), Choice(say("Firing")), Choice(say("Coats"))
        self.order = Choice(say("Order"))
        self.stages = {
            Stage.FIRED: QCheckBox(say("Fired")),
            Stage.RAW: QCheckBox(say("Raw")),
            Stage.MAKER: QCheckBox(say("Maker's chart")),
        }
        self.clear = button(say("Clear filters"), tiles.clear_filters)
        self.drop = DropHere(self.photos_wanted.emit)
        self.grid = SwatchGrid(tiles.grid)
        self.detail = TileDetail(tiles)
        line = row(spacing=0)
        line.addWidget(self._filter_column())
        line.addWidget(self.grid, 1)
        line.addWidget(self.detail)
        self.setLayout(line)
        self._join()
        self._choices_changed()
        self._chosen_changed()

    def _filter_column(self) -> QWidget:
        inside = column(margins=2 * UNIT, spacing=UNIT)
        for text, field in (
            (say("Material"), self.material),
            (say("Body"), self.body),
            (say("Cone"), self.cone),
            (say("Firing"), self.firing),
            (say("Coats in all"), self.coats),
        ):
            inside.addLayout(labelled(text, field))
        stages = column(spacing=0)
        stages.addWidget(quiet(say("Stage")))
        for box in self.stages.values():
            box.setAccessibleName(box.text())
            stages.addWidget(box)
        inside.addLayout(stages)
        inside.addLayout(labelled(say("Order"), self.order))
        inside.addWidget(self.clear)
        inside.addStretch(1)
        inside.addWidget(self.drop)
        whole = scrolled(area("panel", inside))
        whole.setFixedWidth(FILTERS)
        return whole

    def _join(self) -> None:
        tiles = self._tiles
        for field, name in (
            (self.material, "material"),
            (self.body, "body"),
            (self.cone, "cone"),
            (self.firing, "firing"),
            (self.coats, "coats"),
            (self.order, "order"),
        ):
            field.chosen.connect(lambda value, name=name: tiles.filter(**{name: value}))
        for box in self.stages.values():
            box.clicked.connect(self._stages_clicked)
        self.grid.chosen.connect(self._chosen_on_bench)
        tiles.shown.connect(self._shown)
        tiles.chosen_changed.connect(self._chosen_changed)
        tiles.back_made.connect(self._back_made)
        self._studio.changed.connect(self._choices_changed)

    def _stages_clicked(self) -> None:
        self._tiles.filter(stages=frozenset(stage for stage, box in self.stages.items() if box.isChecked()))

    @when_seen
    def _choices_changed(self) -> None:
        choices, filters = self._tiles.choices, self._tiles.filters
        every: list[tuple[str, Any]] = [(say("Any"), None)]
        self.material.offer([*every, *((name, name) for name in choices.materials)], filters.material)
        self.body.offer([*every, *((name, name) for name in choices.bodies)], filters.body)
        self.cone.offer([*every, *((cone_figure(cone), cone) for cone in choices.cones)], filters.cone)
        self.firing.offer([*every, *((name, name) for name in choices.firings)], filters.firing)
        self.coats.offer([*every, *((coats_in_words(n), n) for n in choices.coats)], filters.coats)
        orders = {
            Order.HUE: say("Hue, then light"),
            Order.LIGHT: say("Light to dark"),
            Order.NAME: say("Name"),
        }
        self.order.offer([(text, which) for which, text in orders.items()], filters.order)
        self._shown()

    @when_seen
    def _shown(self) -> None:
        filters: Filters = self._tiles.filters
        for field, value in (
            (self.material, filters.material),
            (self.body, filters.body),
            (self.cone, filters.cone),
            (self.firing, filters.firing),
            (self.coats, filters.coats),
            (self.order, filters.order),
        ):
            field.show_value(value)
        for stage, box in self.stages.items():
            box.setChecked(stage in filters.stages)
        tiles, _readings, shown = self._tiles.counts()
        self.grid.set_empty_text(
            say("No tile is like that. Clear the filters to see all {n}.").format(n=tiles)
            if tiles
            else say(
                "No tiles yet. Drop photos of fired tiles lying beside a reference card anywhere in the window."
            )
        )
        self.clear.setEnabled(shown < tiles)
        chosen = self._tiles.chosen
        if chosen is None and shown:
            first = self._tiles.grid.tile(0)
            if first is not None:
                self._tiles.choose(first.tile)
        elif chosen is not None:
            self._frame(chosen.tile)
        self.headed.emit()

    def _chosen_on_bench(self, row: int) -> None:
        tile = self._tiles.grid.tile(row)
        if tile is not None:
            self._tiles.choose(tile.tile)

    def _frame(self, name: str) -> None:
        """Frame a tile on the bench, where it lies there."""
        row = self._tiles.grid.row_of(name)
        if row >= 0 and self.grid.currentIndex().row() != row:
            self.grid.choose(row)

    @when_seen
    def _back_made(self) -> None:
        if self._tiles.chosen is not None:
            self.detail.show_back(self._tiles.chosen)

    @when_seen
    def _chosen_changed(self) -> None:
        tile = self._tiles.chosen
        self.detail.show_tile(tile, self._studio.fired)
        if tile is not None:
            self._frame(tile.tile)
        self.headed.emit()

    def heading(self) -> tuple[str, str]:
        """How many there are and how many are looked at."""
        tiles, readings, shown = self._tiles.counts()
        if not tiles:
            return say("Tiles"), say("Test tiles whose colours were read from photos.")
        parts = [say_many("{n} tile", "{n} tiles", tiles).format(n=tiles)]
        parts.append(say_many("{n} reading", "{n} readings", readings).format(n=readings))
        if shown != tiles:
            parts.append(say("{n} shown").format(n=shown))
        return say("Tiles"), ", ".join(parts) + "."

    def foot(self) -> str:
        """The chosen tile's numbers."""
        tile = self._tiles.chosen
        return tile.spoken if tile is not None and len(tile.zones) == 1 else ""

    def search(self, text: str) -> None:
        """Show tiles that hold all the words."""
        self._tiles.filter(text=text)

    def searched(self) -> str:
        """The words searched for."""
        return self._tiles.filters.text

    def come(self) -> None:
        """Put the keyboard on the bench."""
        self.grid.setFocus()
