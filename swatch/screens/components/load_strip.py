"""The look along the top, the mean of each load beneath it, edge to edge; a column a firing, as in the chart."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRect, QSize, Qt, Signal
from PySide6.QtGui import QMouseEvent, QPainter

from swatch.screens.components.firings_chart import wide
from swatch.screens.components.painting import Painted, fill, write
from swatch.screens.components.plotted import LEFT_AXIS
from swatch.screens.style import look
from swatch.terms.colour import Lab
from swatch.wording.answers import lab_in_words
from swatch.wording.text import _, say

BAND = 40


@dataclass(frozen=True, slots=True)
class StripLoad:
    """One load in one region: the approved look, and the load's mean; None where it was not read there."""

    firing: str
    look: Lab | None
    mean: Lab | None


class LoadStrip(Painted):
    """Swatches of the look and of every load, touching."""

    chosen = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self._loads: Sequence[StripLoad] = ()
        self.setSizePolicy(self.sizePolicy().Policy.Expanding, self.sizePolicy().Policy.Fixed)

    def show_loads(self, loads: Sequence[StripLoad], region: str) -> None:
        """Show another region, or other loads."""
        self._loads = loads
        self.setMaximumWidth(wide(len(loads)))
        told = (f"{one.firing} {lab_in_words(one.mean)}" for one in loads if one.mean is not None)
        self.say_as(say(_("The look and each load, {region}")).format(region=region), "; ".join(told))
        self.update()

    def wanted_size(self) -> QSize:
        """Two bands."""
        return QSize(wide(max(len(self._loads), 4)), 2 * BAND + 16)

    def minimumSizeHint(self) -> QSize:  # noqa: N802
        """Narrow windows squeeze the columns."""
        return QSize(320, 2 * BAND + 16)

    def paint(self, painter: QPainter) -> None:
        """The look as one strip; each load touches it."""
        ink = look.bench_ink
        write(painter, QRect(8, 8, LEFT_AXIS - 8, BAND), say(_("look")), ink)
        write(painter, QRect(8, 8 + BAND, LEFT_AXIS - 8, BAND), say(_("load")), ink)
        for k, one in enumerate(self._loads):
            left, right = self._edge(k), self._edge(k + 1)
            fill(painter, QRect(left, 8, right - left, BAND), one.look)
            gap = min(8, (right - left) // 8)
            fill(painter, QRect(left + gap, 8 + BAND, right - left - 2 * gap, BAND), one.mean)

    def _edge(self, k: int) -> int:
        left = LEFT_AXIS + 2
        return left + round((self.width() - left - 2) * k / max(len(self._loads), 1))

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Choose the load pressed; the list of loads does the same by keyboard."""
        if event.button() == Qt.MouseButton.LeftButton:
            for k, one in enumerate(self._loads):
                if self._edge(k) <= event.position().x() < self._edge(k + 1):
                    self.chosen.emit(one.firing)
