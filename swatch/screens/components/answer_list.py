"""The list of answers: the target is one strip down the whole list, and every answer touches it."""

from __future__ import annotations

from PySide6.QtCore import QItemSelection, QItemSelectionModel, QRect, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QListView, QSizePolicy, QVBoxLayout, QWidget

from swatch.desk.answer_rows import AnswerRow, AnswerRows
from swatch.desk.colours_on_screen import screen_colours
from swatch.screens.components.answer_row import (
    BENCH_WIDTH,
    NUMBER_WIDTH,
    ROW_HEIGHT,
    SMALLEST_WIDTH,
    AnswerDelegate,
    across,
    columns,
)
from swatch.screens.components.de_line import SCALE_END, x_of
from swatch.screens.components.painting import Painted, text_width, write
from swatch.screens.style import look
from swatch.wording.text import _, say

HEADER_HEIGHT = 56


class AnswerHeader(Painted):
    """Names over the columns; the tolerance stands on the scale where its dots run down."""

    on_bench = False

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.title, self.tolerance, self.rows_width = "", 2.0, SMALLEST_WIDTH

    def show_title(self, title: str, tolerance: float) -> None:
        """Say what the list holds, and the tolerance."""
        self.title, self.tolerance = title, tolerance
        self.update()

    def show_width(self, width: int) -> None:
        """Stand over rows as wide as this; a scroll bar may have taken some of it."""
        self.rows_width = width
        self.update()

    def wanted_size(self) -> QSize:
        """Two lines."""
        return QSize(SMALLEST_WIDTH, HEADER_HEIGHT)

    def paint(self, painter: QPainter) -> None:
        """All names."""
        painter.fillRect(self.rect(), look.colour("panel"))
        at = columns(self.rows_width)
        ink, quiet = look.colour("ink"), look.colour("quiet")
        middle, right = Qt.AlignmentFlag.AlignHCenter, Qt.AlignmentFlag.AlignRight
        painter.fillRect(across(at.bench, 0, HEADER_HEIGHT), look.bench)
        names = ((at.strip, _("target")), (at.mean, _("mean")), (at.draws, _("12 from the kiln")))
        for span, name in (*names, (at.section, _("section"))):
            write(painter, across(span, 33, 20), say(name), look.bench_ink, align=middle)
        write(painter, across(at.words, 8, 20), self.title, ink, strong=True)
        write(painter, across(at.words, 33, 20), say(_("Layers from the body outward")), quiet)
        wide = (at.de[0] - 2, at.de[1] + 20)
        write(painter, across(wide, 8, 20), say(_("ΔE00, likely range")), ink, strong=True)
        self._paint_scale(painter, at.de)
        within = say(_("within {tolerance:.1f}")).format(tolerance=self.tolerance)
        wider = (at.chance[0] - 10, at.chance[1] + 10)
        write(painter, across(wider, 8, 20), within, ink, strong=True, align=right)
        write(painter, across(wider, 33, 20), say(_("and pieces")), quiet, align=right)

    def _paint_scale(self, painter: QPainter, span: tuple[int, int]) -> None:
        left, width = span
        middle = Qt.AlignmentFlag.AlignHCenter
        wanted = f"{self.tolerance:.1f}"
        spot = x_of(self.tolerance, left, width)
        write(painter, QRect(spot - 20, 33, 40, 20), wanted, look.colour("ink"), strong=True, align=middle)
        for value in (0.0, 4.0, SCALE_END):
            x = x_of(value, left, width)
            if abs(x - spot) > text_width(wanted, strong=True) / 2 + 8:
                write(painter, QRect(x - 20, 33, 40, 20), f"{value:.0f}", look.colour("quiet"), align=middle)


class AnswerListView(QListView):
    """The rows themselves, on one unbroken bench."""

    chosen = Signal(int)
    rows_widened = Signal(int)

    def __init__(self, rows: AnswerRows, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.empty_text = ""
        self.setModel(rows)
        self.setItemDelegate(AnswerDelegate(self))
        self.setUniformItemSizes(True)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.verticalScrollBar().setSingleStep(ROW_HEIGHT // 2)
        self.setAccessibleName(say(_("Answers, nearest first")))
        self.setMinimumWidth(SMALLEST_WIDTH)
        look.changed.connect(self.viewport().update)
        screen_colours().changed.connect(self.viewport().update)

    def selectionChanged(self, selected: QItemSelection, deselected: QItemSelection) -> None:  # noqa: N802
        """Tell which row is chosen now."""
        super().selectionChanged(selected, deselected)
        if selected.indexes():
            self.chosen.emit(selected.indexes()[0].row())

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Tell how wide the rows are now."""
        super().resizeEvent(event)
        self.rows_widened.emit(self.viewport().width())

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
        height = self.viewport().height()
        painter.fillRect(self.viewport().rect(), look.colour("panel"))
        painter.fillRect(QRect(NUMBER_WIDTH, 0, BENCH_WIDTH, height), look.bench)
        if self.model().rowCount() == 0 and self.empty_text:
            at = columns(self.viewport().width())
            place = QRect(at.words[0], 8, self.viewport().width() - at.words[0] - 12, height - 16)
            painter.setFont(look.font())
            painter.setPen(look.colour("quiet"))
            painter.drawText(place, Qt.AlignmentFlag.AlignLeft | Qt.TextFlag.TextWordWrap, self.empty_text)
        painter.end()
        super().paintEvent(event)


class AnswerList(QWidget):
    """Header and rows; `chosen` tells the row number."""

    chosen = Signal(int)

    def __init__(self, rows: AnswerRows | None = None, *, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rows = rows or AnswerRows(self)
        self.header = AnswerHeader()
        self.view = AnswerListView(self.rows)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.header)
        column.addWidget(self.view, 1)
        self.setFocusProxy(self.view)
        self.view.chosen.connect(self.chosen)
        self.view.rows_widened.connect(self.header.show_width)
        self.rows.modelReset.connect(self._new_rows)

    def set_title(self, title: str) -> None:
        """Say above the words what the list holds: ``Ten nearest, different from each other``."""
        self.header.show_title(title, self.header.tolerance)

    def set_empty_text(self, text: str) -> None:
        """What to do first, said while there is no answer."""
        self.view.empty_text = text
        self.view.viewport().update()

    def choose(self, row: int) -> None:
        """Choose a row, as a click would."""
        index = self.rows.index(row)
        self.view.selectionModel().setCurrentIndex(index, QItemSelectionModel.SelectionFlag.ClearAndSelect)

    def chosen_row(self) -> AnswerRow | None:
        """The chosen answer."""
        indexes = self.view.selectedIndexes()
        return self.rows.row(indexes[0].row()) if indexes else None

    def _new_rows(self) -> None:
        if self.rows.rowCount():
            self.header.show_title(self.header.title, self.rows.row(0).tolerance)
            self.choose(0)
