"""L* beside the a*b* plane: one bar, the target as a frame in its colour, every answer as a line."""

from __future__ import annotations

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QWidget

from swatch.desk.colours_on_screen import screen_colours
from swatch.desk.plane import Plane, light_span
from swatch.screens.components.painting import Painted, write
from swatch.screens.style import Surround, look
from swatch.wording.text import _, say

WIDTH, SIDE = 18, 204


class LightBar(Painted):
    """The lightness of target and answers."""

    def __init__(self, plane: Plane | None = None, *, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.show_plane(plane or Plane(), None)

    def show_plane(self, plane: Plane, chosen: int | None) -> None:
        """Show other colours."""
        self.plane, self.chosen = plane, chosen
        spots = [f"{point.rank}: {point.lab.L:.1f}" for point in plane.answers]
        target = [say(_("target {L:.1f}")).format(L=plane.target.L)] if plane.target else []
        self.say_as(say(_("Lightness L*")), "; ".join([*target, *spots]))
        self.update()

    def wanted_size(self) -> QSize:
        """Bar, figures above and below, and the letter."""
        return QSize(WIDTH + 16, 24 + SIDE + 40)

    def paint(self, painter: QPainter) -> None:
        """Bar, lines, frame."""
        low, high = light_span(self.plane)
        ink, middle = look.bench_ink, Qt.AlignmentFlag.AlignHCenter
        bar = QRect(8, 24, WIDTH, SIDE)
        painter.setPen(QPen(ink, 1))
        painter.drawRect(bar.adjusted(0, 0, -1, -1))
        write(painter, QRect(0, 2, self.width(), 20), f"{high:.0f}", ink, align=middle)
        write(painter, QRect(0, bar.bottom() + 2, self.width(), 20), f"{low:.0f}", ink, align=middle)
        write(painter, QRect(0, bar.bottom() + 18, self.width(), 20), "L*", ink, align=middle)

        def y(light: float) -> int:
            return bar.bottom() - round((light - low) / max(1.0, high - low) * SIDE)

        for point in self.plane.answers:
            if point.rank != self.chosen:
                painter.fillRect(QRect(bar.left() + 2, y(point.lab.L) - 1, WIDTH - 4, 2), ink)
        for point in self.plane.answers:
            if point.rank == self.chosen:
                painter.fillRect(QRect(bar.left() + 1, y(point.lab.L) - 2, WIDTH - 2, 4), chosen_ink())
        if self.plane.target is not None:
            frame = QRect(bar.left() - 3, y(self.plane.target.L) - 3, WIDTH + 6, 7)
            painter.fillRect(frame, ink)
            painter.fillRect(frame.adjusted(2, 2, -2, -2), screen_colours().shown(self.plane.target).colour)


def chosen_ink() -> QColor:
    """The ink of what is chosen on the bench: the end of the scale the rest is not drawn in, where that shows."""
    return QColor("#000000" if look.surround is Surround.WHITE else "#FFFFFF")
