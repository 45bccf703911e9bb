"""What is known of a material, on the bench: by cone, coats and body; over light and dark; and what moves it."""

from __future__ import annotations

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QPainter

from swatch.desk.knowing import KnownPicture
from swatch.desk.material_rows import Cell
from swatch.screens.components.kiln_draws import paint_draws
from swatch.screens.components.painting import Painted, fill, unknown, write
from swatch.screens.style import look
from swatch.wording.layering import cone_figure
from swatch.wording.text import _, say

WIDTH = 320
LEFT, CELL, CELL_HIGH, ROW = 56, 28, 32, 36
GROUND, PAIR = 56, 28


def paint_cell(painter: QPainter, place: QRect, cell: Cell) -> None:
    """Measured: flat. Predicted: with seams. Not known: dashes."""
    if cell.measured is not None:
        fill(painter, place, cell.measured)
    elif cell.draws:
        paint_draws(painter, place, cell.draws, 3)
    else:
        unknown(painter, place)


class KnownBench(Painted):
    """The picture, as high as it needs to be."""

    def __init__(self) -> None:
        super().__init__()
        self.picture = KnownPicture()
        self.setSizePolicy(self.sizePolicy().Policy.Expanding, self.sizePolicy().Policy.Fixed)

    def show_picture(self, picture: KnownPicture) -> None:
        """Show another material."""
        self.picture = picture
        self.say_as(say(_("What is known of it")), picture.spoken())
        self.setToolTip("")
        self.updateGeometry()
        self.update()

    def wanted_size(self) -> QSize:
        """Cones, grounds, changes."""
        shown = self.picture
        high = 48 + ROW * len(shown.cones)
        high += 68 if shown.grounds else 0
        high += 28 + 36 * len(shown.moves) if shown.moves else 0
        return QSize(WIDTH, high)

    def paint(self, painter: QPainter) -> None:
        """All three parts, from above."""
        top = self._paint_cones(painter)
        if self.picture.grounds:
            top = self._paint_grounds(painter, top)
        if self.picture.moves:
            self._paint_moves(painter, top)

    def _paint_cones(self, painter: QPainter) -> int:
        ink, middle = look.bench_ink, Qt.AlignmentFlag.AlignHCenter
        bodies = self.picture.bodies
        group = (self.width() - LEFT - 16) // max(len(bodies), 1)
        write(painter, QRect(16, 24, LEFT - 16, 18), say(_("cone")), ink)
        for k, body in enumerate(bodies):
            left = LEFT + k * group
            write(painter, QRect(left, 4, group - 8, 18), say(_("on {body}")).format(body=body), ink, strong=True)
            for n in range(3):
                write(painter, QRect(left + n * CELL, 24, CELL, 18), f"×{n + 1}", ink, align=middle)
        top = 44
        for row in self.picture.cones:
            write(painter, QRect(16, top, LEFT - 20, CELL_HIGH), cone_figure(row.cone), ink)
            for k, cells in enumerate(row.cells):
                for n, cell in enumerate(cells):
                    place = QRect(LEFT + k * group + n * CELL, top, CELL, CELL_HIGH)
                    paint_cell(painter, place, cell)
            top += ROW
        return top + 4

    def _paint_grounds(self, painter: QPainter, top: int) -> int:
        for k, (cell, _words) in enumerate(self.picture.grounds):
            paint_cell(painter, QRect(16 + k * GROUND, top + 4, GROUND, 48), cell)
        left = 16 + GROUND * len(self.picture.grounds) + 12
        for k, (_cell, words) in enumerate(self.picture.grounds):
            write(painter, QRect(left, top + 6 + 22 * k, self.width() - left - 8, 20), words, look.bench_ink)
        return top + 68

    def _paint_moves(self, painter: QPainter, top: int) -> None:
        write(painter, QRect(16, top, self.width() - 24, 20), say(_("2 coats, and what moves it")), look.bench_ink,
              strong=True)  # fmt: skip
        for k, one in enumerate(self.picture.moves):
            y = top + 24 + 36 * k
            fill(painter, QRect(16, y, PAIR, 28), one.plain)
            fill(painter, QRect(16 + PAIR, y, PAIR, 28), one.changed)
            words = QRect(16 + 2 * PAIR + 10, y, self.width() - 2 * PAIR - 34, 28)
            painter.setFont(look.font(13))
            painter.setPen(look.bench_ink)
            flags = Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextWordWrap
            painter.drawText(words.adjusted(0, -4, 0, 4), flags, one.words)
