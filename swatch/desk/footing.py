"""On which tiles the chosen answer rests, asked for a moment after it was chosen and kept for each question."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QObject, QTimer, Signal

from swatch.desk.jobs import Job, Jobs
from swatch.desk.opening import OpenStudio
from swatch.terms.answers import Footing, Prediction, Question
from swatch.terms.problems import StudioProblem

WAIT_MS = 300
"""So long an answer has to be looked at before its reasons are asked for."""


class WhyAnswer(QObject):
    """The reasons of one answer."""

    changed = Signal()

    def __init__(self, studio: OpenStudio, jobs: Jobs) -> None:
        super().__init__(studio)
        self._studio, self._jobs = studio, jobs
        self.question: Question | None = None
        self._known: dict[Question, Footing] = {}
        self._job: Job | None = None
        self._wait = QTimer(self)
        self._wait.setSingleShot(True)
        self._wait.setInterval(WAIT_MS)
        self._wait.timeout.connect(self._ask)
        studio.written.connect(self._forget)

    @property
    def footing(self) -> Footing | None:
        """What the answer rests on; None while that is not known."""
        return self._known.get(self.question) if self.question is not None else None

    @property
    def asking(self) -> bool:
        """Whether it is being found out."""
        return self._job is not None or self._wait.isActive()

    def look_at(self, question: Question | None) -> None:
        """Give reasons for this answer."""
        if question == self.question and (question is None or self.asking or question in self._known):
            return
        self.question = question
        self._stop()
        if question is not None and question not in self._known:
            self._wait.start()
        self.changed.emit()

    def _ask(self) -> None:
        folder, question = self._studio.folder, self.question
        if folder is None or question is None:
            return
        asked = {"folder": str(folder), "questions": (question,), "why": True, "in_haste": True}
        self._job = self._jobs.ask("predict", asked, "why")
        self._job.finished.connect(self._found)
        self._job.failed.connect(self._failed)
        self._job.ended.connect(self._over)

    def _found(self, answers: Sequence[object]) -> None:
        for one in answers:
            if isinstance(one, Prediction) and one.why is not None:
                self._known[one.question] = one.why

    def _failed(self, error: Exception) -> None:
        if not isinstance(error, StudioProblem):  # the answer itself tells the same problem
            self._jobs.bug.emit(error)

    def _over(self) -> None:
        self._job = None
        self.changed.emit()

    def _stop(self) -> None:
        self._wait.stop()
        if self._job is not None:
            self._job.stop()
            self._job = None

    def _forget(self) -> None:
        self._stop()
        self._known, self.question = {}, None
