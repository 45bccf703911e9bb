"""What may come out of the kiln: the mean, and beside it a dozen draws. Seams are the doubt."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRect, QSize
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QWidget

from swatch.desk.colours_on_screen import cannot_show, screen_colours
from swatch.screens.components.painting import Painted, fill
from swatch.screens.style import UNIT, look
from swatch.terms.colour import Lab
from swatch.wording.answers import lab_in_words
from swatch.wording.text import _, say

MEAN_WIDTH = 48
CELL = QSize(16, 28)
COLUMNS = 6


def paint_draws(painter: QPainter, rect: QRect, draws: Sequence[Lab], columns: int = COLUMNS) -> None:
    """Lay the draws in a grid that fills `rect`, touching each other; in their own order, never sorted."""
    rows = -(-len(draws) // columns)
    for i, lab in enumerate(draws):
        row, column = divmod(i, columns)
        left, right = (rect.left() + rect.width() * k // columns for k in (column, column + 1))
        top, bottom = (rect.top() + rect.height() * k // rows for k in (row, row + 1))
        fill(painter, QRect(left, top, right - left, bottom - top), lab, notch=8)


class KilnDraws(Painted):
    """The mean and the draws on the bench; flat where measured, dashed where not known.

    Parameters
    ----------
    mean : Lab or None
        None: not known.
    draws : sequence of Lab
        Empty where the colour was measured: then it is drawn flat.
    real : bool
        The cells are real pieces, not draws; it is said so.
    columns : int
        Six in a row of an answer, three in the cell of a table.
    """

    def __init__(
        self,
        mean: Lab | None = None,
        draws: Sequence[Lab] = (),
        *,
        real: bool = False,
        columns: int = COLUMNS,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._real, self._columns = real, columns
        self.show_draws(mean, draws)

    def show_draws(self, mean: Lab | None, draws: Sequence[Lab] = ()) -> None:
        """Show another colour and its doubt."""
        self.mean, self.draws = mean, tuple(draws)
        self.say_as(
            say(_("Approved pieces")) if self._real else say(_("What may come out of the kiln")), self._said()
        )
        self.updateGeometry()
        self.update()

    def wanted_size(self) -> QSize:
        """Mean and cells, with bench around them."""
        return QSize(MEAN_WIDTH + self._columns * CELL.width(), 2 * CELL.height()) + QSize(4 * UNIT, 2 * UNIT)

    def paint(self, painter: QPainter) -> None:
        """Mean first; swapped, the cells first. They touch."""
        area = self.rect().adjusted(2 * UNIT, UNIT, -2 * UNIT, -UNIT)
        if self.mean is None or not self.draws:
            fill(painter, area, self.mean)
            return
        cells = area.width() - MEAN_WIDTH
        mean_left = area.left() + (cells if look.swapped else 0)
        cells_left = area.left() + (0 if look.swapped else MEAN_WIDTH)
        fill(painter, QRect(mean_left, area.top(), MEAN_WIDTH, area.height()), self.mean)
        paint_draws(painter, QRect(cells_left, area.top(), cells, area.height()), self.draws, self._columns)

    def _said(self) -> str:
        if self.mean is None:
            return say(_("Not known."))
        parts = [say(_("Mean: {lab}.")).format(lab=lab_in_words(self.mean))]
        if self.draws:
            kind = _("{n} real pieces") if self._real else _("{n} draws")
            spans = (f"{min(v):.1f} – {max(v):.1f}".replace("-", "−") for v in zip(*self.draws, strict=True))
            spread = _("{what}: L* {L}, a* {a}, b* {b}.")
            what = say(kind).format(n=len(self.draws))
            parts.append(say(spread).format(what=what, **dict(zip("Lab", spans, strict=True))))
        else:
            parts.append(say(_("Measured.")))
        if not screen_colours().shown(self.mean).in_gamut:
            parts.append(cannot_show())
        return " ".join(parts)
