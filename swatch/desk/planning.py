"""The tiles to fire next: planned for a target, a stand-in, a material or to learn, then kept and printed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QAbstractListModel, QModelIndex, QObject, QPersistentModelIndex, Qt, Signal

from swatch.desk.answer_rows import ROW_ROLE
from swatch.desk.colours_on_screen import cannot_show, screen_colours
from swatch.desk.kiln_draws import draws_of
from swatch.desk.shelf import SHELF, Laid, lay_out
from swatch.terms.boards import BoardTarget
from swatch.terms.layering import fold_name
from swatch.terms.next_tests import NextAnswer, NextRequest, NextTest
from swatch.terms.problems import StudioProblem
from swatch.terms.sheet import Size
from swatch.wording.answers import (
    chance_in_words,
    difference_in_words,
    evidence_in_words,
    lab_in_words,
    layers_in_words,
)
from swatch.wording.next_tests import information_in_words, why_in_words
from swatch.wording.problems import notice_in_words
from swatch.wording.text import _, say

if TYPE_CHECKING:
    from swatch.desk.jobs import Job, Jobs
    from swatch.desk.opening import OpenStudio
    from swatch.desk.printing import Printing
    from swatch.desk.sections import Section
    from swatch.library.studio import Studio
    from swatch.terms.boards import Board, BoardZone
    from swatch.terms.colour import Lab

TILES, MOST_TILES = 6, 48
Index = QModelIndex | QPersistentModelIndex
_TOP = QModelIndex()


@dataclass(frozen=True, slots=True)
class PlannedRow:
    """One tile to fire: the slot of its sheet, its pencilled number, its layers, and why it is worth firing."""

    rank: int
    pencil: str
    name: str
    evidence: str
    caution: str
    lab: Lab
    draws: tuple[Lab, ...]
    section: Section
    target: Lab | None
    chance: float | None
    """To come within the tolerance; None without a target."""
    teaches: float | None
    """Share of the doubt that it takes away; None with a target."""
    adds: str

    def spoken(self) -> str:
        """The row as a screen reader says it."""
        parts = [
            say(_("Slot {n}, pencil {pencil}: {name}.")).format(n=self.rank, pencil=self.pencil, name=self.name)
        ]
        parts.append(lab_in_words(self.lab) + ".")
        parts += [difference_in_words(self.lab, self.target)] if self.target is not None else []
        if self.chance is not None:
            parts.append(say(_("Chance to hit: {chance}.")).format(chance=chance_in_words(self.chance)))
        if self.teaches is not None:
            parts.append(say(_("Takes {share} of the doubt.")).format(share=chance_in_words(self.teaches)))
        elif self.adds:
            parts.append(f"{self.adds}.")
        parts.append(f"{self.evidence}.")
        parts += [self.caution] if self.caution else []
        if not screen_colours().shown(self.lab).in_gamut:
            parts.append(cannot_show())
        return " ".join(parts)


@dataclass(frozen=True, slots=True)
class TestsWanted:
    """What tiles are to be planned for: the question, its name, and colours to be met by body and cone."""

    request: NextRequest
    origin: str
    targets: tuple[tuple[str, Any, Lab], ...] = ()


class PlannedRows(QAbstractListModel):
    """The tiles of a plan, in the order of their slots."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._rows: tuple[PlannedRow, ...] = ()

    def show(self, rows: Sequence[PlannedRow]) -> None:
        """Put another plan in place of the last."""
        self.beginResetModel()
        self._rows = tuple(rows)
        screen_colours().prepare([lab for row in self._rows for lab in (row.lab, *row.draws)])
        self.endResetModel()

    def row(self, number: int) -> PlannedRow:
        """One tile."""
        return self._rows[number]

    def rowCount(self, parent: Index = _TOP) -> int:  # noqa: N802
        """How many tiles are planned."""
        return 0 if parent.isValid() else len(self._rows)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """The row itself, its name, or what is said of it."""
        if not index.isValid():
            return None
        row = self._rows[index.row()]
        if role == ROW_ROLE:
            return row
        if role == Qt.ItemDataRole.DisplayRole:
            return row.name
        spoken = (Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.AccessibleDescriptionRole)
        return row.spoken() if role in spoken else None


