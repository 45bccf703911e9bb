"""The plane of a* and b* beside the answers; drawn once the window has been seen."""

from __future__ import annotations

from PySide6.QtCore import QSize

from swatch.desk.matching import Matching
from swatch.screens.widgets import Bench

HEIGHT = 288


class MatchPlane(Bench):
    """Bench with the plot on it."""

    def __init__(self, matching: Matching) -> None:
        super().__init__()
        self._matching = matching
        self.setFixedHeight(HEIGHT)

    def sizeHint(self) -> QSize:  # noqa: N802
        """As high as the plot."""
        return QSize(296, HEIGHT)

    def wake(self) -> None:
        """Bring the plot in."""
