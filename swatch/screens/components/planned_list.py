"""The list of tiles to fire: pencilled number, touching swatches, section, why, and what each may bring."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractItemView, QListView, QStyle, QStyledItemDelegate, QStyleOptionViewItem

from swatch.desk.answer_rows import ROW_ROLE
from swatch.desk.colours_on_screen import screen_colours
from swatch.desk.planning import PlannedRow, PlannedRows
from swatch.screens.components.answer_row import (
    BENCH_WIDTH,
    NUMBER_WIDTH,
    ROW_HEIGHT,
    across,
    columns,
    paint_bench,
    paint_words,
)
from swatch.screens.components.chance_bar import paint_chance
from swatch.screens.components.painting import Painted, focus_frame, write
from swatch.screens.style import BODY, look
from swatch.wording.text import _, say

PENCIL, BRINGS = 72, 124
SMALLEST_WIDTH = PENCIL + BENCH_WIDTH + 12 + 180 + BRINGS
HEADER_HEIGHT = 56
Index = QModelIndex | QPersistentModelIndex
_SHIFT = PENCIL - NUMBER_WIDTH


class PlannedDelegate(QStyledItemDelegate):
    """Paints one tile; the view under it has painted the bench."""

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:  # noqa: N802
        """As high as an answer."""
        return QSize(SMALLEST_WIDTH, ROW_HEIGHT)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """One row."""
        row: Any = index.data(ROW_ROLE)
        if not isinstance(row, PlannedRow):
            return
        place: QRect = option.rect
        state: Any = option.state
        ink = look.colour("ink")
        left = place.left() + PENCIL + BENCH_WIDTH
        painter.save()
        painter.setClipRect(place)
        if state & QStyle.StateFlag.State_Selected:
            raised = look.colour("raised")
            painter.fillRect(QRect(place.left(), place.top(), PENCIL, ROW_HEIGHT), raised)
            painter.fillRect(QRect(left, place.top(), place.right() + 1 - left, ROW_HEIGHT), raised)
            painter.fillRect(QRect(place.left(), place.top(), 4, ROW_HEIGHT), ink)
        write(painter, QRect(place.left() + 12, place.top() + 12, PENCIL - 16, 20), row.pencil, ink, size=BODY,
              strong=True)  # fmt: skip
        slot = say(_("slot {n}")).format(n=row.rank)
        write(painter, QRect(place.left() + 12, place.top() + 32, PENCIL - 16, 18), slot, look.colour("quiet"))
        painter.translate(_SHIFT, 0)
        paint_bench(painter, place, columns(place.width()), row, row.target)
        painter.translate(-_SHIFT, 0)
        right = place.right() + 1 - BRINGS
        paint_words(painter, QRect(left + 12, place.top(), right - left - 24, ROW_HEIGHT), row)
        brings = QRect(right, place.top(), BRINGS - 12, ROW_HEIGHT)
        share = row.chance if row.chance is not None else row.teaches
        if share is not None:
            paint_chance(painter, brings, share, row.adds)
        if not state & QStyle.StateFlag.State_Selected:
            painter.fillRect(QRect(left, place.bottom(), place.right() + 1 - left, 1), look.colour("line"))
        if state & QStyle.StateFlag.State_HasFocus:
            focus_frame(painter, QRect(left + 2, place.top() + 2, place.right() - left - 3, ROW_HEIGHT - 4))
        painter.restore()


class PlannedHeader(Painted):
    """Names over the columns."""

    on_bench = False

    def __init__(self) -> None:
        super().__init__()
        self.setSizePolicy(self.sizePolicy().Policy.Expanding, self.sizePolicy().Policy.Fixed)
        self.title, self.with_target = "", True

    def show_title(self, title: str, *, with_target: bool) -> None:
        """Say what the list holds."""
        self.title, self.with_target = title, with_target
        self.say_as(say(_("Columns")), title)
        self.update()

    def wanted_size(self) -> QSize:
        """Two lines."""
        return QSize(SMALLEST_WIDTH, HEADER_HEIGHT)

    def paint(self, painter: QPainter) -> None:
        """All names."""
        painter.fillRect(self.rect(), look.colour("panel"))
        ink, quiet, middle = look.colour("ink"), look.colour("quiet"), Qt.AlignmentFlag.AlignHCenter
        painter.fillRect(QRect(PENCIL, 0, BENCH_WIDTH, HEADER_HEIGHT), look.bench)
        write(painter, QRect(12, 33, PENCIL - 16, 20), say(_("pencil")), quiet)
        at = columns(self.width())
        names = [(at.mean, _("mean")), (at.draws, _("12 from the kiln")), (at.section, _("section"))]
        for span, name in ([(at.strip, _("target"))] if self.with_target else []) + names:
            write(painter, across(span, 33, 20).translated(_SHIFT, 0), say(name), look.bench_ink, align=middle)
        left, right = PENCIL + BENCH_WIDTH + 12, self.width() - BRINGS
        write(painter, QRect(left, 8, right - left, 20), self.title, ink, strong=True)
        write(painter, QRect(left, 33, right - left, 20), say(_("Layers from the body outward, and why")), quiet)
        ends = Qt.AlignmentFlag.AlignRight
        over = say(_("chance to hit")) if self.with_target else say(_("what it teaches"))
        write(painter, QRect(right - 20, 8, BRINGS + 8, 20), over, ink, strong=True, align=ends)
        if self.with_target:
            write(painter, QRect(right - 20, 33, BRINGS + 8, 20), say(_("and what it adds")), quiet, align=ends)


class PlannedList(QListView):
    """The tiles themselves, on one unbroken bench."""

    chosen = Signal(int)

    def __init__(self, rows: PlannedRows) -> None:
        super().__init__()
        self.empty_text = ""
        self.setModel(rows)
        self.setItemDelegate(PlannedDelegate(self))
        self.setUniformItemSizes(True)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(say(_("Tiles to fire, in the order of their slots")))
        self.setMinimumWidth(SMALLEST_WIDTH)
        look.changed.connect(self.viewport().update)
        screen_colours().changed.connect(self.viewport().update)

    def currentChanged(self, now: Index, before: Index) -> None:  # noqa: N802
        """Tell which tile is chosen."""
        super().currentChanged(now, before)
        self.chosen.emit(now.row())

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """X swaps target and prediction, S changes the surround; else as any list."""
        if event.key() == Qt.Key.Key_X:
            look.swap()
        elif event.key() == Qt.Key.Key_S:
            look.next_surround()
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """The bench runs down to the foot, past the last row."""
        painter = QPainter(self.viewport())
        height, width = self.viewport().height(), self.viewport().width()
        painter.fillRect(self.viewport().rect(), look.colour("panel"))
        painter.fillRect(QRect(PENCIL, 0, BENCH_WIDTH, height), look.bench)
        if self.model().rowCount() == 0 and self.empty_text:
            left = PENCIL + BENCH_WIDTH + 12
            painter.setFont(look.font())
            painter.setPen(look.colour("quiet"))
            flags = Qt.AlignmentFlag.AlignLeft | Qt.TextFlag.TextWordWrap
            painter.drawText(QRect(left, 8, width - left - 12, height - 16), flags, self.empty_text)
        painter.end()
        super().paintEvent(event)
