"""The zones of a photo as a list: swatch, what is written down, how well the colour is known, what to mind."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import (
    QAbstractListModel,
    QItemSelection,
    QItemSelectionModel,
    QModelIndex,
    QPersistentModelIndex,
    QRect,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractItemView, QListView, QStyle, QStyledItemDelegate, QStyleOptionViewItem

from swatch.desk.colours_on_screen import screen_colours
from swatch.desk.measuring import Measuring
from swatch.desk.photo_work import DOUBTFUL, PhotoWork, ZoneEntry
from swatch.screens.components.caution_line import paint_caution
from swatch.screens.components.painting import fill, focus_frame, text_width, unknown, write
from swatch.screens.style import BODY, look
from swatch.terms.measured import ZoneRead
from swatch.wording.answers import lab_in_words, short_names
from swatch.wording.lacks import lack_in_words
from swatch.wording.layering import layering_in_words
from swatch.wording.problems import notice_in_words
from swatch.wording.text import say

ROW = 44
NAME, BENCH_WIDTH = 72, 72
Index = QModelIndex | QPersistentModelIndex


class ReadingRows(QAbstractListModel):
    """The zones of the photo in view."""

    def __init__(self, measuring: Measuring) -> None:
        super().__init__(measuring)
        self._measuring = measuring
        self._keys: list[str] = []
        measuring.photo_changed.connect(self._changed)

    def _changed(self) -> None:
        work = self._measuring.photo
        keys = [zone.key for zone in work.zones] if work is not None else []
        if keys != self._keys:
            self.beginResetModel()
            self._keys = keys
            self.endResetModel()
        elif keys:
            self.dataChanged.emit(self.index(0), self.index(len(keys) - 1))

    def at(self, row: int) -> tuple[ZoneEntry, ZoneRead | None] | None:
        """The zone in a row with its colour, where it is read."""
        work = self._measuring.photo
        if work is None or not 0 <= row < len(work.zones):
            return None
        entry = work.zones[row]
        return entry, work.reading(entry.key)

    def row_of(self, key: str) -> int:
        """The row of a zone; -1 where there is none."""
        return self._keys.index(key) if key in self._keys else -1

    def rowCount(self, parent: Index | None = None) -> int:  # noqa: N802
        """How many zones there are."""
        return 0 if parent is not None and parent.isValid() else len(self._keys)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Name and everything said of a zone."""
        found = self.at(index.row())
        if found is None:
            return None
        entry, read = found
        if role == Qt.ItemDataRole.DisplayRole:
            return entry.name
        work = self._measuring.photo
        if role in (Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole) and work is not None:
            return spoken(work, entry, read)
        return None

    def warning(self, entry: ZoneEntry) -> str:
        """What there is to mind about a zone."""
        work = self._measuring.photo
        return warning_of(work, entry) if work is not None else ""

    def known(self, entry: ZoneEntry) -> str:
        """How well the colour of a zone is known."""
        known = self._measuring.photo.known_to(entry.key) if self._measuring.photo is not None else None
        return f"{known:.1f}" if known is not None else ""


def spoken(work: PhotoWork, entry: ZoneEntry, read: ZoneRead | None) -> str:
    """Everything that is known of a zone, in words."""
    parts = [entry.name, said_of(entry)]
    if read is not None:
        parts += [lab_in_words(read.lab), say("known to {u:.1f} ΔE00").format(u=work.known_to(entry.key))]
        parts += [" ".join(notice_in_words(warning)) for warning in read.warnings]
        if not read.warnings:
            parts.append(warning_of(work, entry))
    else:
        parts.append(say("not read yet"))
    return ". ".join(part.rstrip(".") for part in parts if part) + "."


def said_of(entry: ZoneEntry) -> str:
    """The layers, or what is still to be entered."""
    if not entry.wanted:
        return say("left out")
    return lack_in_words(entry.lacks) if entry.lacks else layering_in_words(entry.layers or ())


def warning_of(work: PhotoWork, entry: ZoneEntry) -> str:
    """The first warning of a zone, or that its colour is known too poorly to rest on."""
    read = work.reading(entry.key)
    if read is None or not entry.wanted:
        return ""
    if read.warnings:
        return notice_in_words(read.warnings[0])[0]
    return say("doubtful") if (work.known_to(entry.key) or 0.0) >= DOUBTFUL else ""


