"""What is to be printed: a planned board with its list and its sheets, or photo sheets alone; seen before."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QLocale, QObject, Signal

from swatch.desk.jobs import Job, Jobs, Work
from swatch.desk.opening import OpenStudio
from swatch.formats.drawing import PrintPage
from swatch.terms.boards import Board
from swatch.terms.problems import StudioProblem
from swatch.terms.report import Report
from swatch.terms.sheet import Paper, Size, Split
from swatch.wording.board import board_paper, shopping_paper
from swatch.wording.layering import cone_in_words
from swatch.wording.sheet import sheet_words
from swatch.wording.text import _, say
from swatch.wording.units import heat_in_words, rate_in_words
from swatch.work.printed import Wanted, draw_pages, write_pages

TILE = Size(50.0, 100.0)
SHEET = ""
"""Stands for photo sheets without a board."""


class Printing(QObject):
    """One thing to print, on one paper, and its pages."""

    changed = Signal()
    written = Signal(object)
    """The file (a path) that was written."""

    def __init__(self, studio: OpenStudio, jobs: Jobs) -> None:
        super().__init__(studio)
        self._studio, self._jobs = studio, jobs
        self.what = SHEET
        self.paper = usual_paper()
        self.tile = TILE
        self.split = Split.WHOLE
        self.pages: tuple[PrintPage, ...] = ()
        self.problem: StudioProblem | None = None
        self._job: Job | None = None
        self._boards: tuple[Board, ...] = ()
        studio.opened.connect(self._other_studio)
        studio.changed.connect(self._read_boards)

    def boards(self) -> tuple[Board, ...]:
        """Boards that are on record, the latest first."""
        return self._boards

    def _read_boards(self) -> None:
        studio = self._studio.studio
        self._boards = studio.boards() if studio is not None else ()

    @property
    def board(self) -> Board | None:
        """The board that is to be printed; None for photo sheets alone."""
        return next((one for one in self.boards() if one.name == self.what), None)

    @property
    def drawing(self) -> bool:
        """Whether pages are being drawn."""
        return self._job is not None

    @property
    def waiting(self) -> bool:
        """Whether the drawing has to wait for other work."""
        return self._job is not None and self._job.waiting

    @property
    def title(self) -> str:
        """What it is called."""
        board = self.board
        return say(_("Board for firing {name}")).format(name=board.name) if board else say(_("Photo sheet"))

    def choose(self, what: str | None = None, paper: Paper | None = None, tile: Size | None = None) -> None:
        """Print something else, on another paper, for tiles of another size."""
        self.what = self.what if what is None else what
        self.paper = paper or self.paper
        self.tile = tile or self.tile
        self.draw()

    def part(self, split: Split) -> None:
        """Have the sheets say how their tiles are parted."""
        self.split = split
        self.draw()

    def draw(self) -> None:
        """Draw the pages anew."""
        if self._job is not None:
            self._job.stop()
        wanted = self._wanted()
        self._job = self._jobs.start(_draw(wanted), "print")
        self._job.began.connect(self.changed)
        self._job.finished.connect(self._drawn)
        self._job.failed.connect(self._failed)
        self._job.ended.connect(self._over)
        self.changed.emit()

    def write(self, out: Path) -> bool:
        """Save the pages as a PDF, true to scale."""
        try:
            write_pages(self.pages, self.title, out)
        except StudioProblem as problem:
            self._studio.failed.emit(problem)
            return False
        self.written.emit(out)
        return True

    def _wanted(self) -> Wanted:
        board = self.board
        if board is None:
            return Wanted(self.title, (), sheet_words(self.split), self.paper, None, self.tile, self.split)
        lists = (board_paper(board, self._programme(board)), shopping_paper(board, self.tile))
        return Wanted(
            self.title,
            lists,
            sheet_words(Split.STEPS),
            self.paper,
            len(board.tiles),
            self.tile,
            Split.STEPS,
            board.name,
        )

    def _programme(self, board: Board) -> str:
        firing = next((one for one in self._studio.evidence.firings if one.name == board.name), None)
        words = [cone_in_words(board.cone).capitalize()]
        if firing is not None and firing.peak_c is not None:
            words.append(heat_in_words(firing.peak_c))
            if firing.rate_c_per_h is not None:
                words.append(rate_in_words(firing.rate_c_per_h))
            if firing.hold_min is not None:
                words.append(say(_("hold {n:.0f} min")).format(n=firing.hold_min))
        return ", ".join(words)

    def _drawn(self, pages: Sequence[PrintPage]) -> None:
        self.pages, self.problem = tuple(pages), None

    def _failed(self, error: Exception) -> None:
        if not isinstance(error, StudioProblem):
            self._jobs.bug.emit(error)
            return
        self.pages, self.problem = (), error

    def _over(self) -> None:
        self._job = None
        self.changed.emit()

    def _other_studio(self) -> None:
        self.what, self.pages, self.problem = SHEET, (), None


def usual_paper() -> Paper:
    """Letter in the United States, A4 elsewhere."""
    inches = QLocale().measurementSystem() is QLocale.MeasurementSystem.ImperialUSSystem
    return Paper.LETTER if inches else Paper.A4


def _draw(wanted: Wanted) -> Work:
    def work(report: Report) -> object:
        return draw_pages(wanted, report)

    return work
