"""The studio's tiles as they are looked at: grouped, filtered, searched, ordered."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QAbstractListModel, QModelIndex, QObject, QPersistentModelIndex, Qt, Signal

from swatch.desk.opening import OpenStudio
from swatch.desk.tile_views import TileView, ZoneView
from swatch.terms.cone import Cone
from swatch.terms.evidence import Sheen, Stage
from swatch.terms.layering import fold_name

if TYPE_CHECKING:
    from swatch.library.rows import ReadingRow, TileRow

Index = QModelIndex | QPersistentModelIndex


class Order(StrEnum):
    """How the tiles lie on the bench."""

    HUE = "hue"
    LIGHT = "light"
    NAME = "name"


@dataclass(frozen=True, slots=True)
class Filters:
    """What a tile must be to lie on the bench; None lets all through."""

    text: str = ""
    material: str | None = None
    body: str | None = None
    cone: Cone | None = None
    firing: str | None = None
    coats: float | None = None
    stages: frozenset[Stage] = frozenset({Stage.FIRED})
    order: Order = Order.HUE
    any_of: frozenset[str] = frozenset()

    def lets_through(self, tile: TileView) -> bool:
        """Whether the tile is wanted."""
        return (
            tile.stage in self.stages
            and (self.material is None or fold_name(self.material) in tile.materials)
            and (not self.any_of or bool(self.any_of & tile.materials))
            and (self.body is None or tile.body == self.body)
            and (self.cone is None or tile.cone == self.cone)
            and (self.firing is None or tile.firing == self.firing)
            and (self.coats is None or self.coats in tile.coats)
            and all(word in tile.hay for word in fold_name(self.text).split())
        )


class TileGrid(QAbstractListModel):
    """The tiles on the bench, in order; filtering rebuilds one list of numbers, not a proxy's map."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._shown: list[TileView] = []

    def show_tiles(self, tiles: list[TileView]) -> None:
        """Lay other tiles on the bench."""
        self.beginResetModel()
        self._shown = tiles
        self.endResetModel()

    def tile(self, row: int) -> TileView | None:
        """The tile at one place of the bench."""
        return self._shown[row] if 0 <= row < len(self._shown) else None

    def row_of(self, name: str) -> int:
        """Where a tile lies; -1 where it is filtered away."""
        return next((k for k, tile in enumerate(self._shown) if tile.tile == name), -1)

    def rowCount(self, parent: Index | None = None) -> int:  # noqa: N802
        """How many tiles lie on the bench."""
        return 0 if parent is not None and parent.isValid() else len(self._shown)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Name, summary and spoken numbers of a tile; the tile itself as user data."""
        tile = self.tile(index.row())
        if tile is None:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return tile.tile
        if role == Qt.ItemDataRole.UserRole:
            return tile
        if role in (Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole):
            return tile.spoken
        return None


@dataclass(frozen=True, slots=True)
class Choices:
    """What the filters can be set to in this studio."""

    materials: tuple[str, ...] = ()
    bodies: tuple[str, ...] = ()
    cones: tuple[Cone, ...] = ()
    firings: tuple[str, ...] = ()
    coats: tuple[float, ...] = ()
    stages: frozenset[Stage] = field(default_factory=frozenset)


class Tiles(QObject):
    """Which tiles are looked at, and which of them is chosen."""

    shown = Signal()
    chosen_changed = Signal()
    match_wanted = Signal(object)
    """A `ZoneView` whose colour is to be matched."""

    def __init__(self, studio: OpenStudio) -> None:
        super().__init__(studio)
        self._studio = studio
        self.grid = TileGrid(self)
        self.filters = Filters()
        self.choices = Choices()
        self._tiles: list[TileView] = []
        self._chosen = ""
        self._rows: dict[str, TileRow] | None = None
        studio.opened.connect(self._other_studio)
        studio.changed.connect(self._read)
        self._read()

    @property
    def all(self) -> Sequence[TileView]:
        """Every tile of the studio."""
        return self._tiles

    @property
    def chosen(self) -> TileView | None:
        """The tile being looked at."""
        return next((tile for tile in self._tiles if tile.tile == self._chosen), None)

    def counts(self) -> tuple[int, int, int]:
        """How many tiles, readings, and tiles on the bench."""
        readings = sum(zone.readings for tile in self._tiles for zone in tile.zones)
        return len(self._tiles), readings, self.grid.rowCount()

    def choose(self, name: str) -> None:
        """Look at one tile."""
        if name != self._chosen:
            self._chosen = name
            self.chosen_changed.emit()

    def filter(self, **changes: Any) -> None:
        """Change some of the filters: ``filter(body="Buff", cone=None)``."""
        self.filters = replace(self.filters, **changes)
        self._lay()

    def clear_filters(self) -> None:
        """Let all tiles through again, in the order they lie in."""
        self.filters = Filters(stages=self.filters.stages, order=self.filters.order)
        self._lay()

    def show_with(self, materials: Sequence[str]) -> None:
        """Lay only tiles on the bench that carry one of these materials, and say so as a search would."""
        self.filters = Filters(stages=self.filters.stages, any_of=frozenset(map(fold_name, materials)))
        self._lay()

    def set_sheen(self, zone: ZoneView, sheen: Sheen | None) -> None:
        """Record how a zone shines."""
        changed = replace(zone.reading, sheen=sheen)
        self._studio.do(lambda studio: studio.put_readings([changed], frozenset({"sheen"})))

    def set_faults(self, zone: ZoneView, faults: Iterable[str]) -> None:
        """Record a zone's faults."""
        changed = replace(zone.reading, faults=tuple(faults))
        self._studio.do(lambda studio: studio.put_readings([changed], frozenset({"faults"})))

    def readings_of(self, tile: str, zone: str) -> tuple[ReadingRow, ...]:
        """Every current reading of a zone, those set aside too."""
        studio = self._studio.studio
        if self._rows is None:
            self._rows = {row.name: row for row in studio.tiles()} if studio is not None else {}
        row = self._rows.get(tile)
        return next((one.readings for one in row.zones if one.name == zone), ()) if row is not None else ()

    def set_aside(self, reading: int, *, aside: bool) -> None:
        """Leave a reading out of everything that is learnt, or take it in again."""
        if aside:
            self._studio.do(lambda studio: studio.set_aside([reading]))
        else:
            self._studio.do(lambda studio: studio.take_back([reading]))

    def remove(self, tile: str) -> None:
        """Take a tile out of the records with all its readings."""
        self.readings_of(tile, "")
        row = (self._rows or {}).get(tile)
        if row is not None:
            self._studio.do(lambda studio: studio.remove_tiles([row.id]))

    def _other_studio(self) -> None:
        self.filters, self._chosen = Filters(), ""

    def _read(self) -> None:
        self._tiles, self._rows = self._studio.tiles(), None
        materials = sorted({layer.material for t in self._tiles for z in t.zones for layer in z.reading.layers})
        self.choices = Choices(
            materials=tuple(materials),
            bodies=tuple(sorted({tile.body for tile in self._tiles if tile.body})),
            cones=tuple(sorted({tile.cone for tile in self._tiles if tile.cone is not None})),
            firings=tuple(sorted({tile.firing for tile in self._tiles if tile.firing})),
            coats=tuple(sorted({coats for tile in self._tiles for coats in tile.coats})),
            stages=frozenset(tile.stage for tile in self._tiles),
        )
        self._lay()
        self.chosen_changed.emit()

    def _lay(self) -> None:
        shown = [tile for tile in self._tiles if self.filters.lets_through(tile)]
        shown.sort(key=_ORDERS[self.filters.order])
        self.grid.show_tiles(shown)
        self.shown.emit()


def _by_hue(tile: TileView) -> tuple[float, float]:
    """Greys first, then round the hues in twelve steps; within a step from light to dark."""
    lab = tile.zones[0].lab
    chroma = math.hypot(lab.a, lab.b)
    hue = -1.0 if chroma < 6.0 else math.floor(math.degrees(math.atan2(lab.b, lab.a)) % 360.0 / 30.0)
    return hue, -lab.L


def _by_light(tile: TileView) -> tuple[float, float]:
    return -tile.zones[0].lab.L, 0.0


def _by_name(tile: TileView) -> tuple[str, str]:
    return tile.tile.rjust(12), tile.stage


_ORDERS: dict[Order, Any] = {Order.HUE: _by_hue, Order.LIGHT: _by_light, Order.NAME: _by_name}
