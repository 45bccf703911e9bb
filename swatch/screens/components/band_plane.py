"""The a*b* plane of one band of lightness: what can be made as an outline, what was made in its own colours."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPen
from PySide6.QtWidgets import QWidget

from swatch.desk.colours_on_screen import screen_colours
from swatch.screens.components.painting import Painted, write
from swatch.screens.style import look
from swatch.terms.colour import Lab
from swatch.terms.colours import LightnessBand, Ring
from swatch.wording.colours import band_in_words
from swatch.wording.text import _, say

SIDE, LEFT, TOP, BELOW = 440, 36, 24, 44
REACH = 60.0
"""a* and b* shown either way until it is known how far the outlines go."""
SPOT = 6.0


class BandPlane(Painted):
    """One band: predicted outlines dashed, measured ones drawn through, a dot for each own tile."""

    def __init__(self, band: LightnessBand | None = None, *, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.band, self.reach = band, REACH
        self.show_band(band, REACH)

    def show_band(self, band: LightnessBand | None, reach: float = REACH) -> None:
        """Show another band; `reach` is how far a* and b* go, so that all bands of an answer share one scale."""
        self.band, self.reach = band, max(reach, 10.0)
        self.say_as(say(_("Colours of one lightness, a* across and b* up")), band_in_words(band) if band else "")
        self.update()

    def wanted_size(self) -> QSize:
        """The square with its figures."""
        return QSize(LEFT + SIDE + 12, TOP + SIDE + BELOW)

    def place(self, a: float, b: float) -> QPointF:
        """Where a colour lies in the widget, pixels."""
        scale = SIDE / (2.0 * self.reach)
        return QPointF(LEFT + (a + self.reach) * scale, TOP + (self.reach - b) * scale)

    def paint(self, painter: QPainter) -> None:
        """Axes, outlines, tiles."""
        ink = look.bench_ink
        square = QRect(LEFT, TOP, SIDE, SIDE)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        faint = QPen(ink, 0.6, Qt.PenStyle.DotLine)
        painter.setPen(faint)
        painter.drawLine(self.place(-self.reach, 0), self.place(self.reach, 0))
        painter.drawLine(self.place(0, -self.reach), self.place(0, self.reach))
        painter.setPen(QPen(ink, 1))
        painter.drawRect(square)
        self._figures(painter, square)
        if self.band is None:
            return
        painter.setClipRect(square)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        dashed = QPen(ink, 1.6, Qt.PenStyle.CustomDashLine)
        dashed.setDashPattern([4, 3])
        for rings, pen in ((self.band.predicted, dashed), (self.band.measured, QPen(ink, 1.2))):
            painter.setPen(pen)
            painter.drawPath(self._path(rings))
        labs = [one.lab for one in self.band.tiles]
        screen_colours().prepare(labs)
        painter.setPen(Qt.PenStyle.NoPen)
        for lab in labs:
            self._spot(painter, lab)
        painter.setClipping(False)

    def _spot(self, painter: QPainter, lab: Lab) -> None:
        at = self.place(lab.a, lab.b)
        painter.setBrush(screen_colours().shown(lab).colour)
        painter.drawEllipse(QRectF(at.x() - SPOT, at.y() - SPOT, 2 * SPOT, 2 * SPOT))

    def _path(self, rings: tuple[Ring, ...]) -> QPainterPath:
        path = QPainterPath()
        for ring in rings:
            first, *rest = (self.place(a, b) for a, b in ring)
            path.moveTo(first)
            for corner in rest:
                path.lineTo(corner)
            path.closeSubpath()
        return path

    def _figures(self, painter: QPainter, square: QRect) -> None:
        ink, middle = look.bench_ink, Qt.AlignmentFlag.AlignHCenter
        end = f"{self.reach:.0f}"
        write(painter, QRect(square.left() - 20, 2, 40, 20), "b*", ink, align=middle)
        for text, b in ((end, self.reach), ("0", 0.0), (f"−{end}", -self.reach)):
            y = round(self.place(0.0, b).y())
            write(painter, QRect(0, y - 10, LEFT - 4, 20), text, ink, align=Qt.AlignmentFlag.AlignRight)
        for text, a in ((f"−{end}", -self.reach), ("0", 0.0), (end, self.reach)):
            x = round(self.place(a, 0.0).x())
            write(painter, QRect(x - 20, square.bottom() + 2, 40, 20), text, ink, align=middle)
        below = QRect(LEFT, square.bottom() + 22, SIDE, 20)
        write(painter, below, say(_("a*   greener ← → redder")), ink, align=middle)
