"""Loads that drifted, of every edition: looked for beside the work at hand, so that Next can say it first."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QObject, QTimer, Signal

from swatch.desk.jobs import Job, Jobs
from swatch.desk.opening import OpenStudio
from swatch.terms.holding import CheckAnswer, CheckRequest, LoadCheck, LoadVerdict
from swatch.terms.problems import StudioProblem

WAIT_MS = 4000
"""What was opened or changed is looked at once the window has rested for so long."""
SAID = (LoadVerdict.DRIFTED, LoadVerdict.CAMERA)


class Drifts(QObject):
    """The last load of each edition, where it drifted or has to be photographed again."""

    changed = Signal()

    def __init__(self, studio: OpenStudio, jobs: Jobs) -> None:
        super().__init__(studio)
        self._studio, self._jobs = studio, jobs
        self._last: dict[str, LoadCheck] = {}
        self._judged: dict[str, int] = {}
        self._left: list[tuple[str, int]] = []
        self._job: Job | None = None
        self._wait = QTimer(self)
        self._wait.setSingleShot(True)
        self._wait.setInterval(WAIT_MS)
        self._wait.timeout.connect(self.look)
        studio.opened.connect(self._forget)
        studio.written.connect(self._stop)
        studio.changed.connect(self._wait.start)

    @property
    def loads(self) -> Mapping[str, LoadCheck]:
        """By edition, the latest load that drifted."""
        return {name: load for name, load in self._last.items() if load.verdict in SAID}

    def heard(self, answer: CheckAnswer | None) -> None:
        """Take over what was found out elsewhere."""
        if answer is not None and answer.loads and self._last.get(answer.edition) != answer.loads[-1]:
            self._last[answer.edition] = answer.loads[-1]
            self.changed.emit()

    def look(self) -> None:
        """Check every edition whose records are others than when it was checked last."""
        studio = self._studio.studio
        if studio is None or self._job is not None:
            return
        regions, pieces, buttons = studio.editions(), studio.pieces(), studio.buttons()
        evidence = self._studio.evidence
        rest = hash((buttons, evidence.witnesses, evidence.firings))
        for name in dict.fromkeys(one.edition for one in pieces):
            mine = tuple(one for one in pieces if one.edition == name)
            now = hash((mine, tuple(one for one in regions if one.edition == name), rest))
            if self._judged.get(name) != now:
                self._left.append((name, now))
        self._next()

    def _next(self) -> None:
        folder = self._studio.folder
        if self._job is not None or not self._left or folder is None:
            return
        name, now = self._left.pop(0)
        job = self._jobs.ask("check", {"folder": str(folder), "request": CheckRequest(name)})
        self._job = job
        self._judged[name] = now
        job.finished.connect(self.heard)
        job.failed.connect(self._failed)
        job.ended.connect(lambda: self._over(job))

    def _failed(self, error: Exception) -> None:
        if not isinstance(error, StudioProblem):  # why it cannot be checked is said where it is asked for
            self._jobs.bug.emit(error)

    def _over(self, job: Job) -> None:
        if self._job is job:
            self._job = None
            self._next()

    def _stop(self) -> None:
        self._left = []
        if self._job is not None:
            job, self._job = self._job, None
            job.stop()
            self._judged = {}

    def _forget(self) -> None:
        self._stop()
        self._wait.stop()
        self._last, self._judged = {}, {}
        self._wait.start()
