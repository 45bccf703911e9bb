"""What came back of a board: each tile as fired beside what was predicted, and whether the target is hit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QObject, Signal

from swatch.desk.matching import Matching
from swatch.desk.opening import OpenStudio
from swatch.desk.printing import Printing
from swatch.desk.trusting import PairRows
from swatch.science.colour_math import delta_e_2000
from swatch.terms.answers import SaidAndFired
from swatch.terms.boards import Board
from swatch.terms.colour import Lab
from swatch.terms.evidence import Stage, ZoneReading
from swatch.terms.layering import fold_name

WITHIN_95 = 7.815
"""Squared distance that holds 95 % of tiles, as covariances are scaled."""
PLANNED = "planned tile"


@dataclass(frozen=True, slots=True)
class Back:
    """One zone that came back; ``off`` is how far it is from the target, None without one."""

    tile: str
    zone: str
    said: Lab
    fired: Lab
    away: float
    as_said: bool
    off: float | None


def came_back(board: Board, readings: Sequence[ZoneReading]) -> tuple[Back, ...]:
    """Zones of a board that were predicted and are fired, nearest to the target first, else farthest astray."""
    fired = {(fold_name(one.tile), fold_name(one.zone)): one.lab for one in readings if one.stage is Stage.FIRED}
    out: list[Back] = []
    for tile in board.tiles:
        for zone in tile.zones:
            lab = fired.get((fold_name(tile.tile), fold_name(zone.zone)))
            if lab is None or zone.said is None or zone.covariance is None:
                continue
            apart = np.array(lab, dtype=float) - np.array(zone.said, dtype=float)
            distance = float(apart @ np.linalg.solve(np.array(zone.covariance.rows()), apart))
            off = float(delta_e_2000(lab, board.target.lab)) if board.target is not None else None
            away = float(delta_e_2000(lab, zone.said))
            out.append(Back(tile.tile, zone.zone, zone.said, lab, away, distance <= WITHIN_95, off))
    return tuple(sorted(out, key=lambda one: one.off if one.off is not None else -one.away))


class CameBack(QObject):
    """The board whose results are looked at."""

    changed = Signal()

    def __init__(self, studio: OpenStudio, printing: Printing, matching: Matching) -> None:
        super().__init__(studio)
        self._studio, self._printing, self._matching = studio, printing, matching
        self.name = ""
        self.rows = PairRows(self)
        self.backs: tuple[Back, ...] = ()
        studio.opened.connect(lambda: self.choose(""))
        studio.changed.connect(self._lay)

    @property
    def board(self) -> Board | None:
        """The board."""
        return next((one for one in self._printing.boards() if one.name == self.name), None)

    def choose(self, name: str) -> None:
        """Look at another board."""
        self.name = name
        self._lay()

    @property
    def hits(self) -> tuple[Back, ...]:
        """Tiles within the tolerance of the target."""
        board = self.board
        if board is None or board.target is None:
            return ()
        return tuple(one for one in self.backs if one.off is not None and one.off <= board.target.tolerance)

    def look_again(self) -> bool:
        """Look for the target once more, now that more is known; False where the board had none."""
        board = self.board
        if board is None or board.target is None:
            return False
        target = board.target
        origin = target.source or board.name
        self._matching.want_colour(
            target.lab, origin, body=board.body, cone=board.cone, tolerance=target.tolerance
        )
        return True

    def _lay(self) -> None:
        board = self.board
        self.backs = came_back(board, self._studio.evidence.readings) if board is not None else ()
        self.rows.show(
            [SaidAndFired(PLANNED, one.tile, one.zone, one.said, one.fired, one.away) for one in self.backs]
        )
        self.changed.emit()
