"""Shares as bars, each with its words: why a load drifted, or where the variation comes from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRect, QSize
from PySide6.QtGui import QPainter, QPen

from swatch.screens.components.painting import Painted, write
from swatch.screens.style import look
from swatch.wording.numbers import share_in_words

ROW, WORDS, BAR = 24, 248, 144


@dataclass(frozen=True, slots=True)
class Share:
    """One bar; ``hollow`` for what is not explained."""

    words: str
    share: float
    hollow: bool = False


class ShareBars(Painted):
    """Bars one above the other: the first in ink, what is not explained only outlined."""

    on_bench = False

    def __init__(self, spoken: str) -> None:
        super().__init__()
        self._spoken = spoken
        self._shares: Sequence[Share] = ()

    def show_shares(self, shares: Sequence[Share]) -> None:
        """Show others."""
        self._shares = shares
        told = "; ".join(f"{one.words} {share_in_words(one.share)}" for one in shares)
        self.say_as(self._spoken, told)
        self.setVisible(bool(shares))
        self.updateGeometry()
        self.update()

    def wanted_size(self) -> QSize:
        """A row a share."""
        return QSize(WORDS + BAR + 64, ROW * max(len(self._shares), 1))

    def paint(self, painter: QPainter) -> None:
        """Words, bar, figure."""
        ink, quiet = look.colour("ink"), look.colour("quiet")
        for k, one in enumerate(self._shares):
            top = k * ROW
            write(painter, QRect(0, top, WORDS - 8, ROW), one.words, ink, strong=k == 0 and not one.hollow)
            bar = QRect(WORDS, top + 6, max(2, round(BAR * min(one.share, 1.0))), 12)
            if one.hollow:
                painter.setPen(QPen(look.colour("edge"), 1))
                painter.drawRect(bar.adjusted(0, 0, -1, -1))
            else:
                painter.fillRect(bar, ink if k == 0 else quiet)
            figure = QRect(bar.right() + 8, top, 56, ROW)
            write(painter, figure, share_in_words(one.share), ink, strong=k == 0)
