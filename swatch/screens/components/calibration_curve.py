"""Stated against held: of what was said to hold so many of new tiles, how many did."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from PySide6.QtCore import QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPen, QPolygonF

from swatch.screens.components.painting import Painted, write
from swatch.screens.style import look
from swatch.terms.answers import Held
from swatch.wording.text import _, say
from swatch.wording.trust import curve_in_words, trust_kind_in_words

SIDE, LEFT, FOOT = 168, 44, 40


class CalibrationCurve(Painted):
    """One thin line a kind of question; the one looked at is heavy, with a dot at each share."""

    on_bench = False

    def __init__(self) -> None:
        super().__init__()
        self.curves: Mapping[str, Sequence[Held]] = {}
        self.kind = ""

    def show_curves(self, curves: Mapping[str, Sequence[Held]], kind: str) -> None:
        """Show other curves, with one of them looked at."""
        self.curves, self.kind = curves, kind
        some = {kind: curves[kind]} if kind in curves else curves
        said = (f"{trust_kind_in_words(name)}: {curve_in_words(points)}." for name, points in some.items())
        self.say_as(say(_("Stated against held")), " ".join(said))
        self.setToolTip("")
        self.update()

    def wanted_size(self) -> QSize:
        """A square with its axes."""
        return QSize(LEFT + SIDE + 16, SIDE + FOOT + 8)

    def _at(self, stated: float, held: float) -> QPointF:
        return QPointF(LEFT + SIDE * stated, 8 + SIDE * (1.0 - held))

    def paint(self, painter: QPainter) -> None:
        """Axes, the line of right doubt, the curves."""
        ink, quiet = look.colour("ink"), look.colour("quiet")
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        painter.setPen(QPen(look.colour("edge"), 1))
        painter.setBrush(look.colour("field"))
        painter.drawRect(QRectF(LEFT + 0.5, 8.5, SIDE, SIDE))
        dashes = QPen(quiet, 1)
        dashes.setDashPattern([4, 3])
        painter.setPen(dashes)
        painter.drawLine(self._at(0, 0), self._at(1, 1))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for name, points in self.curves.items():
            chosen = name == self.kind or not self.kind
            painter.setPen(QPen(ink if chosen else look.colour("edge"), 2 if name == self.kind else 1))
            painter.drawPolyline(QPolygonF([self._at(0, 0), *(self._at(one.stated, one.held) for one in points)]))
            if name == self.kind:
                painter.setBrush(ink)
                for one in points:
                    painter.drawEllipse(self._at(one.stated, one.held), 3, 3)
                painter.setBrush(Qt.BrushStyle.NoBrush)
        right, middle = Qt.AlignmentFlag.AlignRight, Qt.AlignmentFlag.AlignHCenter
        for share in (0.0, 0.5, 1.0):
            spot = self._at(share, share)
            text = say(_("{n:.0f} %")).format(n=100 * share)
            write(painter, QRect(0, round(spot.y()) - 9, LEFT - 6, 18), text, quiet, align=right)
            write(painter, QRect(round(spot.x()) - 24, SIDE + 10, 48, 18), text, quiet, align=middle)
        write(painter, QRect(LEFT, SIDE + 26, SIDE, 18), say(_("stated; upward: held")), ink, align=middle)
