"""The studio's tiles as they are looked at: grouped, filtered, searched, ordered."""

from __future__ import annotations

import json
from collections.abc import Hashable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QModelIndex, QObject, QPersistentModelIndex, QStringListModel, Qt, Signal

from swatch.desk.jobs import Jobs
from swatch.desk.opening import OpenStudio
from swatch.desk.tile_search import TileIndex
from swatch.desk.tile_views import TileView, ZoneView
from swatch.terms.cone import Cone
from swatch.terms.evidence import Sheen, Stage
from swatch.terms.layering import fold_name
from swatch.terms.measured import TileBack
from swatch.terms.problems import StudioProblem

if TYPE_CHECKING:
    from swatch.library.rows import ReadingRow, TileRow

Index = QModelIndex | QPersistentModelIndex
AT_ONCE = 2_000
"""So many tiles are laid out within the turn in which they were read."""


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

    @property
    def wanted(self) -> dict[str, Iterable[Hashable]]:
        """What each column of the index must have one of."""
        one = {"body": self.body, "cone": self.cone, "firing": self.firing, "coats": self.coats}
        wanted: dict[str, Iterable[Hashable]] = {
            name: (value,) for name, value in one.items() if value is not None
        }
        wanted["stage"] = self.stages
        if self.material is not None:
            wanted["material"] = (fold_name(self.material),)
        return wanted


class TileGrid(QStringListModel):
    """The tiles on the bench, in order; filtering rebuilds one list of numbers, not a proxy's map.

    The names are Qt's own list, since a view asks for the number of rows once for each row when it lays them out.
    """

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._index = TileIndex()
        self._shown: NDArray[np.intp] = np.zeros(0, dtype=np.intp)

    def show_tiles(self, index: TileIndex, shown: NDArray[np.intp]) -> None:
        """Lay other tiles on the bench, by their numbers."""
        if index is self._index and np.array_equal(shown, self._shown):
            return
        self._index, self._shown = index, shown
        self.setStringList(list(map(index.tile_names.__getitem__, shown.tolist())))

    def tile(self, row: int) -> TileView | None:
        """The tile at one place of the bench."""
        return self._index.tiles[self._shown[row]] if 0 <= row < len(self._shown) else None

    def row_of(self, name: str) -> int:
        """Where a tile lies; -1 where it is filtered away."""
        first = self._index.places.get(name)
        if first is None:
            return -1
        at = np.flatnonzero(self._shown == first)
        if len(at):
            return int(at[0])
        return next(
            (row for row in range(len(self._shown)) if self._index.tiles[self._shown[row]].tile == name), -1
        )

    def flags(self, _index: Index) -> Qt.ItemFlag:
        """Tiles can be chosen, not renamed here."""
        return Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemNeverHasChildren

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
    back_made = Signal()
    """The picture of a back is there now."""
    match_wanted = Signal(object)
    """A `ZoneView` whose colour is to be matched."""

    def __init__(self, studio: OpenStudio, jobs: Jobs) -> None:
        super().__init__(studio)
        self._studio, self._jobs = studio, jobs
        self._making: set[str] = set()
        self.grid = TileGrid(self)
        self.filters = Filters()
        self.choices = Choices()
        self._tiles: list[TileView] = []
        self._chosen = ""
        self._rows: dict[str, tuple[TileRow, ...]] = {}
        studio.opened.connect(self._other_studio)
        studio.changed.connect(self._read)
        self._read()

    def _find(self) -> NDArray[np.intp]:
        filters, index = self.filters, self._studio.index
        wanted = filters.wanted
        shown = index.find(filters.text, wanted, filters.order)
        if filters.any_of:
            among = index.find("", {"material": filters.any_of}, filters.order)
            shown = shown[np.isin(shown, among)]
        return shown

    @property
    def all(self) -> Sequence[TileView]:
        """Every tile of the studio."""
        return self._tiles

    @property
    def chosen(self) -> TileView | None:
        """The tile being looked at."""
        at = self._studio.index.places.get(self._chosen)
        return self._tiles[at] if at is not None and at < len(self._tiles) else None

    def counts(self) -> tuple[int, int, int]:
        """How many tiles, readings, and tiles on the bench."""
        return len(self._tiles), self._studio.index.readings, self.grid.rowCount()

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
        rows = self._rows_of(tile)
        return next((one.readings for row in rows for one in row.zones if one.name == zone), ())

    def back_of(self, tile: str) -> tuple[str, str] | None:
        """Picture of a tile's back and the photo it comes from; an empty picture is being made."""
        studio = self._studio.studio
        if studio is None or self._studio.busy:
            return None
        found = studio.back_of(tile)
        if found is None:
            return None
        folder = studio.cache / "backs"
        file = folder / f"{found.thumbnail}-0.jpg"
        if file.is_file():
            return str(file), found.name
        if found.thumbnail not in self._making:
            self._making.add(found.thumbnail)
            outline = tuple((float(x), float(y)) for x, y in json.loads(found.outline))
            backs = (TileBack(tile, outline),)
            asked = {"photo": str(found.path), "backs": backs, "out": str(folder), "stem": found.thumbnail}
            job = self._jobs.ask("backs", asked)
            job.finished.connect(lambda _made: self.back_made.emit())
            job.failed.connect(self._not_made)
        return "", found.name

    def _not_made(self, error: Exception) -> None:
        if isinstance(error, StudioProblem):
            self._studio.failed.emit(error)
        else:
            self._jobs.bug.emit(error)

    def _rows_of(self, tile: str) -> tuple[TileRow, ...]:
        studio = self._studio.studio
        if studio is None or self._studio.busy:
            return self._rows.get(tile, ())
        if tile not in self._rows:
            self._rows[tile] = studio.tiles_called(tile)
        return self._rows[tile]

    def set_aside(self, reading: int, *, aside: bool) -> None:
        """Leave a reading out of everything that is learnt, or take it in again."""
        if aside:
            self._studio.do(lambda studio: studio.set_aside([reading]))
        else:
            self._studio.do(lambda studio: studio.take_back([reading]))

    def remove(self, tile: str) -> None:
        """Take a tile out of the records with all its readings."""
        rows = self._rows_of(tile)
        if rows:
            self._studio.do(lambda studio: studio.remove_tiles([rows[-1].id]))

    def _other_studio(self) -> None:
        self.filters, self._chosen, self._making = Filters(), "", set()

    def _read(self) -> None:
        self._tiles, self._rows = self._studio.tiles(), {}
        index = self._studio.index
        known = {name: column.known for name, column in index.columns.items()}
        self.choices = Choices(
            materials=index.names,
            bodies=tuple(sorted(body for body in known["body"] if body)),
            cones=tuple(sorted(cone for cone in known["cone"] if cone is not None)),
            firings=tuple(sorted(firing for firing in known["firing"] if firing)),
            coats=tuple(sorted(known["coats"])),
            stages=frozenset(known["stage"]),
        )
        if len(self._tiles) > AT_ONCE:
            self._studio.in_turn(self._lay_and_tell)  # a view takes long to lay so many
        else:
            self._lay_and_tell()

    def _lay_and_tell(self) -> None:
        self._lay()
        self.chosen_changed.emit()

    def _lay(self) -> None:
        self.grid.show_tiles(self._studio.index, self._find())
        self.shown.emit()
