"""Predicted against fired: each pair touches, worst first, beside it the tile, the question and the difference."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractItemView, QListView, QStyle, QStyledItemDelegate, QStyleOptionViewItem

from swatch.desk.answer_rows import ROW_ROLE
from swatch.desk.colours_on_screen import screen_colours
from swatch.desk.trusting import PairRows
from swatch.screens.components.painting import Painted, fill, focus_frame, write
from swatch.screens.style import BODY, look
from swatch.terms.answers import SaidAndFired
from swatch.wording.answers import difference_in_words
from swatch.wording.text import _, say
from swatch.wording.trust import trust_kind_in_words

ROW, HALF, BENCH, HEAD = 56, 64, 160, 40
Index = QModelIndex | QPersistentModelIndex


def halves(place: QRect) -> tuple[QRect, QRect]:
    """Where predicted and fired lie in a row: they share an edge; swapped, they change sides."""
    left = QRect(place.left() + 16, place.top() + 4, HALF, ROW - 8)
    right = left.translated(HALF, 0)
    return (right, left) if look.swapped else (left, right)


class PairDelegate(QStyledItemDelegate):
    """Paints one pair; the view under it has painted the bench."""

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:  # noqa: N802
        """Rows of one height."""
        return QSize(400, ROW)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Both colours and their words."""
        pair = index.data(ROW_ROLE)
        if not isinstance(pair, SaidAndFired):
            return
        place: QRect = option.rect
        state: QStyle.StateFlag = option.state
        left = place.left() + BENCH
        beside = QRect(left, place.top(), place.right() + 1 - left, ROW)
        chosen = bool(state & QStyle.StateFlag.State_Selected)
        ink = look.colour("ink")
        painter.save()
        if chosen:
            painter.fillRect(beside, look.colour("raised"))
        for half, lab in zip(halves(place), (pair.said, pair.fired), strict=True):
            fill(painter, half, lab)
        words = beside.adjusted(16, 0, -72, 0)
        name = f"{pair.tile} {pair.zone}".strip()
        write(painter, QRect(words.left(), place.top() + 8, words.width(), 20), name, ink, size=BODY, strong=True)
        said = f"{trust_kind_in_words(pair.question)}: {difference_in_words(pair.fired, pair.said)}"
        write(painter, QRect(words.left(), place.top() + 30, words.width(), 18), said, look.colour("quiet"))
        figure = beside.adjusted(0, 0, -16, 0)
        write(painter, figure, f"{pair.de00:.1f}", ink, size=BODY, strong=True, align=Qt.AlignmentFlag.AlignRight)
        painter.fillRect(QRect(left, place.bottom(), beside.width(), 1), look.colour("line"))
        if state & QStyle.StateFlag.State_HasFocus:
            focus_frame(painter, beside.adjusted(2, 2, -2, -2))
        painter.restore()


class PairHead(Painted):
    """Names over the columns."""

    on_bench = False

    def __init__(self) -> None:
        super().__init__()
        self.setSizePolicy(self.sizePolicy().Policy.Expanding, self.sizePolicy().Policy.Fixed)
        self.say_as(say(_("Columns")), say(_("Predicted beside fired; tile, question and difference; ΔE00")))

    def wanted_size(self) -> QSize:
        """One line."""
        return QSize(400, HEAD)

    def paint(self, painter: QPainter) -> None:
        """All names."""
        painter.fillRect(self.rect(), look.colour("panel"))
        painter.fillRect(QRect(0, 0, BENCH, HEAD), look.bench)
        middle = Qt.AlignmentFlag.AlignHCenter
        for half, name in zip(halves(QRect(0, 0, BENCH, HEAD)), (_("predicted"), _("fired")), strict=True):
            write(painter, QRect(half.left(), 10, HALF, 20), say(name), look.bench_ink, align=middle)
        ink = look.colour("ink")
        words = QRect(BENCH + 16, 10, self.width() - BENCH - 100, 20)
        write(painter, words, say(_("Tile, question, and how the tile came out")), ink, strong=True)
        right = Qt.AlignmentFlag.AlignRight
        write(painter, QRect(self.width() - 80, 10, 64, 20), say(_("ΔE00")), ink, strong=True, align=right)


class PairList(QListView):
    """The pairs on one unbroken bench; Enter or a double click opens the tile."""

    tile_wanted = Signal(str)

    def __init__(self, rows: PairRows) -> None:
        super().__init__()
        self.empty_text = ""
        self.setModel(rows)
        self.setItemDelegate(PairDelegate(self))
        self.setUniformItemSizes(True)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(say(_("Predicted beside fired, worst first")))
        self.activated.connect(lambda index: self.tile_wanted.emit(rows.pair(index.row()).tile))
        look.changed.connect(self.viewport().update)
        screen_colours().changed.connect(self.viewport().update)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """X swaps predicted and fired, S changes the surround; else as any list."""
        if event.key() == Qt.Key.Key_X:
            look.swap()
        elif event.key() == Qt.Key.Key_S:
            look.next_surround()
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """The bench runs down past the last row."""
        painter = QPainter(self.viewport())
        port = self.viewport().rect()
        painter.fillRect(port, look.colour("panel"))
        if self.model().rowCount():
            painter.fillRect(QRect(0, 0, BENCH, port.height()), look.bench)
        elif self.empty_text:
            painter.setFont(look.font(BODY))
            painter.setPen(look.colour("ink"))
            flags = Qt.AlignmentFlag.AlignLeft | Qt.TextFlag.TextWordWrap
            painter.drawText(port.adjusted(24, 24, -24, -24), flags, self.empty_text)
        painter.end()
        super().paintEvent(event)
