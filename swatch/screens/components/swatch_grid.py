"""Tiles on the bench, as many as there are: only what is seen is painted, and painted cells are kept."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from typing import Any

from PySide6.QtCore import (
    QAbstractItemModel,
    QEvent,
    QItemSelection,
    QItemSelectionModel,
    QModelIndex,
    QPersistentModelIndex,
    QRect,
    QRectF,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QColor, QHelpEvent, QPainter, QPaintEvent, QPen, QPixmap
from PySide6.QtWidgets import (
    QAbstractItemView,
    QListView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QToolTip,
    QWidget,
)

from swatch.desk.colours_on_screen import cannot_show, screen_colours
from swatch.desk.tile_cells import TileCell, cell_of_tile
from swatch.screens.components.caution_line import paint_triangle
from swatch.screens.components.painting import fill, text_width, unknown, write
from swatch.screens.style import UNIT, look
from swatch.wording.answers import short_names
from swatch.wording.text import _, say

SIDE = 88
CELL = QSize(SIDE + 2 * UNIT, 136)
MOST_KEPT_BYTES = 32 * 2**20

CellOf = Callable[[Any], TileCell]
Index = QModelIndex | QPersistentModelIndex


def paint_cell(painter: QPainter, place: QRect, cell: TileCell) -> None:
    """Paint one tile with its name; the bench is there already."""
    swatch = QRect(place.left() + UNIT, place.top() + 7, SIDE, SIDE)
    if not cell.zones:
        unknown(painter, swatch, cell.waiting or "?")
    for (left, top, wide, high), lab in cell.zones:
        x1, x2 = (swatch.left() + round(SIDE * share) for share in (left, left + wide))
        y1, y2 = (swatch.top() + round(SIDE * share) for share in (top, top + high))
        fill(painter, QRect(x1, y1, x2 - x1, y2 - y1), lab)
    line = QRect(swatch.left(), swatch.bottom() + 5, SIDE, 16)
    write(painter, line, cell.name, look.bench_ink, strong=True)
    if cell.mark:
        _paint_mark(painter, line.adjusted(text_width(cell.name, strong=True) + UNIT, 0, 0, 0), cell.mark)
    caption = cell.caption if text_width(cell.caption) <= SIDE else short_names(cell.caption)
    write(painter, line.translated(0, 16), caption, look.bench_ink)


def _paint_mark(painter: QPainter, place: QRect, words: str) -> None:
    """In words where they fit, else as the triangle; the tooltip has the words."""
    if text_width(words) <= place.width():
        write(painter, place, words, look.bench_ink)
    else:
        paint_triangle(painter, place.left(), place.center().y() + 0.5, ink=look.bench_ink)


class TileDelegate(QStyledItemDelegate):
    """Paints cells from a store of painted ones; `cell_of` turns what the model holds into a cell."""

    def __init__(self, cell_of: CellOf, role: int, parent: QWidget) -> None:
        super().__init__(parent)
        self._cell_of, self._role = cell_of, role
        self._kept: OrderedDict[tuple[TileCell, float], QPixmap] = OrderedDict()
        self._bytes = 0

    def cell(self, index: Index) -> TileCell:
        """The cell at one index."""
        return self._cell_of(index.data(self._role))

    def forget(self) -> None:
        """Paint everything anew: the surround or the screen's profile has changed."""
        self._kept.clear()
        self._bytes = 0

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:  # noqa: N802
        """Every cell alike."""
        return CELL

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """One cell, and the frame of a chosen one."""
        place: QRect = option.rect
        state: Any = option.state
        painter.drawPixmap(place.topLeft(), self._painted(self.cell(index), painter.device().devicePixelRatioF()))
        if state & QStyle.StateFlag.State_Selected:
            _frame(painter, QRectF(place).adjusted(1.5, 1.5, -1.5, -1.5), 3)
        if state & QStyle.StateFlag.State_HasFocus:
            _frame(painter, QRectF(place).adjusted(4.5, 4.5, -4.5, -4.5), 1)

    def helpEvent(  # noqa: N802
        self, event: QHelpEvent, view: QAbstractItemView, option: QStyleOptionViewItem, index: Index
    ) -> bool:
        """Say the tile in full, and what this screen cannot show of it."""
        if event.type() != QEvent.Type.ToolTip or not index.isValid():
            return super().helpEvent(event, view, option, index)
        QToolTip.showText(event.globalPos(), self.spoken(index), view)
        return True

    def spoken(self, index: Index) -> str:
        """The tile in full."""
        said = index.data(Qt.ItemDataRole.AccessibleTextRole) or index.data(Qt.ItemDataRole.DisplayRole) or ""
        cell = self.cell(index)
        shown = all(screen_colours().shown(lab).in_gamut for lab in cell.labs)
        return "\n".join(filter(None, (str(said), cell.mark, "" if shown else cannot_show())))

    def _painted(self, cell: TileCell, ratio: float) -> QPixmap:
        key = cell, ratio
        found = self._kept.get(key)
        if found is not None:
            self._kept.move_to_end(key)
            return found
        made = QPixmap(CELL * ratio)
        made.setDevicePixelRatio(ratio)
        made.fill(look.bench)
        painter = QPainter(made)
        paint_cell(painter, QRect(0, 0, CELL.width(), CELL.height()), cell)
        painter.end()
        self._kept[key] = made
        self._bytes += 4 * made.width() * made.height()
        while self._bytes > MOST_KEPT_BYTES and len(self._kept) > 1:
            _oldest, dropped = self._kept.popitem(last=False)
            self._bytes -= 4 * dropped.width() * dropped.height()
        return made