class ReadingDelegate(QStyledItemDelegate):
    """Paints one zone."""

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:  # noqa: N802
        """Rows of one height."""
        return QSize(200, ROW)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Name, swatch, words, how well known."""
        model = index.model()
        found = model.at(index.row()) if isinstance(model, ReadingRows) else None
        if found is None or not isinstance(model, ReadingRows):
            return
        entry, read = found
        place: QRect = option.rect
        state: QStyle.StateFlag = option.state
        chosen = bool(state & QStyle.StateFlag.State_Selected)
        painter.save()
        if chosen:
            painter.fillRect(place, look.colour("raised"))
            painter.fillRect(QRect(place.left(), place.top(), 4, place.height()), look.colour("ink"))
        ink, faint = look.colour("ink"), look.colour("quiet")
        write(painter, QRect(place.left() + 12, place.top(), NAME - 16, ROW), entry.name, ink, strong=chosen)
        bench = QRect(place.left() + NAME, place.top(), BENCH_WIDTH, ROW)
        painter.fillRect(bench, look.bench)
        swatch = bench.adjusted(6, 5, -6, -5)
        if read is None or not entry.wanted:
            unknown(painter, swatch, "")
        else:
            fill(painter, swatch, read.lab)
        left = bench.right() + 12
        words = QRect(left, place.top(), place.right() - left - 48, ROW)
        warning = model.warning(entry)
        said = said_of(entry)
        if text_width(said, BODY, strong=chosen) > words.width():
            said = short_names(said)
        tone = faint if entry.lacks or not entry.wanted else ink
        if warning:
            write(painter, words.adjusted(0, 4, 0, -ROW // 2), said, tone, size=BODY, strong=chosen)
            paint_caution(painter, words.adjusted(0, ROW // 2, 40, -4), warning)
        else:
            write(painter, words, said, tone, size=BODY, strong=chosen)
        if read is not None and entry.wanted:
            figure = QRect(place.right() - 48, place.top(), 40, ROW if not warning else ROW // 2 + 4)
            right = Qt.AlignmentFlag.AlignRight
            write(painter, figure, model.known(entry), ink, size=BODY, strong=True, align=right)
        painter.fillRect(QRect(place.left(), place.bottom(), NAME, 1), look.colour("line"))
        painter.fillRect(QRect(bench.right() + 1, place.bottom(), place.width(), 1), look.colour("line"))
        if state & QStyle.StateFlag.State_HasFocus:
            focus_frame(painter, place)
        painter.restore()


class ReadingsList(QListView):
    """The list; `chosen` gives the key of a zone."""

    chosen = Signal(str)

    def __init__(self, measuring: Measuring) -> None:
        super().__init__()
        self._measuring = measuring
        self.rows = ReadingRows(measuring)
        self.setModel(self.rows)
        self.setItemDelegate(ReadingDelegate(self))
        self.setUniformItemSizes(True)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setAccessibleName(say("Zones of this photo"))
        self.setMinimumHeight(2 * ROW)
        look.changed.connect(self.viewport().update)
        screen_colours().changed.connect(self.viewport().update)
        measuring.chosen_changed.connect(self._follow)
        self.rows.modelReset.connect(self._follow)

    def _follow(self) -> None:
        row = self.rows.row_of(self._measuring.chosen)
        if row >= 0:
            index = self.rows.index(row)
            self.selectionModel().setCurrentIndex(index, QItemSelectionModel.SelectionFlag.ClearAndSelect)
            self.scrollTo(index)

    def selectionChanged(self, selected: QItemSelection, deselected: QItemSelection) -> None:  # noqa: N802
        """Tell which zone is chosen."""
        super().selectionChanged(selected, deselected)
        if selected.indexes():
            found = self.rows.at(selected.indexes()[0].row())
            if found is not None:
                self._measuring.choose(found[0].key)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """The bench runs down past the last row."""
        painter = QPainter(self.viewport())
        painter.fillRect(QRect(NAME, 0, BENCH_WIDTH, self.viewport().height()), look.bench)
        painter.end()
        super().paintEvent(event)
