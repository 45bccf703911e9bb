"""One chart over firings: a column a firing, the limits, and a sign that tells what was said of each load."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QPen

from swatch.desk.firing_charts import FILLED, OPEN, Chart
from swatch.screens.components.plotted import LEFT_AXIS, Plotted, true_minus
from swatch.screens.style import CAPTION, look
from swatch.wording.text import _, say

HEIGHT = 176
COLUMN = 240
"""A firing's column is no wider than this, pixels, so that few firings stay together."""


class FiringsChart(Plotted):
    """A point a firing; a click, Left or Right chooses one."""

    chosen = Signal(str)

    def __init__(self) -> None:
        super().__init__(HEIGHT)
        self.chart: Chart | None = None
        self.firing = ""

    def show_chart(self, chart: Chart | None, firing: str) -> None:
        """Show another chart, or another firing chosen."""
        if (chart, firing) != (self.chart, self.firing):
            self.chart, self.firing = chart, firing
            if chart is not None:
                self.setMaximumWidth(wide(len(chart.firings)))
            self.changed()

    def spoken(self) -> tuple[str, str]:
        """Title and figures."""
        if self.chart is None:
            return say(_("Chart over firings")), ""
        name = say(_("Chart over firings: {what}")).format(what=self.chart.title)
        return name, self.chart.spoken()

    def step(self, by: int) -> None:
        """The next firing, or the one before."""
        if self.chart is None or not self.chart.firings:
            return
        names = self.chart.firings
        at = names.index(self.firing) + by if self.firing in names else len(names) - 1
        self.chosen.emit(names[min(max(at, 0), len(names) - 1)])

    def clicked(self, x: float) -> None:
        """The firing of the column pressed."""
        if self.chart is not None and 0 <= round(x) < len(self.chart.firings):
            self.chosen.emit(self.chart.firings[round(x)])

    def sizeHint(self) -> QSize:  # noqa: N802
        """As wide as the columns may be."""
        return QSize(wide(len(self.chart.firings) if self.chart else 4), HEIGHT)

    def draw(self, pg: Any) -> None:
        """Column of the chosen firing, limits, line, points."""
        chart = self.chart
        if chart is None or not chart.points:
            return
        n = len(chart.points)
        every = [*chart.points, *chart.upper, *chart.lower, 0.0]
        low, high = min(every), max(every)
        room = 0.24 * max(high - low, 1e-6)
        low = low - room if low < 0 else 0.0
        self.plot.setRange(xRange=(-0.5, n - 0.5), yRange=(low, high + room), padding=0)
        axis = self.plot.getAxis("left")
        axis.tickStrings = true_minus
        every_kth = 1 + n // 14
        self.plot.getAxis("bottom").setTicks([
            [(k, name) for k, name in enumerate(chart.firings) if k % every_kth == 0 or name == self.firing]
        ])  # fmt: skip
        ink, quiet = look.colour("ink"), look.colour("quiet")
        if self.firing in chart.firings:
            at = chart.firings.index(self.firing)
            self.put(pg.LinearRegionItem(
                (at - 0.5, at + 0.5), movable=False, brush=pg.mkBrush(look.colour("panel")), pen=pg.mkPen(None)
            ))  # fmt: skip
            self._items[-1].setZValue(-10)
        for limits in (chart.upper, chart.lower):
            if limits:
                self._limit(pg, limits)
        self.put(
            pg.PlotCurveItem(list(range(n)), list(chart.points), pen=pg.mkPen(quiet, width=self.pen_width(1)))
        )
        brushes = [pg.mkBrush(ink if sign == FILLED else look.colour("raised")) for sign in chart.signs]
        symbols = ["d" if sign in (FILLED, OPEN) else "o" for sign in chart.signs]
        sizes = [13 if sign in (FILLED, OPEN) else 10 for sign in chart.signs]
        self.put(pg.ScatterPlotItem(
            list(range(n)), list(chart.points),
            symbol=symbols, size=sizes, pen=pg.mkPen(ink, width=self.pen_width(1.5)), brush=brushes,
        ))  # fmt: skip
        if self.firing in chart.firings:
            at = chart.firings.index(self.firing)
            text = f"{chart.points[at]:.{chart.decimals}f}".replace("-", "−")
            label = pg.TextItem(text, color=ink, anchor=(0.5, 1.25))
            label.setFont(look.font(CAPTION, strong=True))
            self.put(label)
            label.setPos(at, chart.points[at])

    def _limit(self, pg: Any, limits: tuple[float, ...]) -> None:
        """Each firing has its own limit, since it has its own number of pieces: steps, dashed."""
        pen = QPen(look.colour("ink"), self.pen_width(1.5), Qt.PenStyle.DashLine)
        pen.setCosmetic(True)
        x = [edge for k in range(len(limits)) for edge in (k - 0.5, k + 0.5)]
        self.put(pg.PlotCurveItem(x, [limit for limit in limits for _ in (0, 1)], pen=pen))
        label = pg.TextItem(say(_("limit")), color=look.colour("quiet"), anchor=(0, 1 if limits[0] >= 0 else 0))
        label.setFont(look.font(CAPTION))
        self.put(label)
        label.setPos(-0.5, limits[0])


def wide(firings: int) -> int:
    """How wide a chart or strip of so many firings may be, pixels."""
    return LEFT_AXIS + 4 + COLUMN * max(firings, 1)
