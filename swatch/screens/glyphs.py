"""Six glyphs of our own, 24 px, one ink, always beside their word; and a few signs of 12 px."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPainterPath, QPen, QPixmap, QPolygonF


def _next(p: QPainter, ink: QColor) -> None:
    p.drawLine(QPointF(2, 12), QPointF(22, 12))
    p.setBrush(ink)
    p.drawEllipse(QPointF(12, 12), 4, 4)


def _tiles(p: QPainter, ink: QColor) -> None:
    p.drawRect(QRectF(4, 3, 16, 18))
    p.setBrush(ink)
    p.drawRect(QRectF(4, 3, 16, 6))
    p.drawRect(QRectF(4, 9, 8, 12))


def _materials(p: QPainter, ink: QColor) -> None:
    p.drawRect(QRectF(5, 8, 14, 13))
    p.setBrush(ink)
    p.drawRect(QRectF(6.5, 3, 11, 3))
    p.drawRect(QRectF(5, 14, 14, 7))


def _match(p: QPainter, ink: QColor) -> None:
    p.drawRect(QRectF(3, 6, 18, 12))
    p.setBrush(ink)
    p.drawRect(QRectF(3, 6, 9, 12))


def _editions(p: QPainter, ink: QColor) -> None:
    for k, left in enumerate((1.0, 9.0, 17.0)):
        p.setBrush(ink if k < 2 else Qt.BrushStyle.NoBrush)
        p.drawPolygon(
            QPolygonF([QPointF(left, 7), QPointF(left + 6, 7), QPointF(left + 4.6, 17), QPointF(left + 1.4, 17)])
        )


def _firings(p: QPainter, ink: QColor) -> None:
    p.drawLine(QPointF(2, 20), QPointF(22, 20))
    path = QPainterPath(QPointF(6, 20))
    path.cubicTo(QPointF(7, 10), QPointF(11, 4), QPointF(18, 5))
    path.cubicTo(QPointF(14, 7), QPointF(12.5, 12), QPointF(13, 20))
    path.closeSubpath()
    p.setBrush(ink)
    p.drawPath(path)


def _undo(p: QPainter, _ink: QColor) -> None:
    p.drawPolyline(QPolygonF([QPointF(9, 4), QPointF(4, 9), QPointF(9, 14)]))
    path = QPainterPath(QPointF(4.5, 9))
    path.lineTo(14, 9)
    path.arcTo(QRectF(9, 9, 10, 10), 90, -180)
    path.lineTo(9, 19)
    p.drawPath(path)


def _warning(p: QPainter, ink: QColor) -> None:
    p.drawPolygon(QPolygonF([QPointF(12, 3), QPointF(22, 21), QPointF(2, 21)]))
    p.drawLine(QPointF(12, 9), QPointF(12, 15))
    p.setBrush(ink)
    p.drawEllipse(QPointF(12, 18), 0.6, 0.6)


def _tick(p: QPainter, _ink: QColor) -> None:
    p.drawPolyline(QPolygonF([QPointF(4, 13), QPointF(10, 19), QPointF(21, 5)]))


def _ring(p: QPainter, _ink: QColor) -> None:
    p.drawEllipse(QPointF(12, 12), 7, 7)


def _diamond(p: QPainter, ink: QColor) -> None:
    p.setBrush(ink)
    p.drawPolygon(QPolygonF([QPointF(12, 3), QPointF(21, 12), QPointF(12, 21), QPointF(3, 12)]))


def _open_diamond(p: QPainter, _ink: QColor) -> None:
    p.drawPolygon(QPolygonF([QPointF(12, 3), QPointF(21, 12), QPointF(12, 21), QPointF(3, 12)]))


def _dot(p: QPainter, ink: QColor) -> None:
    p.setBrush(ink)
    p.drawEllipse(QPointF(12, 12), 3, 3)


GLYPHS: dict[str, Callable[[QPainter, QColor], None]] = {
    "next": _next,
    "tiles": _tiles,
    "materials": _materials,
    "match": _match,
    "editions": _editions,
    "firings": _firings,
    "undo": _undo,
    "warning": _warning,
    "tick": _tick,
    "ring": _ring,
    "diamond": _diamond,
    "open diamond": _open_diamond,
    "dot": _dot,
}


def paint_glyph(painter: QPainter, name: str, rect: QRectF, ink: QColor) -> None:
    """Draw one glyph into a square."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(rect.topLeft())
    scale = rect.width() / 24
    painter.scale(scale, scale)
    pen = QPen(ink, 1.8 if scale >= 0.9 else 2.4)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    GLYPHS[name](painter, ink)
    painter.restore()


def icon(name: str, ink: QColor, size: int = 24) -> QIcon:
    """One glyph as an icon, sharp at scale 2."""
    picture = QPixmap(size * 2, size * 2)
    picture.setDevicePixelRatio(2)
    picture.fill(Qt.GlobalColor.transparent)
    painter = QPainter(picture)
    paint_glyph(painter, name, QRectF(0, 0, size, size), ink)
    painter.end()
    return QIcon(picture)
