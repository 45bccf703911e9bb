"""A studio of one's own, from nothing: its body, its usual programme, its jars; and the first board to fire."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from pathlib import Path

from PySide6.QtCore import QObject, QStandardPaths, Signal

from swatch.desk.firings import number_typed
from swatch.desk.jar_list import by_what_is_said, read_jars
from swatch.desk.opening import OpenStudio
from swatch.library.studio import Studio
from swatch.terms.boards import Board
from swatch.terms.cone import Cone, parse_cone
from swatch.terms.materials import Firing, Material
from swatch.terms.problems import StudioProblem
from swatch.wording.text import _, say
from swatch.wording.units import celsius_of, celsius_per_h_of
from swatch.work.first_board import cone_of_programme, darkest, first_board

FIRST_FIRING = "F-1"
USUAL_RATE, USUAL_HOLD = 60.0, 0.0
"""Taken where only a peak is said: the rate cone tables are made for, no hold."""


@dataclass(frozen=True, slots=True)
class Beginning:
    """What has been said so far."""

    body: str = ""
    cone: str = ""
    peak: str = ""
    rate: str = ""
    hold: str = ""
    jars: str = ""
    folder: Path = field(default_factory=lambda: free_folder())


def free_folder() -> Path:
    """A folder for the new studio among the user's documents that is not there yet."""
    documents = Path(
        QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation) or Path.home()
    )
    name = say(_("My studio"))
    found = documents / name
    n = 2
    while found.exists():
        found = documents / f"{name} {n}"
        n += 1
    return found


class Starting(QObject):
    """Takes the few things down that a first board needs, and makes studio and board of them."""

    changed = Signal()
    made = Signal(str)
    """The name of the board that was planned."""

    def __init__(self, studio: OpenStudio) -> None:
        super().__init__(studio)
        self._studio = studio
        self.said = Beginning()

    def begin(self) -> None:
        """Start from nothing."""
        self.said = Beginning()
        self.changed.emit()

    def say(self, **changes: object) -> None:
        """Take one thing down."""
        self.said = replace(self.said, **changes)  # type: ignore[arg-type]
        self.changed.emit()

    @property
    def jars(self) -> list[Material]:
        """The jars as read from the list."""
        return read_jars(self.said.jars)

    def bad_cone(self) -> StudioProblem | None:
        """What is wrong with the cone as typed."""
        try:
            self._typed_cone()
        except StudioProblem as problem:
            return problem
        return None

    def _typed_cone(self) -> Cone | None:
        return parse_cone(self.said.cone) if self.said.cone.strip() else None

    def firing(self) -> Firing | None:
        """The usual programme; None while neither a cone nor a peak is said."""
        if self.bad_cone() is not None:
            return None
        cone, said = self._typed_cone(), self.said
        peak, rate, hold = (number_typed(text) for text in (said.peak, said.rate, said.hold))
        peak = celsius_of(peak) if peak is not None else None
        rate = celsius_per_h_of(rate) if rate is not None else None
        if cone is None and peak is not None and 500.0 <= peak <= 1450.0:
            cone = cone_of_programme(peak, rate if rate and rate > 0 else USUAL_RATE, max(hold or USUAL_HOLD, 0.0))
        if cone is None:
            return None
        return Firing(FIRST_FIRING, cone_asked=cone, peak_c=peak, rate_c_per_h=rate, hold_min=hold)

    def lacks(self) -> str:
        """What is still missing: a code, or empty."""
        if not self.said.body.strip():
            return "body"
        if self.firing() is None:
            return "programme"
        return "" if self.jars else "jars"

    def board(self) -> Board | None:
        """The board as it would be planned now."""
        firing = self.firing()
        if self.lacks() or firing is None:
            return None
        jars = self.jars
        body = " ".join(self.said.body.split())
        return first_board(jars, body, firing.cone_asked, firing.name, darkest(jars))

    def make(self) -> bool:
        """Make the studio with its jars, its programme and the board; False where something stood against it."""
        board, firing, jars = self.board(), self.firing(), self.jars
        if board is None or firing is None or not self._studio.create(self.said.folder):
            return False

        def put(studio: Studio) -> bool:
            for values, given in by_what_is_said(jars):
                studio.put_materials(values, given)
            studio.put_firings([firing], frozenset({"cone_asked", "peak_c", "rate_c_per_h", "hold_min"}))
            studio.plan_board(board)
            return True

        if not self._studio.do(put):
            return False
        self.made.emit(board.name)
        return True
