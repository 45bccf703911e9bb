"""The drawing library, loaded beside the window's own work, and how plots are penned."""

from __future__ import annotations

import importlib
import threading
from functools import cache

from PySide6.QtCore import QObject, QTimer, Signal


class PlotLibrary(QObject):
    """Loads the drawing library beside the window's own work: it takes most of a second."""

    ready = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._begun = self._loaded = False

    def load(self) -> None:
        """Begin to load; `ready` is told once it is there, also where it was there before."""
        if self._loaded:
            QTimer.singleShot(0, self.ready.emit)
        elif not self._begun:  # who asks meanwhile hears with the others
            self._begun = True
            threading.Thread(target=self._load, name="load plot", daemon=True).start()

    def _load(self) -> None:
        importlib.import_module("pyqtgraph")
        self._loaded = True
        self.ready.emit()


@cache
def plot_library() -> PlotLibrary:
    """The one loader."""
    return PlotLibrary()


def load_plot() -> None:
    """Load the drawing library before a plot is seen."""
    plot_library().load()
