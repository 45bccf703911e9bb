"""The shelf as a list: name, colours on one bench, what is left, status, label, uses."""

from __future__ import annotations

from PySide6.QtCore import (
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
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QListView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from swatch.desk.colours_on_screen import screen_colours
from swatch.desk.material_rows import MaterialRow
from swatch.desk.materials import Materials
from swatch.screens.components.known_bench import paint_cell
from swatch.screens.components.painting import Painted, fill, focus_frame, write
from swatch.screens.glyphs import paint_glyph
from swatch.screens.style import BODY, look
from swatch.terms.materials import Material, Status
from swatch.wording.layering import cone_figure
from swatch.wording.surface import kind_in_words, status_in_words
from swatch.wording.text import say
from swatch.wording.units import grams_in_words

ROW, HEAD = 56, 56
NAME, CELL, RAW = 184, 48, 64
Index = QModelIndex | QPersistentModelIndex


def bench_width(n_cones: int) -> int:
    """Width of the bench in the list."""
    return 8 + RAW + CELL * max(n_cones, 1) + 8


def label_in_words(material: Material) -> str:
    """What the maker's label states about food, in few words."""
    if material.food_label is None:
        return say("silent")
    if not material.food_label:
        return say("not for food")
    if material.food_label_cone is None:
        return say("claimed")
    return say("claimed, cone {cone}").format(cone=cone_figure(material.food_label_cone))


def kind_and_cones(material: Material) -> str:
    """``glaze, cone 5–6``."""
    text = kind_in_words(material.kind)
    if material.cone_from is not None and material.cone_to is not None:
        low, high = cone_figure(material.cone_from), cone_figure(material.cone_to)
        text += ", " + say("cone {low}–{high}").format(low=low, high=high)
    return text


class MaterialDelegate(QStyledItemDelegate):
    """Paints one material."""

    def __init__(self, materials: Materials, parent: QWidget) -> None:
        super().__init__(parent)
        self._materials = materials

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:  # noqa: N802
        """Rows of one height."""
        return QSize(640, ROW)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Name, bench, figures."""
        row = index.data(Qt.ItemDataRole.UserRole)
        if not isinstance(row, MaterialRow):
            return
        place: QRect = option.rect
        state: QStyle.StateFlag = option.state
        chosen = bool(state & QStyle.StateFlag.State_Selected)
        painter.save()
        if chosen:
            painter.fillRect(place, look.colour("raised"))
            painter.fillRect(QRect(place.left(), place.top(), 4, ROW), look.colour("ink"))
        ink, quiet = look.colour("ink"), look.colour("quiet")
        left, top = place.left() + 24, place.top()
        write(painter, QRect(left, top + 8, NAME - 28, 20), row.material.name, ink, size=BODY, strong=True)
        write(painter, QRect(left, top + 29, NAME - 28, 18), kind_and_cones(row.material), quiet)
        self._paint_bench(painter, place, row)
        self._paint_figures(painter, place, row)
        right = place.left() + NAME + bench_width(len(row.cells))
        painter.fillRect(QRect(place.left(), place.bottom(), NAME, 1), look.colour("line"))
        painter.fillRect(QRect(right, place.bottom(), place.right() - right + 1, 1), look.colour("line"))
        if state & QStyle.StateFlag.State_HasFocus:
            focus_frame(painter, place)
        painter.restore()

    def _paint_bench(self, painter: QPainter, place: QRect, row: MaterialRow) -> None:
        bench = QRect(place.left() + NAME, place.top(), bench_width(len(row.cells)), ROW)
        painter.fillRect(bench, look.bench)
        if row.raw is not None:
            fill(painter, QRect(bench.left() + 8, bench.top() + 8, 48, 40), row.raw)
        for n, cell in enumerate(row.cells):
            paint_cell(painter, QRect(bench.left() + 8 + RAW + n * CELL, bench.top() + 8, CELL, 40), cell)

    def _paint_figures(self, painter: QPainter, place: QRect, row: MaterialRow) -> None:
        material, top = row.material, place.top()
        x = figures(place, len(row.cells))
        ink = look.colour("ink")
        right = Qt.AlignmentFlag.AlignRight
        left_g = grams_in_words(material.left_g) if material.left_g is not None else "–"
        write(painter, QRect(x[0], top, x[1] - x[0] - 20, ROW), left_g, ink, size=BODY, align=right)
        sign = "ring" if material.status is Status.IN_STOCK else "diamond"
        paint_glyph(painter, sign, QRectF(x[1], top + ROW / 2 - 7, 14, 14), ink)
        status, strong = status_in_words(material.status), material.status is not Status.IN_STOCK
        write(painter, QRect(x[1] + 20, top, x[2] - x[1] - 24, ROW), status, ink, size=BODY, strong=strong)
        write(painter, QRect(x[2], top, x[3] - x[2] - 8, ROW), label_in_words(material), ink, size=BODY)
        write(painter, QRect(x[3], top, x[4] - x[3] - 16, ROW), str(row.uses), ink, size=BODY, align=right)


def figures(place: QRect, n_cones: int) -> list[int]:
    """Left edges of the columns right of the bench, and the right end."""
    start = place.left() + NAME + bench_width(n_cones)
    wide = max(place.right() - start, 380)
    return [start, start + wide * 24 // 100, start + wide * 57 // 100, start + wide * 84 // 100, start + wide]


class MaterialHead(Painted):
    """Names over the columns."""

    on_bench = False

    def __init__(self, materials: Materials) -> None:
        super().__init__()
        self._materials = materials
        self._wide = 640
        self.setSizePolicy(self.sizePolicy().Policy.Expanding, self.sizePolicy().Policy.Fixed)
        materials.shown.connect(self.update)
        self.say_as(say("Columns"), say("Raw colour of underglazes, then fired colour by cone"))

    def wanted_size(self) -> QSize:
        """Two lines."""
        return QSize(640, HEAD)

    def show_width(self, width: int) -> None:
        """Stand over rows as wide as this."""
        self._wide = width
        self.update()

    def paint(self, painter: QPainter) -> None:
        """All names."""
        painter.fillRect(self.rect(), look.colour("panel"))
        cones = self._materials.cones
        place = QRect(0, 0, self._wide, HEAD)
        bench = QRect(NAME, 0, bench_width(len(cones)), HEAD)
        painter.fillRect(bench, look.bench)
        middle, right = Qt.AlignmentFlag.AlignHCenter, Qt.AlignmentFlag.AlignRight
        ink, on_bench = look.colour("ink"), look.bench_ink
        write(painter, QRect(24, 30, NAME - 28, 20), say("Material"), ink, strong=True)
        over = QRect(bench.left() + 8 + RAW - 8, 8, CELL * max(1, len(cones)) + 16, 20)
        write(painter, over, say("fired to cone"), on_bench, align=middle)
        write(painter, QRect(bench.left() + 8, 30, 48, 20), say("raw"), on_bench, align=middle)
        for n, cone in enumerate(cones):
            at = QRect(bench.left() + 8 + RAW + n * CELL, 30, CELL, 20)
            write(painter, at, cone_figure(cone), on_bench, align=middle)
        x = figures(place, len(cones))
        write(painter, QRect(x[0], 30, x[1] - x[0] - 20, 20), say("Left"), ink, strong=True, align=right)
        write(painter, QRect(x[1], 30, x[2] - x[1], 20), say("Status"), ink, strong=True)
        write(painter, QRect(x[2], 30, x[3] - x[2], 20), say("Maker's claim, food"), ink, strong=True)
        write(painter, QRect(x[3], 30, x[4] - x[3] - 16, 20), say("Tiles"), ink, strong=True, align=right)


class MaterialList(QListView):
    """The rows; `chosen` names the material."""

    chosen = Signal(str)
    rows_widened = Signal(int)

    def __init__(self, materials: Materials) -> None:
        super().__init__()
        self._materials = materials
        self.empty_text = ""
        self.setModel(materials.rows)
        self.setItemDelegate(MaterialDelegate(materials, self))
        self.setUniformItemSizes(True)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(say("Materials"))
        look.changed.connect(self.viewport().update)
        screen_colours().changed.connect(self.viewport().update)
        materials.chosen_changed.connect(self._follow)
        materials.rows.modelReset.connect(self._follow)
        self._follow()

    def _follow(self) -> None:
        row = self._materials.rows.row_of(self._materials.chosen_name)
        if row >= 0 and self.currentIndex().row() != row:
            index = self._materials.rows.index(row)
            self.selectionModel().setCurrentIndex(index, QItemSelectionModel.SelectionFlag.ClearAndSelect)
            self.scrollTo(index)

    def selectionChanged(self, selected: QItemSelection, deselected: QItemSelection) -> None:  # noqa: N802
        """Tell which material is chosen."""
        super().selectionChanged(selected, deselected)
        if selected.indexes():
            self.chosen.emit(str(selected.indexes()[0].data()))

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Tell how wide the rows are now."""
        super().resizeEvent(event)
        self.rows_widened.emit(self.viewport().width())

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """The bench runs down past the last row."""
        painter = QPainter(self.viewport())
        wide = bench_width(len(self._materials.cones))
        painter.fillRect(QRect(NAME, 0, wide, self.viewport().height()), look.bench)
        if self.model().rowCount() == 0 and self.empty_text:
            painter.setFont(look.font(BODY))
            painter.setPen(look.colour("ink"))
            left = NAME + wide + 16
            place = QRect(left, 16, self.viewport().width() - left - 16, 200)
            painter.drawText(place, Qt.AlignmentFlag.AlignLeft | Qt.TextFlag.TextWordWrap, self.empty_text)
        painter.end()
        super().paintEvent(event)
