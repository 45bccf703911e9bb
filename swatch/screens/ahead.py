"""Places are made before they are opened, one at a time, while the window rests."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal

from swatch.screens.places import PLACES
from swatch.screens.seen import Seen

if TYPE_CHECKING:
    from swatch.screens.main_window import MainWindow

REST_MS = 600
"""So long the window must have shown a studio before the first place is made."""
BETWEEN_MS = 60


class Ahead(QObject):
    """Makes one place a turn, fills it in the next, and last loads what the plot needs, in a thread."""

    done = Signal()

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._window = window
        self._left = [*(code for code, _word in PLACES), "measure"]
        self._filling = ""
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.timeout.connect(self._go_on)
        window.desks.studio.settled.connect(self._begin)

    def _begin(self) -> None:
        if self._window.desks.studio.studio is not None:
            self._timer.start(REST_MS)

    def _go_on(self) -> None:
        if self._window.desks.studio.studio is None:
            return
        if self._filling:
            place, self._filling = self._window.place(self._filling), ""
            for one in (place, *place.findChildren(Seen)):
                one.catch_up()
        elif self._left:
            self._filling = self._left.pop(0)
            self._window.place(self._filling)
        else:
            from swatch.screens.components.plot_library import load_plot

            load_plot()
            self.done.emit()
            return
        self._timer.start(BETWEEN_MS)
