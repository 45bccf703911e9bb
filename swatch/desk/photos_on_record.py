"""Photos on record measured again, and the studio's own card learnt from photos of it."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QUndoStack

from swatch.desk.jobs import Job, Jobs
from swatch.desk.opening import OpenStudio
from swatch.desk.undoing import Step
from swatch.terms.again import MeasuredAgain, ZoneAgain
from swatch.terms.colour import Lab
from swatch.terms.problems import StudioProblem, Where
from swatch.terms.problems.photo import own_card_does_not_fit
from swatch.terms.report import Report
from swatch.wording.text import _, say

if TYPE_CHECKING:
    from swatch.work.measured_again import Shot
    from swatch.work.own_card import OwnCardLearnt

LAYOUT = (4, 6)
OWN_CARD = "own_card.txt"
"""The learnt card, in the studio's folder; taken away, all is as before."""


class MeasuringAgain(QObject):
    """Reads every photo on record with today's program; nothing is kept before it is asked for."""

    changed = Signal()

    def __init__(self, studio: OpenStudio, jobs: Jobs) -> None:
        super().__init__(studio)
        self._studio, self._jobs = studio, jobs
        self._job: Job | None = None
        self._shots: list[Shot] = []
        self.found: MeasuredAgain | None = None
        studio.opened.connect(self.forget)

    @property
    def reading(self) -> bool:
        """Whether photos are being read."""
        return self._job is not None

    def zones(self) -> tuple[tuple[str, ZoneAgain], ...]:
        """Every zone read today with its photo, those that move most first."""
        photos = self.found.photos if self.found is not None else ()
        pairs = [(photo.photo, zone) for photo in photos for zone in photo.zones]
        return tuple(sorted(pairs, key=lambda pair: -pair[1].moved_de00))

    def forget(self) -> None:
        """Stop, and drop what was read."""
        if self._job is not None:
            self._job.stop()
        self._job, self.found, self._shots = None, None, []
        self.changed.emit()

    def read(self) -> None:
        """Read all photos on record."""
        studio = self._studio.studio
        if studio is None or self._job is not None:
            return
        folder, workers = studio.folder, self._jobs.workers

        def work(report: Report) -> object:
            from swatch.library.studio import Studio
            from swatch.work.measured_again import read_again

            with Studio.look(folder) as records:
                return read_again(records, (), report, workers)

        self._job = self._jobs.start(work, "measure")
        self._job.finished.connect(self._was_read)
        self._job.failed.connect(self._failed)
        self._job.ended.connect(self._over)
        self.changed.emit()

    def _was_read(self, made: tuple[MeasuredAgain, list[Shot]]) -> None:
        self.found, self._shots = made

    def _failed(self, error: Exception) -> None:
        if isinstance(error, StudioProblem):
            self._studio.failed.emit(error)
        else:
            self._jobs.bug.emit(error)

    def _over(self) -> None:
        self._job = None
        self.changed.emit()

    def keep(self) -> None:
        """Let the new readings take the former ones' place, as one change of the records."""
        shots = list(self._shots)
        if shots:
            self._studio.lend_to(lambda studio: studio.keep_shots(shots), "keep", lambda _made: self.forget())


class OwnCard(QObject):
    """The studio's own card: learnt from photos in hand, used while its file is in the studio's folder."""

    changed = Signal()

    def __init__(self, studio: OpenStudio, jobs: Jobs, steps: QUndoStack) -> None:
        super().__init__(studio)
        self._studio, self._jobs, self._steps = studio, jobs, steps
        self._job: Job | None = None
        self.learnt: OwnCardLearnt | None = None

    @property
    def file(self) -> Path | None:
        """Where it is, or would be."""
        return self._studio.studio.folder / OWN_CARD if self._studio.studio is not None else None

    @property
    def in_use(self) -> bool:
        """Whether zones are read by a learnt card."""
        return self.file is not None and self.file.is_file()

    @property
    def learning(self) -> bool:
        """Whether photos are being read for it."""
        return self._job is not None

    def colours(self) -> tuple[Lab, ...] | None:
        """Its colours, where there is one; a file that is no card is told and not used."""
        from swatch.formats.keyword_text import read_card

        if self.file is None or not self.in_use:
            return None
        try:
            card = read_card(self.file.read_bytes(), self.file.name)
            if (card.rows, card.columns) != LAYOUT:
                raise own_card_does_not_fit(card.name).at(Where(file=self.file.name))
            return card.lab
        except StudioProblem as problem:
            self._studio.failed.emit(problem)
            return None

    def learn(self, photos: Sequence[Path]) -> None:
        """Learn the card from photos of it."""
        studio = self._studio.studio
        if studio is None or self._job is not None:
            return
        out, workers = studio.cache / OWN_CARD, self._jobs.workers
        names = tuple(map(str, photos))

        def work(report: Report) -> object:
            from swatch.work.own_card import OwnCardRequest, learn_own_card

            return learn_own_card(OwnCardRequest(names, str(out)), report, workers)

        self._job = self._jobs.start(work, "measure")
        self._job.finished.connect(lambda made: self._was_learnt(out, made))
        self._job.failed.connect(self._failed)
        self._job.ended.connect(self._over)
        self.changed.emit()

    def leave(self) -> None:
        """Read by the published colours again."""
        if self.in_use:
            self._put(say(_("Leave the learnt card")), None)

    def _was_learnt(self, out: Path, made: OwnCardLearnt) -> None:
        if made.card is None:
            for problem in made.problems:
                self._studio.failed.emit(problem)
            return
        self.learnt = made
        self._put(say(_("Learn the card")), out.read_bytes())

    def _put(self, name: str, card: bytes | None) -> None:
        file = self.file
        if file is None:
            return
        before = file.read_bytes() if file.is_file() else None

        def lay(content: bytes | None) -> None:
            from swatch.work.files import write_file

            if content is None:
                file.unlink(missing_ok=True)
            else:
                write_file(file, content)
            self.changed.emit()

        self._steps.push(Step(name, lambda: lay(card), lambda: lay(before)))

    def _failed(self, error: Exception) -> None:
        if isinstance(error, StudioProblem):
            self._studio.failed.emit(error)
        else:
            self._jobs.bug.emit(error)

    def _over(self) -> None:
        self._job = None
        self.changed.emit()
