"""A firing's log: temperature over time, and beside it how much of the heat-work is done."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QPen

from swatch.screens.components.plotted import Plotted, true_minus
from swatch.screens.style import CAPTION, look
from swatch.terms.firing_heat import FiringHeat
from swatch.wording.text import _, say
from swatch.wording.units import heat_figure, heat_in_words, heat_unit

HEIGHT = 216


class LogChart(Plotted):
    """Temperature as a line, heat-work dashed from nothing to all, the end of the soak as an upright line."""

    def __init__(self) -> None:
        super().__init__(HEIGHT)
        self.heat: FiringHeat | None = None

    def show_heat(self, heat: FiringHeat | None) -> None:
        """Show another firing's log."""
        if heat != self.heat:
            self.heat = heat
            self.changed()

    def spoken(self) -> tuple[str, str]:
        """Peak and length."""
        name = say(_("Log: temperature and heat-work over time"))
        if self.heat is None or self.heat.logged is None:
            return name, ""
        hours = self.heat.minutes[-1] / 60
        text = say(_("{hours:.1f} hours, peak {peak}.")).format(
            hours=hours, peak=heat_in_words(self.heat.logged.peak_c)
        )
        return name, text

    def draw(self, pg: Any) -> None:
        """The two lines, and where the soak ends."""
        heat = self.heat
        if heat is None or heat.logged is None:
            return
        ink, quiet = look.colour("ink"), look.colour("quiet")
        hours = [minutes / 60 for minutes in heat.minutes]
        degrees = [heat_figure(celsius) for celsius in heat.celsius]
        top = max(degrees)
        self.plot.setRange(xRange=(0.0, hours[-1]), yRange=(0.0, 1.12 * top), padding=0)
        for side in ("left", "bottom"):
            self.plot.getAxis(side).tickStrings = true_minus
        self.put(pg.PlotCurveItem(hours, degrees, pen=pg.mkPen(ink, width=self.pen_width(2))))
        pen = QPen(quiet, self.pen_width(1.5), Qt.PenStyle.DashLine)
        pen.setCosmetic(True)
        self.put(pg.PlotCurveItem(hours, [share * top for share in heat.done], pen=pen))
        ends = heat.logged.soak_ends_min / 60
        self.put(pg.InfiniteLine(ends, angle=90, pen=pg.mkPen(look.colour("edge"), width=self.pen_width(1))))
        late = ends > 0.6 * hours[-1]
        words = say(_("hours; line: {unit}; dashed: heat-work, all done at the soak's end"))
        self._label(pg, words.format(unit=heat_unit()), 0.0, 1.12 * top, (0, 0))
        self._label(pg, say(_("soak ends")), ends, 0.04 * top, (1, 1) if late else (0, 1))

    def _label(self, pg: Any, text: str, x: float, y: float, anchor: tuple[float, float]) -> None:
        label = pg.TextItem(text, color=look.colour("quiet"), anchor=anchor)
        label.setFont(look.font(CAPTION))
        self.put(label)
        label.setPos(x, y)
