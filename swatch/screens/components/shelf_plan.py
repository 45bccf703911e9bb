"""The kiln's shelf from above: where each tile lies by its pencilled number, and the strip kept for witnesses."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRect, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPen

from swatch.desk.shelf import WITNESS, Laid
from swatch.screens.components.painting import Painted, write
from swatch.screens.style import look
from swatch.terms.sheet import Size
from swatch.wording.text import _, say, say_many

WIDTH, HEIGHT = 264, 176


class ShelfPlan(Painted):
    """The first shelf, to scale, its front below; more shelves are said in words."""

    on_bench = False

    def __init__(self) -> None:
        super().__init__()
        self._laid, self._names = Laid(0), tuple[str, ...]()
        self._shelf, self._tile = Size(400.0, 400.0), Size(50.0, 100.0)

    def show_shelf(self, laid: Laid, names: Sequence[str], shelf: Size, tile: Size) -> None:
        """Lay other tiles, on another shelf."""
        self._laid, self._names, self._shelf, self._tile = laid, tuple(names), shelf, tile
        self.say_as(say(_("Kiln shelf from above")), shelf_in_words(laid, len(self._names)))
        self.update()

    def wanted_size(self) -> QSize:
        """A fixed room, whatever the shelf."""
        return QSize(WIDTH, HEIGHT)

    def paint(self, painter: QPainter) -> None:
        """Shelf, tiles, witnesses."""
        scale = min((self.width() - 2) / self._shelf.wide, (self.height() - 2) / self._shelf.high)
        wide, high = self._shelf.wide * scale, self._shelf.high * scale
        left, ink = (self.width() - wide) / 2, look.colour("ink")
        painter.setPen(QPen(look.colour("edge"), 1))
        painter.setBrush(look.colour("field"))
        painter.drawRect(QRectF(left, 0.5, wide, high))
        front = QRect(round(left), round(high - WITNESS * scale), round(wide), round(WITNESS * scale))
        middle = Qt.AlignmentFlag.AlignHCenter
        write(painter, front, say(_("witness cones, button")), look.colour("quiet"), align=middle)
        painter.setBrush(look.colour("panel"))
        for spot, name in zip(self._laid.spots, self._names, strict=False):
            if spot.shelf:
                break
            place = QRectF(
                left + spot.left * scale, spot.top * scale, self._tile.wide * scale, self._tile.high * scale
            )
            painter.setPen(QPen(look.colour("edge"), 1))
            painter.drawRect(place)
            write(painter, place.toRect().adjusted(1, 0, -1, 0), name, ink, align=middle)


def shelf_in_words(laid: Laid, n: int) -> str:
    """How many tiles a shelf takes, and how many shelves these take."""
    if not laid.per_shelf:
        return say(_("A tile does not fit on a shelf of this size."))
    takes = say_many("A shelf takes {n} tile", "A shelf takes {n} tiles", laid.per_shelf).format(n=laid.per_shelf)
    if not n:
        return f"{takes}."
    need = say_many("these take {n} shelf", "these take {n} shelves", laid.shelves).format(n=laid.shelves)
    return f"{takes}; {need}."
