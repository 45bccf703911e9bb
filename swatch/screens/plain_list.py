"""A list of two lines a row beside a detail: name and what is to be said of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QListWidget, QListWidgetItem, QStyle, QStyledItemDelegate, QStyleOptionViewItem

from swatch.screens.components.painting import focus_frame, write
from swatch.screens.glyphs import paint_glyph
from swatch.screens.style import BODY, look

ROW = 56
Index = QModelIndex | QPersistentModelIndex


@dataclass(frozen=True, slots=True)
class PlainRow:
    """One row; `sign` is a glyph before the second line: ring, diamond, warning, dot."""

    name: str
    under: str
    sign: str = ""


class PlainDelegate(QStyledItemDelegate):
    """Paints a row."""

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:  # noqa: N802
        """Rows of one height."""
        return QSize(200, ROW)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Name, sign, second line."""
        row = index.data(Qt.ItemDataRole.UserRole)
        if not isinstance(row, PlainRow):
            return
        place: QRect = option.rect
        state: QStyle.StateFlag = option.state
        chosen = bool(state & QStyle.StateFlag.State_Selected)
        painter.save()
        if chosen:
            painter.fillRect(place, look.colour("raised"))
            painter.fillRect(QRect(place.left(), place.top(), 4, ROW), look.colour("ink"))
        name = QRect(place.left() + 16, place.top() + 8, place.width() - 24, 20)
        write(painter, name, row.name, look.colour("ink"), size=BODY, strong=chosen)
        left = place.left() + 16
        if row.sign:
            paint_glyph(painter, row.sign, QRectF(left, place.top() + 32, 14, 14), look.colour("ink"))
            left += 20
        under = QRect(left, place.top() + 30, place.right() - left - 8, 18)
        write(painter, under, row.under, look.colour("quiet"))
        painter.fillRect(QRect(place.left(), place.bottom(), place.width(), 1), look.colour("line"))
        if state & QStyle.StateFlag.State_HasFocus:
            focus_frame(painter, place)
        painter.restore()


class PlainList(QListWidget):
    """The list; `chosen` names the row."""

    chosen = Signal(str)

    def __init__(self, spoken: str) -> None:
        super().__init__()
        self.setItemDelegate(PlainDelegate(self))
        self.setAccessibleName(spoken)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.currentItemChanged.connect(self._chosen)
        look.changed.connect(self.viewport().update)

    def show_rows(self, rows: Sequence[PlainRow], chosen: str) -> None:
        """Show these rows, silently, with the chosen one chosen."""
        self.blockSignals(True)
        while self.count() > len(rows):
            self.takeItem(self.count() - 1)
        while self.count() < len(rows):
            self.addItem(QListWidgetItem())
        for n, row in enumerate(rows):
            item = self.item(n)
            if item.data(Qt.ItemDataRole.UserRole) != row:
                item.setData(Qt.ItemDataRole.UserRole, row)
                item.setData(Qt.ItemDataRole.AccessibleTextRole, f"{row.name}, {row.under}")
                item.setToolTip(f"{row.name}\n{row.under}")
            if row.name == chosen and self.currentRow() != n:
                self.setCurrentRow(n)
        self.blockSignals(False)
        self.viewport().update()

    def _chosen(self, item: QListWidgetItem | None, _before: QListWidgetItem | None) -> None:
        row = item.data(Qt.ItemDataRole.UserRole) if item is not None else None
        if isinstance(row, PlainRow):
            self.chosen.emit(row.name)
