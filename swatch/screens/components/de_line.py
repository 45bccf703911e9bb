"""ΔE00 on one scale from 0 to 8, the same on every row: range, expected value, tolerance."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtGui import QPainter, QPen, QPolygon
from PySide6.QtWidgets import QWidget

from swatch.screens.components.painting import Painted, write
from swatch.screens.style import look
from swatch.wording.answers import range_in_words, seen_in_words
from swatch.wording.text import _, say

WIDTH, SCALE_END = 96, 8.0
LINE_Y = 46
"""Where the line runs in a row of 64, pixels from its top."""


def x_of(de00: float, left: int, width: int = WIDTH) -> int:
    """Where a value stands on the scale, pixels; held at its end."""
    return left + round(width * min(max(de00, 0.0), SCALE_END) / SCALE_END)


def paint_de_line(
    painter: QPainter, rect: QRect, expected: float, low: float, high: float, tolerance: float
) -> None:
    """Draw numbers above and the line below into `rect`, whose width is the scale."""
    ink, quiet = look.colour("ink"), look.colour("quiet")
    above = QRect(rect.left(), rect.top() + 6, rect.width(), 20)
    write(painter, above, f"{expected:.1f}", ink, size=15, strong=True)
    write(painter, above, range_in_words(low, high), quiet, align=Qt.AlignmentFlag.AlignRight)
    y = rect.top() + LINE_Y
    painter.fillRect(QRect(rect.left(), y, rect.width(), 1), look.colour("line"))
    paint_tolerance(painter, x_of(tolerance, rect.left(), rect.width()), rect.top(), rect.height())
    start, end = (x_of(value, rect.left(), rect.width()) for value in (low, high))
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(quiet)
    painter.drawRoundedRect(QRect(start, y - 3, max(6, end - start), 6), 3, 3)
    if high > SCALE_END:
        painter.drawPolygon(QPolygon([QPoint(end - 2, y - 5), QPoint(end + 4, y), QPoint(end - 2, y + 5)]))
    painter.restore()
    if expected <= SCALE_END:
        painter.fillRect(QRect(x_of(expected, rect.left(), rect.width()) - 2, y - 8, 4, 16), ink)


def paint_tolerance(painter: QPainter, x: int, top: int, height: int) -> None:
    """Draw the dotted tolerance, on the same dots in every row so that it runs through."""
    painter.save()
    pen = QPen(look.colour("ink"), 1, Qt.PenStyle.CustomDashLine)
    pen.setDashPattern([2, 2])
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    painter.setPen(pen)
    painter.drawLine(x, top + 28, x, top + height)
    painter.restore()


class DeLine(Painted):
    """One colour difference with its likely range, on the scale."""

    on_bench = False

    def __init__(
        self,
        expected: float = 0.0,
        low: float = 0.0,
        high: float = 0.0,
        tolerance: float = 2.0,
        *,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.show_range(expected, low, high, tolerance)

    def show_range(self, expected: float, low: float, high: float, tolerance: float) -> None:
        """Show another value."""
        self.expected, self.low, self.high, self.tolerance = expected, low, high, tolerance
        text = _("{seen}: {de:.1f}, likely {range}; wanted within {tolerance:.1f}.")
        said = say(text).format(
            seen=seen_in_words(expected), de=expected, range=range_in_words(low, high), tolerance=tolerance
        )
        self.say_as(say(_("Colour difference ΔE00")), said[:1].upper() + said[1:])
        self.update()

    def wanted_size(self) -> QSize:
        """The scale, with room for the arrow."""
        return QSize(WIDTH + 16, 64)

    def paint(self, painter: QPainter) -> None:
        """Numbers and line."""
        area = self.rect().adjusted(4, 0, -12, 0)
        paint_de_line(painter, area, self.expected, self.low, self.high, self.tolerance)
