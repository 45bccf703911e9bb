"""The bench with the tiles on it: true colours, names beneath, the chosen one framed in black."""

from __future__ import annotations

from PySide6.QtCore import (
    QItemSelection,
    QItemSelectionModel,
    QModelIndex,
    QPersistentModelIndex,
    QRect,
    QSize,
    Qt,
)
from PySide6.QtCore import Signal as QtSignal
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractItemView, QListView, QStyle, QStyledItemDelegate, QStyleOptionViewItem

from swatch.desk.colours_on_screen import screen_colours
from swatch.desk.tiles import TileGrid, TileView
from swatch.screens.components.painting import fill, write
from swatch.screens.style import BODY, look
from swatch.terms.evidence import Stage
from swatch.wording.text import say

CELL = QSize(104, 136)
SIDE = 88
DOUBTFUL = 5.0
"""A tile known no better than this is called doubtful under its swatch."""


def stripes(rect: QRect, n: int) -> list[QRect]:
    """Divide a swatch for a tile's zones: one beneath the other, or from the fifth zone on in two columns."""
    columns = 1 if n <= 4 else 2 if n <= 8 else 3
    rows = -(-n // columns)
    out: list[QRect] = []
    for k in range(n):
        column, row = divmod(k, rows)
        left, right = rect.width() * column // columns, rect.width() * (column + 1) // columns
        top, bottom = rect.height() * row // rows, rect.height() * (row + 1) // rows
        out.append(QRect(rect.left() + left, rect.top() + top, right - left, bottom - top))
    return out


class TileDelegate(QStyledItemDelegate):
    """Paints one tile with its name."""

    def sizeHint(self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex) -> QSize:  # noqa: N802
        """All tiles are of one size."""
        return CELL

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        """Zones edge to edge, name and layering beneath."""
        tile = index.data(Qt.ItemDataRole.UserRole)
        if not isinstance(tile, TileView):
            return
        cell: QRect = option.rect
        state: QStyle.StateFlag = option.state
        swatch = QRect(cell.left() + 8, cell.top() + 8, SIDE, SIDE)
        for place, zone in zip(stripes(swatch, len(tile.zones)), tile.zones, strict=True):
            fill(painter, place, zone.lab)
        ink = look.bench_ink
        name = QRect(swatch.left(), swatch.bottom() + 4, SIDE, 16)
        painter.save()
        doubtful = max(zone.known_to for zone in tile.zones) > DOUBTFUL
        if tile.stage is not Stage.FIRED or doubtful:
            mark = say("doubtful") if tile.stage is Stage.FIRED else say(str(tile.stage))
            write(painter, name, mark, ink, align=Qt.AlignmentFlag.AlignRight)
            name.setWidth(SIDE - painter.fontMetrics().horizontalAdvance(mark) - 6)
        write(painter, name, tile.tile, ink, strong=True)
        write(painter, QRect(swatch.left(), swatch.bottom() + 20, SIDE, 16), tile.summary, ink)
        if state & QStyle.StateFlag.State_Selected:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            focused = bool(state & QStyle.StateFlag.State_HasFocus)
            painter.setPen(QPen(ink, 3 if focused else 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(cell.adjusted(2, 2, -2, -1), 3, 3)
        painter.restore()


class TileGridView(QListView):
    """The grid; `chosen` names the tile."""

    chosen = QtSignal(str)

    def __init__(self, grid: TileGrid) -> None:
        super().__init__()
        self.empty_text = ""
        self._grid = grid
        self.setModel(grid)
        self.setItemDelegate(TileDelegate(self))
        self.setViewMode(QListView.ViewMode.IconMode)
        self.setMovement(QListView.Movement.Static)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setUniformItemSizes(True)
        self.setGridSize(CELL)
        self.setSpacing(0)
        self.setLayoutMode(QListView.LayoutMode.SinglePass)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setDragEnabled(False)
        self.setAcceptDrops(False)
        self.setAccessibleName(say("Tiles on the bench"))
        self.verticalScrollBar().setSingleStep(CELL.height() // 2)
        look.changed.connect(self.viewport().update)
        screen_colours().changed.connect(self.viewport().update)
        self.setFont(look.font(BODY))

    def choose(self, name: str) -> None:
        """Frame a tile, where it lies on the bench."""
        row = self._grid.row_of(name)
        model = self.selectionModel()
        if row < 0:
            model.clear()
            return
        index = self._grid.index(row)
        if model.currentIndex() != index or not model.isSelected(index):
            model.setCurrentIndex(index, QItemSelectionModel.SelectionFlag.ClearAndSelect)
            self.scrollTo(index)

    def selectionChanged(self, selected: QItemSelection, deselected: QItemSelection) -> None:  # noqa: N802
        """Tell which tile is chosen."""
        super().selectionChanged(selected, deselected)
        if selected.indexes():
            self.chosen.emit(str(selected.indexes()[0].data()))

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """The bench first; where nothing lies on it, what to do."""
        painter = QPainter(self.viewport())
        painter.fillRect(event.rect(), look.bench)
        if self.model().rowCount() == 0 and self.empty_text:
            painter.setFont(look.font(BODY))
            painter.setPen(look.bench_ink)
            place = self.viewport().rect().adjusted(48, 48, -48, -48)
            painter.drawText(place, Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap, self.empty_text)
        painter.end()
        super().paintEvent(event)