def _handle() -> QColor:
    """Halfway between bench and ink: to be found, without weighing on the swatches."""
    bench, ink = look.bench, look.bench_ink
    grey = (bench.red() + ink.red()) // 2
    return QColor(grey, grey, grey)


def _frame(painter: QPainter, place: QRectF, width: int) -> None:
    painter.setPen(QPen(look.bench_ink, width))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(place)


class SwatchGrid(QListView):
    """The bench of tiles. The model gives what `cell_of` understands under `role`."""

    chosen = Signal(int)

    def __init__(
        self,
        model: QAbstractItemModel,
        *,
        cell_of: CellOf = cell_of_tile,
        role: int = Qt.ItemDataRole.UserRole,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.empty_text = ""
        self.delegate = TileDelegate(cell_of, role, self)
        self.setItemDelegate(self.delegate)
        self.setFlow(QListView.Flow.LeftToRight)
        self.setWrapping(True)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setMovement(QListView.Movement.Static)
        self.setUniformItemSizes(True)
        self.setGridSize(CELL)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.verticalScrollBar().setSingleStep(CELL.height() // 2)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setViewportMargins(0, UNIT, 0, 0)
        self.setMinimumWidth(2 * CELL.width() + 3 * UNIT)
        self.setAccessibleName(say(_("Tiles on the bench")))
        look.changed.connect(self._repaint_all)
        screen_colours().changed.connect(self._repaint_all)
        self._repaint_all()
        self.setModel(model)  # last: every setting before would lay all tiles out anew

    def choose(self, row: int) -> None:
        """Choose a tile and bring it into sight."""
        index = self.model().index(row, 0)
        self.selectionModel().setCurrentIndex(index, QItemSelectionModel.SelectionFlag.ClearAndSelect)
        self.scrollTo(index)

    def set_empty_text(self, text: str) -> None:
        """What to do first, said while no tile is there."""
        self.empty_text = text
        self.viewport().update()

    def selectionChanged(self, selected: QItemSelection, deselected: QItemSelection) -> None:  # noqa: N802
        """Tell which tile is chosen now."""
        super().selectionChanged(selected, deselected)
        if selected.indexes():
            self.chosen.emit(selected.indexes()[0].row())

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """One unbroken bench."""
        painter = QPainter(self.viewport())
        painter.fillRect(event.rect(), look.bench)
        if self.model().rowCount() == 0 and self.empty_text:
            painter.setFont(look.font())
            painter.setPen(look.bench_ink)
            place = self.viewport().rect().adjusted(UNIT, UNIT, -2 * UNIT, -UNIT)
            painter.drawText(place, Qt.AlignmentFlag.AlignLeft | Qt.TextFlag.TextWordWrap, self.empty_text)
        painter.end()
        self._prepare(event.rect())
        super().paintEvent(event)

    def _prepare(self, seen: QRect) -> None:
        """Turn all colours that come into sight in one go: one by one they would cost a frame each."""
        across = max(1, self.viewport().width() // CELL.width())
        down = self.verticalOffset()
        first = (seen.top() + down) // CELL.height() * across
        after = ((seen.bottom() + down) // CELL.height() + 1) * across
        model, delegate = self.model(), self.delegate
        rows = range(max(0, first), min(after, model.rowCount()))
        labs = [lab for row in rows for lab in delegate.cell(model.index(row, 0)).labs]
        screen_colours().prepare(labs)

    def _repaint_all(self) -> None:
        self.delegate.forget()
        # The common scroll bar is nearly the bench's own grey.
        self.setStyleSheet(
            f"QListView {{ background: {look.bench.name()}; }}"
            f" QScrollBar::handle {{ background: {_handle().name()}; }}"
        )
        self.viewport().update()
