"""A caution: an outlined triangle and words in ink. No colour says it; empty where there is none."""

from __future__ import annotations

from PySide6.QtCore import QLineF, QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QWidget

from swatch.screens.components.painting import Painted, write
from swatch.screens.style import CAPTION, UNIT, look
from swatch.wording.text import _, say

SIDE = 12


def paint_triangle(
    painter: QPainter, left: float, middle: float, side: float = SIDE, ink: QColor | None = None
) -> None:
    """Draw the triangle with its stroke, standing around the line `middle`."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    pen = QPen(ink or look.colour("ink"), 1.4)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    box = QRectF(left + 0.7, middle - side / 2 + 0.2, side - 0.4, side - 1.6)
    painter.drawPolygon(QPolygonF([QPointF(box.center().x(), box.top()), box.bottomRight(), box.bottomLeft()]))
    x = box.center().x()
    painter.drawLine(QLineF(x, box.top() + side * 0.32, x, box.top() + side * 0.58))
    painter.drawPoint(QPointF(x, box.bottom() - side * 0.13))
    painter.restore()


def paint_caution(painter: QPainter, rect: QRect, text: str) -> bool:
    """Draw triangle and words on one line; says whether they fitted. Nothing is drawn for an empty text."""
    if not text:
        return True
    paint_triangle(painter, rect.left(), rect.center().y() + 0.5)
    return write(painter, rect.adjusted(SIDE + UNIT, 0, 0, 0), text, look.colour("ink"))


class TriangleMark(Painted):
    """The triangle by itself, before words of its own; `side` is 12 in lines, 16 in a callout."""

    on_bench = False

    def __init__(self, side: int = SIDE, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._side = side

    def wanted_size(self) -> QSize:
        """As high as the line it stands in."""
        return QSize(self._side + 2, max(16, self._side + 4))

    def paint(self, painter: QPainter) -> None:
        """The triangle."""
        paint_triangle(painter, 0, self.height() / 2, self._side)


class CautionLine(QWidget):
    """One caution in full, over as many lines as it needs; hidden while there is none."""

    def __init__(self, text: str = "", *, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.words = QLabel()
        self.words.setFont(look.font(CAPTION))
        self.words.setWordWrap(True)
        self.words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(UNIT)
        row.addWidget(TriangleMark(), 0, Qt.AlignmentFlag.AlignTop)
        row.addWidget(self.words, 1)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        self.show_caution(text)

    def show_caution(self, text: str) -> None:
        """Say another caution, or none."""
        self.words.setText(text)
        self.setAccessibleName(say(_("Caution")))
        self.setAccessibleDescription(text)
        self.setVisible(bool(text))
