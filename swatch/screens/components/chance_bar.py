"""The chance to come within tolerance: the figure above, an outlined bar, what the stock is enough for below."""

from __future__ import annotations

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QWidget

from swatch.screens.components.painting import Painted, text_width, write
from swatch.screens.style import look
from swatch.wording.answers import chance_in_words
from swatch.wording.text import _, say

WIDTH, HEIGHT = 60, 8


def paint_chance(painter: QPainter, rect: QRect, chance: float, pieces: str = "") -> None:
    """Draw figure, bar and pieces into `rect`, to its right edge."""
    ink = look.colour("ink")
    right = Qt.AlignmentFlag.AlignRight
    some = chance >= 0.01
    above = QRect(rect.left(), rect.top() + 6, rect.width(), 20)
    write(painter, above, chance_in_words(chance), ink, size=15 if some else 13, strong=some, align=right)
    bar = QRect(rect.right() + 1 - WIDTH, rect.top() + 28, WIDTH, HEIGHT)
    paint_bar(painter, bar, chance)
    if pieces:
        write(painter, QRect(rect.left(), rect.top() + 39, rect.width(), 20), pieces, ink, align=right)


def paint_bar(painter: QPainter, bar: QRect, share: float) -> None:
    """Draw an outlined bar filled from the left; `share` is 0 to 1."""
    painter.fillRect(bar, look.colour("edge"))
    inside = bar.adjusted(1, 1, -1, -1)
    painter.fillRect(inside, look.colour("panel"))
    inside.setWidth(round(inside.width() * min(max(share, 0.0), 1.0)))
    painter.fillRect(inside, look.colour("quiet"))


class ChanceBar(Painted):
    """One chance, with the pieces the stock is enough for."""

    on_bench = False

    def __init__(
        self, chance: float = 0.0, pieces: str = "", tolerance: float = 2.0, *, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.show_chance(chance, pieces, tolerance)

    def show_chance(self, chance: float, pieces: str = "", tolerance: float = 2.0) -> None:
        """Show another chance."""
        self.chance, self.pieces = chance, pieces
        said = say(_("{chance} of such pieces come within {tolerance:.1f}.")).format(
            chance=chance_in_words(chance), tolerance=tolerance
        )
        name = say(_("Chance to come within tolerance"))
        self.say_as(name, f"{said} {say(_('Enough for {pieces}.')).format(pieces=pieces)}" if pieces else said)
        self.updateGeometry()
        self.update()

    def wanted_size(self) -> QSize:
        """The bar, or the pieces where they are longer."""
        return QSize(
            max(WIDTH, text_width(self.pieces), text_width(chance_in_words(self.chance), 15, strong=True)), 64
        )

    def paint(self, painter: QPainter) -> None:
        """Figure, bar, pieces."""
        paint_chance(painter, self.rect(), self.chance, self.pieces)
