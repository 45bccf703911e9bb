"""How outlines, corners, notes and the loupe are drawn on a photo: white on black, to show on anything."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPixmap, QPolygonF

from swatch.desk.free_paper import Box, free_place
from swatch.desk.photo_shapes import Outline, View
from swatch.screens.components.painting import text_width
from swatch.screens.style import UNIT, look
from swatch.terms.measured import Point
from swatch.wording.text import _, say

WHITE, BLACK = QColor("#FFFFFF"), QColor("#000000")
HANDLE = 9
LOUPE = 112
LOUPE_TIMES = 3.0


def paint_outline(painter: QPainter, outline: Outline, view: View, *, handles: bool, corner: int | None) -> None:
    """Draw one outline; `corner` is the chosen one, drawn filled."""
    points = QPolygonF([QPointF(*view.to_screen(point)) for point in outline.points])
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(_pen(BLACK, 5.0 if outline.warned or handles else 3.5))
    painter.drawPolygon(points)
    pen = _pen(WHITE, 2.5 if outline.warned or handles else 1.5)
    if outline.warned:
        pen.setDashPattern([3.2, 2.4])
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    painter.setPen(pen)
    painter.drawPolygon(points)
    if handles or outline.warned:
        for k, point in enumerate(outline.points):
            paint_handle(painter, view.to_screen(point), chosen=k == corner)


def _pen(colour: QColor, width: float) -> QPen:
    pen = QPen(colour, width)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    return pen


def paint_handle(painter: QPainter, at: Point, *, chosen: bool) -> None:
    """Draw a corner: white with a black rim; the chosen one is larger and black with a white rim."""
    half = HANDLE / 2 + (2 if chosen else 0)
    box = QRectF(at[0] - half, at[1] - half, 2 * half, 2 * half)
    if chosen:
        painter.setPen(_pen(BLACK, 4.0))
        painter.setBrush(BLACK)
        painter.drawRect(box)
        painter.setPen(_pen(WHITE, 2.0))
    else:
        painter.setPen(_pen(BLACK, 1.5))
        painter.setBrush(WHITE)
    painter.drawRect(box)


def paint_corners(painter: QPainter, corners: Sequence[Point], pointer: Point, view: View) -> None:
    """Draw the corners set so far, joined to where the pointer is."""
    paint_outline(painter, Outline("", "", (*corners, pointer)), view, handles=False, corner=None)
    for point in corners:
        paint_handle(painter, view.to_screen(point), chosen=False)


def note_size(note: str) -> tuple[float, float]:
    """Width and height of the box a note is written in."""
    return text_width(note, strong=True) + 1.5 * UNIT, 20.0


def places_of_notes(outlines: Sequence[Outline], on_screen: Callable[[Outline], Box], room: Box) -> dict[str, Box]:
    """Where the notes lie, by the key of their outline: beside it, where least else is covered."""
    out: dict[str, Box] = {}
    for outline in outlines:
        if outline.note:
            taken = [on_screen(one).guarded() for one in outlines if one is not outline]
            out[outline.key] = free_place(note_size(outline.note), on_screen(outline).grown(4.0), taken, room)
    return out


def paint_note(painter: QPainter, note: str, place: Box) -> None:
    """Write an outline's note in its box."""
    box = QRectF(place.left, place.top, place.right - place.left, place.bottom - place.top)
    painter.setPen(QPen(look.colour("ink"), 1))
    painter.setBrush(look.colour("raised"))
    painter.drawRoundedRect(box, 4, 4)
    painter.setFont(look.font(13, strong=True))
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, note)


def outline_in_words(outline: Outline, corner: int | None) -> str:
    """Where an outline lies, or one corner of it, for who hears instead of sees."""
    places = [f"{x:.0f}, {y:.0f}" for x, y in outline.points]
    if corner is not None:
        text = say(_("{outline}, corner {n} at {place}. {note}"))
        said = text.format(outline=outline.label, n=corner + 1, place=places[corner], note=outline.note)
    else:
        text = say(_("{outline}: {places}. {note}"))
        said = text.format(outline=outline.label, places="; ".join(places), note=outline.note)
    return said.strip()


def paint_way(painter: QPainter, points: Sequence[Point]) -> None:
    """Draw the line from a callout to its zone, with a dot where it ends."""
    if len(points) < 2:
        return
    line = QPolygonF([QPointF(*point) for point in points])
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(_pen(WHITE, 5.0))
    painter.drawPolyline(line)
    painter.setPen(_pen(BLACK, 2.0))
    painter.drawPolyline(line)
    painter.setPen(_pen(WHITE, 1.5))
    painter.setBrush(BLACK)
    painter.drawEllipse(line.last(), 4.5, 4.5)


def paint_loupe(
    painter: QPainter, picture: QPixmap, shown: float, at: Point, photo_at: Point, room: QRectF
) -> None:
    """Show what lies under a corner, larger, beside it; `shown` is picture pixels to photo pixels."""
    times = LOUPE_TIMES
    left = at[0] + 24 if at[0] + 24 + LOUPE < room.right() else at[0] - 24 - LOUPE
    top = at[1] - 24 - LOUPE if at[1] - 24 - LOUPE > room.top() else at[1] + 24
    box = QRectF(left, top, LOUPE, LOUPE)
    half = LOUPE / (2 * times)
    source = QRectF(photo_at[0] * shown - half, photo_at[1] * shown - half, 2 * half, 2 * half)
    painter.fillRect(box, BLACK)
    painter.drawPixmap(box, picture, source)
    for colour, width in ((WHITE, 3.0), (BLACK, 1.0)):
        painter.setPen(_pen(colour, width))
        middle = box.center()
        painter.drawLine(QPointF(middle.x(), box.top()), QPointF(middle.x(), box.bottom()))
        painter.drawLine(QPointF(box.left(), middle.y()), QPointF(box.right(), middle.y()))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(_pen(BLACK, 3.0))
    painter.drawRect(box)
    painter.setPen(_pen(WHITE, 1.0))
    painter.drawRect(box)