class Planning(QObject):
    """What is planned, for what, and whether it is on record."""

    changed = Signal()
    print_wanted = Signal(str)
    """The name of the board to print."""

    def __init__(self, studio: OpenStudio, jobs: Jobs, printing: Printing) -> None:
        super().__init__(studio)
        self._studio, self._jobs, self._printing = studio, jobs, printing
        self.rows = PlannedRows(self)
        self.request: NextRequest | None = None
        self.origin = ""
        self.targets: tuple[tuple[str, Any, Lab], ...] = ()
        self.answer: NextAnswer | None = None
        self.problem: StudioProblem | None = None
        self._job: Job | None = None
        self._keeping = False
        self._basis: tuple[object, ...] = ()
        studio.opened.connect(self._other_studio)
        studio.written.connect(self._stop_where_stale)
        studio.when_changed(self._records_changed)

    # What is planned

    def plan(self, request: NextRequest, origin: str, targets: Sequence[tuple[str, Any, Lab]] = ()) -> None:
        """Plan tiles for this; `origin` names what it is for, `targets` are colours by body and cone."""
        self.request, self.origin, self.targets = request, origin, tuple(targets)
        self._ask()

    def set_tiles(self, n: int) -> None:
        """Plan another number of tiles for the same."""
        if self.request is not None and n != self.request.tiles and not self.kept:
            self.request = replace(self.request, tiles=n)
            self._ask()

    @property
    def looking(self) -> bool:
        """Whether the plan is being made."""
        return self._job is not None

    @property
    def kept(self) -> bool:
        """Whether this very plan is on record."""
        if self.answer is None or not self.answer.boards:
            return False
        wanted = {fold_name(one.tile) for one in self.answer.tests}
        name = fold_name(self.answer.boards[0].name)
        boards = [board for board in self._printing.boards() if fold_name(board.name) == name]
        return any({fold_name(tile.tile) for tile in board.tiles} <= wanted and board.tiles for board in boards)

    def stop(self) -> None:
        """Stop planning."""
        if self._job is not None:
            self._job.stop()
        self.changed.emit()

    def _ask(self) -> None:
        folder = self._studio.folder
        if folder is None or self.request is None:
            return
        if self._job is not None:
            self._job.stop()
        self.answer, self.problem = None, None
        self.rows.show(())
        asked = {"folder": str(folder), "request": self.request, "in_haste": True}
        self._job = self._jobs.ask("next tests", asked)
        self._job.finished.connect(self._found)
        self._job.failed.connect(self._failed)
        self._job.ended.connect(self._over)
        self.changed.emit()

    def _found(self, answer: NextAnswer) -> None:
        self.answer, self._basis = answer, self._rests_on()
        places = {(one.prediction.question.body, one.prediction.question.cone) for one in answer.tests}
        rows: list[PlannedRow] = []
        seen: set[object] = set()
        for n, one in enumerate(answer.tests, 1):
            place = (one.prediction.question.body, one.prediction.question.cone)
            rows.append(self._row(n, one, first=place not in seen, many_places=len(places) > 1))
            seen.add(place)
        self.rows.show(rows)

    def _row(self, rank: int, test: NextTest, *, first: bool, many_places: bool) -> PlannedRow:
        said = test.prediction
        question = said.question
        if test.chance_within is None:
            adds = say(_("of the doubt"))
        elif first:
            adds = ""  # there is nothing yet that it could be nearer than
        else:
            adds = say(_("{de} nearer")).format(de=information_in_words(test))
        place = say(_("on {body}, cone {cone}")).format(body=question.body, cone=question.cone)
        why = "; ".join(filter(None, [why_in_words(test.why), place if many_places else ""]))
        caution = notice_in_words(said.cautions[0])[0] if said.cautions else ""
        return PlannedRow(
            rank=rank,
            pencil=test.tile,
            name=layers_in_words(question.layers),
            evidence=f"{why}; {evidence_in_words(said.grounds, short=True)}",
            caution=caution,
            lab=said.lab,
            draws=draws_of(said),
            section=self._studio.fired.section(question.layers, question.body, question.cone),
            target=self._target_of(test),
            chance=test.chance_within,
            teaches=test.information if test.chance_within is None else None,
            adds=adds,
        )

    def _target_of(self, test: NextTest) -> Lab | None:
        """The colour a tile is to meet: of several at its body and cone the nearest."""
        from swatch.science.colour_math import delta_e_2000

        if self.request is not None and self.request.target is not None:
            return self.request.target
        question = test.prediction.question
        there = [lab for body, cone, lab in self.targets if (body, cone) == (question.body, question.cone)]
        return min(there, key=lambda lab: float(delta_e_2000(test.prediction.lab, lab)), default=None)

    def _failed(self, error: Exception) -> None:
        if isinstance(error, StudioProblem):
            self.problem = error
        else:
            self._jobs.bug.emit(error)

    def _over(self) -> None:
        self._job = None
        self.changed.emit()

    # The shelf

    @property
    def shelf(self) -> Size:
        """The kiln's shelf, mm."""
        text = self._studio.settings.text("shelf")
        wide, times, high = text.partition("x")
        return Size(float(wide), float(high)) if times and wide.isdigit() and high.isdigit() else SHELF

    def set_shelf(self, wide: int, high: int) -> None:
        """Say how large the kiln's shelf is."""
        self._studio.settings.put("shelf", f"{wide}x{high}")
        self.changed.emit()

    @property
    def tile(self) -> Size:
        """How large a tile is, as on the sheets."""
        return self._printing.tile

    def laid(self) -> Laid:
        """Where the tiles lie."""
        return lay_out(len(self.answer.tests) if self.answer is not None else 0, self.tile, self.shelf)

    # Kept and printed

    def keep(self) -> bool:
        """Put the plan on record, as one change that Undo takes back."""
        if self.answer is None or self.kept:
            return self.kept
        boards = tuple(self._with_said(board) for board in self.answer.boards)

        def put(studio: Studio) -> bool:
            studio.plan_board(*boards)
            return True

        self._keeping = True
        done = bool(self._studio.do(put))
        self._keeping = False
        self.changed.emit()
        return done

    def _with_said(self, board: Board) -> Board:
        """The board with what is predicted now and what is to be met, so that what comes back can be judged."""
        assert self.answer is not None
        tests = {fold_name(one.tile): one for one in self.answer.tests}
        mine = [tests[fold_name(tile.tile)] for tile in board.tiles]
        target = next(filter(None, map(self._target_of, mine)), None)
        tolerance = self.answer.request.tolerance
        tiles = tuple(
            replace(tile, zones=tuple(_as_said(zone, one) for zone in tile.zones))
            for tile, one in zip(board.tiles, mine, strict=True)
        )
        aim = BoardTarget(target, tolerance, self.origin) if target is not None else None
        return replace(board, tiles=tiles, target=aim)

    def print(self) -> None:
        """Keep the plan, and show its board and its photo sheet as they are printed."""
        if self.answer is not None and self.keep():
            self.print_wanted.emit(self.answer.boards[0].name)

    # The records

    def _other_studio(self) -> None:
        self.request, self.origin, self.targets, self.answer, self.problem = None, "", (), None, None
        self.rows.show(())

    def _stop_where_stale(self) -> None:
        if self._job is not None:
            self._job.stop()

    def _records_changed(self) -> None:
        """A plan not on record is made anew where what it rests on is another, or its numbers are taken."""
        stands = self.answer is not None and self._basis == self._rests_on()
        free = stands and not self._taken()
        if self.request is None or self._keeping or self.kept or free:
            self.changed.emit()
        else:
            self._ask()

    def _taken(self) -> bool:
        """Whether a tile on record is called like one that is planned."""
        planned = {fold_name(one.tile) for one in self.answer.tests} if self.answer is not None else set()
        return bool(planned) and any(fold_name(name) in planned for name in self._studio.index.places)

    def _rests_on(self) -> tuple[object, ...]:
        evidence = self._studio.evidence
        return len(evidence.readings), tuple((one.name, one.status) for one in evidence.materials)


def _as_said(zone: BoardZone, test: NextTest) -> BoardZone:
    said = test.prediction
    if zone.layers != said.question.layers:  # a half of another layering: nothing was said of it
        return zone
    return replace(zone, said=said.lab, covariance=said.covariance, chance=test.chance_within)
