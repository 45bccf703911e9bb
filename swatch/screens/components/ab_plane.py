"""The a*b* plane, second to the swatches: target, answers with their doubt, own tiles, what can be reached."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QPointF, QRect, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPen, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from swatch.desk.colours_on_screen import screen_colours
from swatch.desk.plane import Plane, ellipse, labels_that_fit, span
from swatch.screens.components.light_bar import SIDE, LightBar, chosen_ink
from swatch.screens.components.painting import Painted, text_width, write
from swatch.screens.components.plot_library import plot_library
from swatch.screens.style import CAPTION, UNIT, look
from swatch.terms.colour import Lab
from swatch.wording.answers import lab_in_words
from swatch.wording.text import _, say

LEFT_AXIS, BOTTOM_AXIS = 32, 20


def _figures(values: list[float], scale: float, spacing: float) -> list[str]:
    """Whole numbers with a true minus, as everywhere in the window."""
    return [f"{value * scale:.0f}".replace("-", "−") for value in values]


class AbPlane(Painted):
    """The plane with its bar of lightness. The drawing library is loaded after the first paint, not before.

    Left and Right go through the answers in rank order; a click chooses; a resting pointer names.
    """

    chosen = Signal(int)  # rank

    def __init__(self, plane: Plane | None = None, *, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.plane, self.rank = plane or Plane(), None  # type: Plane, int | None
        self._plot: Any = None
        self._answers: list[Any] = []
        self._labels: list[tuple[int, Any]] = []
        self._due = False
        self._edge: list[Any] = []
        self._own: tuple[tuple[Lab, ...], Any] = ((), None)
        self.bar = LightBar()
        self._room = QWidget()
        self._room.setFixedSize(LEFT_AXIS + SIDE, SIDE + BOTTOM_AXIS)
        self._inner = QVBoxLayout(self._room)
        self._inner.setContentsMargins(0, 0, 0, 0)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 24, 0, 20)
        row.setSpacing(UNIT)
        row.addWidget(self._room, 0, Qt.AlignmentFlag.AlignTop)
        row.addStretch(1)
        self.bar.setParent(self)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        look.changed.connect(self._draw_anew)
        screen_colours().changed.connect(self._draw_anew)
        self._speak()

    def show_plane(self, plane: Plane, rank: int | None = None) -> None:
        """Show another target and its answers."""
        if (plane, rank) != (self.plane, self.rank):
            self.plane, self.rank = plane, rank
            self.bar.show_plane(plane, rank)
            self._speak()
            if not self._due:
                self._due = True
                QTimer.singleShot(
                    0, self, self._draw
                )  # a turn of its own: the plot takes longer than all the rest

    def choose(self, rank: int | None) -> None:
        """Let one answer stand out; the caller's choice is not told back."""
        if rank != self.rank:
            self.rank = rank
            self.bar.show_plane(self.plane, rank)
            self._draw_answers()
            self._speak()

    def wanted_size(self) -> QSize:
        """Axes, square, bar."""
        return QSize(LEFT_AXIS + SIDE + UNIT + self.bar.wanted_size().width(), SIDE + BOTTOM_AXIS + 44)

    def paint(self, painter: QPainter) -> None:
        """The names of the axes; the plot is a child."""
        ink = look.bench_ink
        write(painter, QRect(LEFT_AXIS - 20, 2, 40, 20), "b*", ink)
        below = QRect(LEFT_AXIS, self.height() - 22, SIDE, 20)
        words = say(_("a*   greener ← → redder"))
        write(painter, below, words, ink, align=Qt.AlignmentFlag.AlignHCenter)

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802
        """Load the plot once the window stands."""
        super().showEvent(event)
        size = self.bar.wanted_size()
        self.bar.setGeometry(self.width() - size.width(), 0, size.width(), size.height())
        self.bar.show()
        if self._plot is None:
            plot_library().ready.connect(self.build, Qt.ConnectionType.UniqueConnection)
            plot_library().load()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Left and Right go through the answers."""
        ranks = sorted(point.rank for point in self.plane.answers)
        if event.key() in (Qt.Key.Key_Left, Qt.Key.Key_Right) and ranks:
            by = 1 if event.key() == Qt.Key.Key_Right else -1
            at = ranks.index(self.rank) + by if self.rank in ranks else 0
            self._choose_and_tell(ranks[min(max(at, 0), len(ranks) - 1)])
        else:
            super().keyPressEvent(event)

    def build(self) -> None:
        """Make the plot now; called by itself when the library is there."""
        if self._plot is not None:
            return
        import pyqtgraph

        pyqtgraph.setConfigOptions(antialias=True)
        plot = pyqtgraph.PlotWidget(enableMenu=False)
        plot.setFixedSize(self._room.size())
        plot.setFrameShape(plot.Shape.NoFrame)
        plot.hideButtons()
        plot.setAspectLocked(True)
        plot.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        item = plot.getPlotItem()
        item.setContentsMargins(0, 0, 0, 0)
        item.getAxis("left").setWidth(LEFT_AXIS)
        item.getAxis("bottom").setHeight(BOTTOM_AXIS)
        item.getViewBox().setDefaultPadding(0.0)
        for side in ("left", "bottom"):
            item.getAxis(side).tickStrings = _figures
        plot.scene().sigMouseMoved.connect(self._name_point)
        plot.scene().sigMouseClicked.connect(self._clicked)
        item.getViewBox().sigRangeChanged.connect(self._place_labels)
        self._plot = plot
        self._inner.addWidget(plot)
        # In a turn of its own, so that neither making nor drawing holds the window up for long.
        QTimer.singleShot(0, self, self._draw_anew)

    def _draw_anew(self) -> None:
        """Draw everything in the colours and inks of now."""
        if self._plot is None:
            return
        import pyqtgraph as pg

        plot, ink = self._plot, look.bench_ink
        plot.setBackground(look.bench)
        for side in ("left", "bottom"):
            axis = plot.getAxis(side)
            axis.setPen(pg.mkPen(ink, width=1))
            axis.setTextPen(ink)
            axis.setTickFont(look.font(CAPTION))
            axis.setStyle(tickLength=3, tickTextOffset=2, maxTickLevel=0)
        plot.getPlotItem().showGrid(x=True, y=True, alpha=0.12)
        self._take(self._own[1])
        self._own = (), None
        self._draw()

    def _draw(self) -> None:
        self._due = False
        self.bar.show_plane(self.plane, self.rank)
        if self._plot is None:
            return
        import pyqtgraph as pg

        self._draw_own()
        self._take(*self._edge)
        self._edge = []
        if len(self.plane.reachable) > 2:
            edge = [*self.plane.reachable, self.plane.reachable[0]]
            pen = QPen(look.bench_ink, 1.5, Qt.PenStyle.DashLine)
            pen.setCosmetic(True)
            self._edge = [pg.PlotCurveItem([a for a, _b in edge], [b for _a, b in edge], pen=pen)]
            self._plot.addItem(self._edge[0])
        (a1, a2), (b1, b2) = span(self.plane)
        self._plot.setRange(xRange=(a1, a2), yRange=(b1, b2), padding=0)
        self._draw_answers()

    def _draw_own(self) -> None:
        """The studio's own tiles; they stay while only the answers change."""
        own = tuple(self.plane.own_drawn())
        if own == self._own[0]:
            return
        import pyqtgraph as pg

        self._take(self._own[1])
        screen_colours().prepare(list(own))
        brushes = [pg.mkBrush(screen_colours().shown(lab).colour) for lab in own]
        spots = {"x": [lab.a for lab in own], "y": [lab.b for lab in own]}
        self._own = own, pg.ScatterPlotItem(**spots, size=4, pen=None, brush=brushes)
        self._plot.addItem(self._own[1])
        self._own[1].setZValue(-1)

    def _take(self, *items: Any) -> None:
        for item in items:
            if item is not None:
                self._plot.removeItem(item)

    def _draw_answers(self) -> None:
        if self._plot is None:
            return
        import pyqtgraph as pg

        self._take(*self._answers)
        self._answers, self._labels = [], []
        ink = look.bench_ink
        ordered = sorted(self.plane.answers, key=lambda one: one.rank == self.rank)
        pens = [
            pg.mkPen(chosen_ink(), width=2.5) if point.rank == self.rank else pg.mkPen(ink, width=0.8)
            for point in ordered
        ]
        for point, pen in zip(ordered, pens, strict=True):
            around = ellipse(point.lab, point.covariance)
            self._add(pg.PlotCurveItem(around[:, 0], around[:, 1], pen=pen))
        sizes = [12 if point.rank == self.rank else 9 for point in ordered]
        self._add_spots(pg, [point.lab for point in ordered], "o", sizes, pens)
        if self.plane.target is not None:
            self._add_spots(pg, [self.plane.target], "s", [12], [pg.mkPen(ink, width=2)])
        for point in self.plane.answers:
            text = pg.TextItem(str(point.rank), color=ink, anchor=(0, 0))
            text.setFont(look.font(CAPTION))
            self._add(text)
            self._labels.append((point.rank, text))
        self._place_labels()

    def _add_spots(self, pg: Any, labs: list[Lab], symbol: str, sizes: list[int], pens: list[Any]) -> None:
        """One item for all: each item costs the scene more than its spots do."""
        brushes = [pg.mkBrush(screen_colours().shown(lab).colour) for lab in labs]
        a, b = [lab.a for lab in labs], [lab.b for lab in labs]
        self._add(pg.ScatterPlotItem(a, b, symbol=symbol, size=sizes, pen=pens, brush=brushes))

    def _add(self, item: Any) -> None:
        self._plot.addItem(item, ignoreBounds=True)
        self._answers.append(item)

    def _place_labels(self) -> None:
        if self._plot is None or not self._labels:
            return
        box = self._plot.getPlotItem().getViewBox()
        (a1, a2), (b1, b2) = box.viewRange()
        wide, high = box.width(), box.height()
        if not wide or not high or a1 == a2 or b1 == b2:
            return

        def on_screen(lab: Lab) -> tuple[float, float]:
            return (lab.a - a1) / (a2 - a1) * wide, (b2 - lab.b) / (b2 - b1) * high

        sizes = [(p.rank, on_screen(p.lab), (text_width(str(p.rank)) + 2.0, 15.0)) for p in self.plane.answers]
        if self.plane.target is not None:
            # The target has no label; its square is kept clear like a disc.
            sizes.append((-1, on_screen(self.plane.target), (wide, high)))
        found = labels_that_fit(sizes, self.rank, (wide, high))
        for rank, text in self._labels:
            text.setVisible(rank in found)
            if rank in found:
                x, y = found[rank]
                # A text item keeps an inner margin of its own; it is taken back here.
                text.setPos(a1 + (x - 3) / wide * (a2 - a1), b2 - (y - 4) / high * (b2 - b1))

    def _nearest(self, at: Any) -> int | None:
        box = self._plot.getPlotItem().getViewBox()
        best, found = 12.0**2, None
        for point in self.plane.answers:
            spot = box.mapViewToScene(QPointF(point.lab.a, point.lab.b))
            away = (spot.x() - at.x()) ** 2 + (spot.y() - at.y()) ** 2
            if away < best:
                best, found = away, point.rank
        return found

    def _name_point(self, at: Any) -> None:
        rank = self._nearest(at)
        point = next((point for point in self.plane.answers if point.rank == rank), None)
        self._plot.setToolTip(f"{point.rank}  {point.name}\n{lab_in_words(point.lab)}" if point else "")

    def _clicked(self, event: Any) -> None:
        rank = self._nearest(event.scenePos())
        if rank is not None:
            self._choose_and_tell(rank)

    def _choose_and_tell(self, rank: int) -> None:
        if rank != self.rank:
            self.choose(rank)
            self.chosen.emit(rank)

    def _speak(self) -> None:
        self.setAccessibleName(say(_("a*b* plane with lightness")))
        self.setAccessibleDescription(self.plane.spoken(self.rank))
