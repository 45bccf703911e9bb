"""What every plot beside the swatches has in common: made when first seen, penned anew for each scheme."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QKeyEvent, QShowEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from swatch.screens.components.plot_library import plot_library
from swatch.screens.style import CAPTION, look

LEFT_AXIS, BOTTOM_AXIS = 56, 24


class Plotted(QWidget):
    """A plot on the ground of its panel; the drawing library is loaded after the first paint, not before.

    Left and Right go through its points; subclasses give `draw`, `spoken`, `step` and may give `clicked`.
    """

    def __init__(self, height: int) -> None:
        super().__init__()
        self.plot: Any = None
        self._items: list[Any] = []
        self._due = False
        self.setFixedHeight(height)
        self._inner = QVBoxLayout(self)
        self._inner.setContentsMargins(2, 2, 2, 2)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        look.changed.connect(self.draw_anew)

    def draw(self, pg: Any) -> None:
        """Draw everything with the library `pg`; `put` adds an item."""
        raise NotImplementedError

    def spoken(self) -> tuple[str, str]:
        """The plot's name, and what it shows, in words."""
        raise NotImplementedError

    def step(self, by: int) -> None:
        """Go to the next point, or the one before."""

    def clicked(self, x: float) -> None:
        """The plot was pressed at `x`."""

    def put(self, item: Any) -> None:
        """Add an item of the plot."""
        self.plot.addItem(item, ignoreBounds=True)
        self._items.append(item)

    def pen_width(self, pixels: float) -> float:
        """The width of a pen; the library's pens know nothing of the screen's scale."""
        return pixels * self.devicePixelRatioF()

    def changed(self) -> None:
        """What is shown is another now."""
        name, words = self.spoken()
        self.setAccessibleName(name)
        self.setAccessibleDescription(words)
        if not self._due:
            self._due = True
            QTimer.singleShot(0, self, self._draw)  # a turn of its own: the plot takes longer than all the rest

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802
        """Load the library once the window stands."""
        super().showEvent(event)
        if self.plot is None:
            plot_library().ready.connect(self.build, Qt.ConnectionType.UniqueConnection)
            plot_library().load()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Left and Right go through the points."""
        if event.key() in (Qt.Key.Key_Left, Qt.Key.Key_Right):
            self.step(1 if event.key() == Qt.Key.Key_Right else -1)
        else:
            super().keyPressEvent(event)

    def build(self) -> None:
        """Make the plot now; called by itself when the library is there."""
        if self.plot is not None:
            return
        import pyqtgraph

        pyqtgraph.setConfigOptions(antialias=True)
        plot = pyqtgraph.PlotWidget(enableMenu=False)
        plot.setFrameShape(plot.Shape.NoFrame)
        plot.hideButtons()
        plot.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        plot.setMouseEnabled(False, False)
        item = plot.getPlotItem()
        item.setContentsMargins(0, 0, 0, 0)
        item.getAxis("left").setWidth(LEFT_AXIS)
        item.getAxis("bottom").setHeight(BOTTOM_AXIS)
        item.getViewBox().setDefaultPadding(0.0)
        plot.scene().sigMouseClicked.connect(self._pressed)
        self.plot = plot
        self._inner.addWidget(plot)
        QTimer.singleShot(0, self, self.draw_anew)

    def draw_anew(self) -> None:
        """Pen everything in the inks of now."""
        if self.plot is None:
            return
        import pyqtgraph as pg

        self.plot.setBackground(look.colour("raised"))
        for side in ("left", "bottom"):
            axis = self.plot.getAxis(side)
            axis.setPen(pg.mkPen(look.colour("edge"), width=self.pen_width(1)))
            axis.setTextPen(look.colour("ink"))
            axis.setTickFont(look.font(CAPTION))
            axis.setStyle(tickLength=3, tickTextOffset=4, maxTickLevel=0)
        self.plot.getPlotItem().showGrid(x=False, y=True, alpha=0.15)
        self._draw()

    def _draw(self) -> None:
        self._due = False
        if self.plot is None:
            return
        import pyqtgraph as pg

        for item in self._items:
            self.plot.removeItem(item)
        self._items = []
        self.draw(pg)

    def _pressed(self, event: Any) -> None:
        box = self.plot.getPlotItem().getViewBox()
        if box.sceneBoundingRect().contains(event.scenePos()):
            self.clicked(float(box.mapSceneToView(event.scenePos()).x()))


def true_minus(values: list[float], scale: float, spacing: float) -> list[str]:
    """Figures of an axis with a true minus, as everywhere in the window."""
    decimals = 0 if spacing * scale >= 1 else 1 if spacing * scale >= 0.1 else 2
    return [f"{value * scale:.{decimals}f}".replace("-", "−") for value in values]
