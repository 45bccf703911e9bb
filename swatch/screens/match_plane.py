"""The plane of a* and b* beside the answers."""

from __future__ import annotations

from PySide6.QtCore import Qt

from swatch.desk.matching import Matching
from swatch.screens.components.ab_plane import AbPlane
from swatch.screens.seen import Seen, when_seen
from swatch.screens.style import UNIT
from swatch.screens.widgets import Bench, column


class MatchPlane(Bench, Seen):
    """Bench with the plot on it, following the desk; choosing there chooses the row."""

    def __init__(self, matching: Matching) -> None:
        super().__init__()
        self._matching = matching
        self.plot = AbPlane()
        inside = column(margins=UNIT, spacing=0)
        inside.addWidget(self.plot, 0, Qt.AlignmentFlag.AlignHCenter)
        self.setLayout(inside)
        self.plot.chosen.connect(lambda rank: matching.choose(rank - 1))
        matching.found_changed.connect(self._found)
        matching.chosen_changed.connect(self._chosen)
        self._found()

    @when_seen
    def _found(self) -> None:
        chosen = self._matching.chosen_row + 1 if self._matching.chosen is not None else None
        self.plot.show_plane(self._matching.plane(), chosen)

    @when_seen
    def _chosen(self) -> None:
        if self._matching.chosen is not None:
            self.plot.choose(self._matching.chosen_row + 1)
