"""An invented photo for the gallery: a sheet with a card of grey and coloured patches and twelve tiles."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPolygonF, QTransform

from swatch.desk.colours_on_screen import screen_colours
from swatch.desk.photo_shapes import Callout, Outline, Points
from swatch.screens import gallery_samples as samples
from swatch.terms.colour import Lab
from swatch.terms.measured import Point

SIZE = (1520, 1140)
_SLANT = QTransform(1.0, -0.015, 0.0, 0.02, 1.0, 0.0, 0.0, 0.0, 1.0)
_COLOURS = list(samples.FIRED.values())
CARD = (60.0, 380.0, 500.0, 340.0)


def _tile(number: int) -> tuple[float, float, float, float]:
    line, column = divmod(number, 4)
    return 620.0 + 200.0 * column, 110.0 + 320.0 * line, 150.0, 230.0


def _corners(box: tuple[float, float, float, float], inset: float = 0.0) -> Points:
    x, y, wide, high = box
    rect = QRectF(x + inset, y + inset, wide - 2 * inset, high - 2 * inset)
    corners = (rect.topLeft(), rect.topRight(), rect.bottomRight(), rect.bottomLeft())
    return tuple(_placed(_SLANT.map(corner)) for corner in corners)


def _placed(point: QPointF) -> Point:
    return round(point.x(), 1), round(point.y(), 1)


def photo() -> QImage:
    """The photo."""
    image = QImage(*SIZE, QImage.Format.Format_RGB32)
    image.fill(QColor("#4A423B"))
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.setPen(Qt.PenStyle.NoPen)
    _lay(painter, _corners((30.0, 40.0, 1440.0, 1040.0)), QColor("#DDD8CC"))
    _lay(painter, _corners(CARD), QColor("#1E1E1E"))
    for k in range(24):
        line, column = divmod(k, 6)
        box = (CARD[0] + 14 + 80.0 * column, CARD[1] + 14 + 80.0 * line, 70.0, 70.0)
        lab = Lab(95 - 15.0 * column, 0.0, 0.0) if line == 3 else _COLOURS[(5 * line + column) % len(_COLOURS)]
        _lay(painter, _corners(box), screen_colours().shown(lab).colour)
    for number in range(12):
        _lay(painter, _corners(_tile(number)), QColor("#C4A98A"))
        colour = screen_colours().shown(_COLOURS[number % len(_COLOURS)]).colour
        _lay(painter, _corners(_tile(number), 6), colour if number != 7 else QColor("#B9B6B0"))
    painter.end()
    return image


def _lay(painter: QPainter, points: Points, colour: QColor) -> None:
    painter.setBrush(colour)
    painter.drawPolygon(QPolygonF([QPointF(*point) for point in points]))


def outlines() -> list[Outline]:
    """The card, twelve zones; the eighth is warned."""
    zones = [Outline(f"tile-{k + 1}", f"Tile {k + 1}", _corners(_tile(k), 34), warned=k == 7) for k in range(12)]
    return [Outline("card", "Card", _corners(CARD), card=True, note="Card found, patch 16 worst"), *zones]


def callout() -> Callout:
    """What is said of the eighth."""
    return Callout(
        "tile-8",
        "Glare: 18 % of tile 8 is left",
        "Lower the lamp to 45°, shoot again: both photos will be merged.",
        (("leave-out", "Leave out tile 8"), ("keep", "Keep, known to 6.8 ΔE00")),
    )


def with_new(known: Sequence[Outline], points: Points) -> list[Outline]:
    """The outlines and a new one."""
    number = 1 + max((int(one.key.split("-")[1]) for one in known if "-" in one.key), default=0)
    return [*known, Outline(f"tile-{number}", f"Tile {number}", points)]
