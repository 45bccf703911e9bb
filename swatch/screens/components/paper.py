"""A printed page on screen or on the printer, true to scale: the same drawing as in the PDF, with Qt's pen."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPainterPath, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from swatch.formats.drawing import GREY, INK, PALE, PrintPage, Rgb
from swatch.screens.style import BODY, look
from swatch.terms.sheet import Box, Cells

_DRAWN = 100.0
"""Letters are drawn at this size and scaled, so that no hinting changes their width."""
MM_PER_INCH = 25.4


class PaperPen:
    """Draws in mm on a painter whose unit is the mm."""

    def __init__(self, painter: QPainter) -> None:
        self._painter = painter
        self._font = QFont(look.font(BODY))
        self._font.setPixelSize(round(_DRAWN))
        self._font.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
        self._metrics = QFontMetricsF(self._font)

    def cells(self, box: Box, cells: Cells, grey: float = INK) -> None:
        """Fill the dark cells of a grid as one path."""
        wide, high = box.wide / len(cells[0]), box.high / len(cells)
        path = QPainterPath()
        for row, line in enumerate(cells):
            for k, dark in enumerate(line):
                if dark:
                    path.addRect(QRectF(box.left + k * wide, box.top + row * high, wide, high))
        self._painter.fillPath(path.simplified(), _grey(grey))

    def line(self, x1: float, y1: float, x2: float, y2: float, width: float = 0.2, grey: float = GREY) -> None:
        """Draw a line."""
        path = QPainterPath()
        path.moveTo(x1, y1)
        path.lineTo(x2, y2)
        self._painter.strokePath(path, QPen(_grey(grey), width))

    def frame(self, box: Box, grey: float = PALE) -> None:
        """Draw a rectangle's outline."""
        path = QPainterPath()
        path.addRect(QRectF(box.left, box.top, box.wide, box.high))
        self._painter.strokePath(path, QPen(_grey(grey), 0.2))

    def fill(self, box: Box, grey: float = INK) -> None:
        """Fill a rectangle."""
        self._painter.fillRect(QRectF(box.left, box.top, box.wide, box.high), _grey(grey))

    def patch(self, box: Box, rgb: Rgb) -> None:
        """Fill a rectangle with a colour, without an edge of its own."""
        self._painter.fillRect(QRectF(box.left, box.top, box.wide, box.high), QColor.fromRgbF(*rgb))

    def curve(self, points: Sequence[tuple[float, float]], width: float = 0.4, grey: float = INK) -> None:
        """Draw a line through points."""
        path = QPainterPath(QPointF(*points[0]))
        for point in points[1:]:
            path.lineTo(*point)
        pen = QPen(_grey(grey), width)
        pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        self._painter.strokePath(path, pen)

    def dot(self, x: float, y: float, radius: float, grey: float = INK) -> None:
        """Draw a filled dot."""
        path = QPainterPath()
        path.addEllipse(QPointF(x, y), radius, radius)
        self._painter.fillPath(path, _grey(grey))

    def width(self, text: str, size: float) -> float:
        """Width of a text, mm."""
        return self._metrics.horizontalAdvance(text) * size / _DRAWN

    def text(
        self,
        x: float,
        baseline: float,
        text: str,
        size: float,
        most: float = 1e9,
        centred: bool = False,
        grey: float = INK,
    ) -> float:
        """Write a text, smaller where it would be wider than `most`; gives its width."""
        width = self.width(text, size)
        if width > most:
            size, width = size * most / width, most
        path = QPainterPath()
        path.addText(0.0, 0.0, self._font, text)
        painter = self._painter
        painter.save()
        painter.translate(x - width / 2 if centred else x, baseline)
        painter.scale(size / _DRAWN, size / _DRAWN)
        painter.fillPath(path, _grey(grey))
        painter.restore()
        return width


def paint_page(painter: QPainter, page: PrintPage, dots_per_mm: float) -> None:
    """Draw a page from the painter's origin at a scale."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.scale(dots_per_mm, dots_per_mm)
    page.draw(PaperPen(painter))
    painter.restore()


class PageView(QWidget):
    """One page as it comes out of the printer, at actual size or made to fit."""

    def __init__(self, spoken: str) -> None:
        super().__init__()
        self._page: PrintPage | None = None
        self.dots_per_mm = 1.0
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(spoken)

    def show_page(self, page: PrintPage, dots_per_mm: float) -> None:
        """Show a page at a scale."""
        self._page, self.dots_per_mm = page, dots_per_mm
        self.setFixedSize(self.sizeHint())
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802
        """The paper's size at the scale."""
        if self._page is None:
            return QSize(10, 10)
        size = self._page.size
        return QSize(round(size.wide * self.dots_per_mm), round(size.high * self.dots_per_mm))

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802
        """Paper is white whatever the theme."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), Qt.GlobalColor.white)
        if self._page is not None:
            paint_page(painter, self._page, self.dots_per_mm)
        painter.setPen(QPen(look.colour("edge"), 1))
        painter.drawRect(self.rect().adjusted(0, 0, -1, -1))
        painter.end()


def screen_dots_per_mm(widget: QWidget) -> float:
    """How many of a widget's pixels make a millimetre on its screen, as the screen says of itself."""
    return widget.screen().physicalDotsPerInchX() / MM_PER_INCH


def _grey(grey: float) -> QColor:
    return QColor.fromRgbF(grey, grey, grey)
