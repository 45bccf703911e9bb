"""What every drawing of our own shares: colour laid edge to edge, the notch, dashes for what is not known."""

from __future__ import annotations

from functools import lru_cache

from PySide6.QtCore import QPoint, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetrics, QPainter, QPaintEvent, QPen, QPolygon
from PySide6.QtWidgets import QSizePolicy, QWidget

from swatch.desk.colours_on_screen import screen_colours
from swatch.screens.style import CAPTION, look
from swatch.terms.colour import Lab

NOTCH = 12
"""Side of the corner that is cut where the screen cannot show a colour, pixels."""


def fill(painter: QPainter, rect: QRect, lab: Lab | None, notch: int = NOTCH) -> None:
    """Lay one colour, without outline; cut its top right corner where the screen cannot show it.

    Neighbours that share an edge touch at every scale, since nothing is smoothed at that edge.
    """
    if lab is None:
        unknown(painter, rect)
        return
    shown = screen_colours().shown(lab)
    painter.fillRect(rect, shown.colour)
    if not shown.in_gamut:
        side = min(notch, rect.width() // 2, rect.height() // 2)
        corner = rect.topLeft() + QPoint(rect.width(), 0)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(look.bench)
        painter.drawPolygon(QPolygon([corner - QPoint(side, 0), corner, corner + QPoint(0, side)]))
        painter.restore()


def unknown(painter: QPainter, rect: QRect, text: str = "?") -> None:
    """Draw what is not known: a dashed outline, never a colour."""
    painter.save()
    pen = QPen(look.bench_ink, 1, Qt.PenStyle.CustomDashLine)
    pen.setDashPattern([4, 3])
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(QRectF(rect).adjusted(0.5, 0.5, -0.5, -0.5))
    painter.setFont(look.font(CAPTION))
    painter.drawText(rect, Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap, text)
    painter.restore()


def write(
    painter: QPainter,
    rect: QRect,
    text: str,
    ink: QColor,
    *,
    size: int = CAPTION,
    strong: bool = False,
    align: Qt.AlignmentFlag = Qt.AlignmentFlag.AlignLeft,
) -> bool:
    """Write one line, shortened at its end where it does not fit. Says whether it fitted."""
    made = look.font(size, strong=strong)
    painter.setFont(made)
    painter.setPen(ink)
    fits = text_width(text, size, strong=strong) <= rect.width()
    if not fits:
        text = QFontMetrics(made).elidedText(text, Qt.TextElideMode.ElideRight, rect.width())
    painter.drawText(rect, align | Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextSingleLine, text)
    return fits


def text_width(text: str, size: int = CAPTION, *, strong: bool = False) -> int:
    """How wide a line is, pixels."""
    return _width(text, size, strong, look.font(size, strong=strong).family())


@lru_cache(maxsize=8192)
def _width(text: str, size: int, strong: bool, family: str) -> int:
    return QFontMetrics(look.font(size, strong=strong)).horizontalAdvance(text)


class Painted(QWidget):
    """A widget that draws itself from the look and the screen's colours, and follows both.

    Subclasses give `paint` and `wanted_size`, and keep what they say up to date through `say_as`.
    """

    on_bench = True

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        look.changed.connect(self.update)
        screen_colours().changed.connect(self.update)

    def wanted_size(self) -> QSize:
        """The size the drawing is made for."""
        raise NotImplementedError

    def paint(self, painter: QPainter) -> None:
        """Draw; the bench is there already."""
        raise NotImplementedError

    def say_as(self, name: str, description: str) -> None:
        """Say the content to a screen reader, and to a pointer that rests."""
        self.setAccessibleName(name)
        self.setAccessibleDescription(description)
        self.setToolTip(description)

    def sizeHint(self) -> QSize:  # noqa: N802
        """The wanted size."""
        return self.wanted_size()

    def minimumSizeHint(self) -> QSize:  # noqa: N802
        """The wanted size."""
        return self.wanted_size()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """Lay the bench and draw on it."""
        painter = QPainter(self)
        if self.on_bench:
            painter.fillRect(self.rect(), look.bench)
        self.paint(painter)
        if self.hasFocus():
            focus_ring(painter, self.rect(), on_bench=self.on_bench)
        painter.end()


def focus_ring(painter: QPainter, rect: QRect, *, on_bench: bool) -> None:
    """Draw the ring of 2 px just inside `rect`; on the bench it is ink, since no accent comes near a swatch."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.setPen(QPen(look.bench_ink if on_bench else look.colour("accent_text"), 2))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(QRectF(rect).adjusted(1, 1, -1, -1))
    painter.restore()


def focus_frame(painter: QPainter, rect: QRect) -> None:
    """Draw the ring of a row that stands beside a bench: ink, since no accent comes near a swatch."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.setPen(QPen(look.colour("ink"), 2))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(QRectF(rect).adjusted(1, 1, -1, -1))
    painter.restore()
