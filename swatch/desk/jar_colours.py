"""The colours that the jars on the shelf can make, asked for a body and a cone, looked at band by band."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QObject, Signal

from swatch.desk.jobs import Job, Jobs
from swatch.desk.opening import OpenStudio
from swatch.terms.colours import ColoursRequest, JarColours, LightnessBand
from swatch.terms.cone import Cone
from swatch.terms.problems import Notice, StudioProblem

TOUCHES_FOOD = ("inside", "lip", "outside")


class ColoursInReach(QObject):
    """What is asked for, its answer, and the band that is looked at."""

    shown = Signal()

    def __init__(self, studio: OpenStudio, jobs: Jobs) -> None:
        super().__init__(studio)
        self._studio, self._jobs = studio, jobs
        self.request: ColoursRequest | None = None
        self.answer: JarColours | None = None
        self.problem: Notice | None = None
        self.number = 0
        self._job: Job | None = None
        self._wanted = False
        studio.opened.connect(self._forget)
        studio.written.connect(self._stop)
        studio.changed.connect(self._records_changed)

    @property
    def looking(self) -> bool:
        """Whether an answer is under way."""
        return self._job is not None

    @property
    def band(self) -> LightnessBand | None:
        """The band looked at."""
        bands = self.answer.bands if self.answer is not None else ()
        return bands[min(self.number, len(bands) - 1)] if bands else None

    @property
    def cone(self) -> Cone | None:
        """The cone asked for, or the one most readings were fired to."""
        return self.request.cone if self.request is not None else self._studio.counts.usual_cone

    def cones(self) -> tuple[Cone, ...]:
        """Cones that were fired, coolest first."""
        cones = {*self._studio.counts.cones}
        return tuple(sorted(cones | ({self.cone} if self.cone is not None else set())))

    def look_at(self, number: int) -> None:
        """Look at another band."""
        if self.answer is not None and 0 <= number < len(self.answer.bands) and number != self.number:
            self.number = number
            self.shown.emit()

    def wake(self, body: str) -> None:
        """Show what can be made on a body, at the cone asked for before."""
        self._wanted = True
        cone = self.cone
        if body and cone is not None and (self.request is None or self.request.body != body):
            self._want(replace(self.request, body=body) if self.request else ColoursRequest(body, cone))
        elif self.answer is None and self._job is None:
            self._ask()
        self.shown.emit()

    def sleep(self) -> None:
        """Nothing is asked until it is looked at again."""
        self._wanted = False

    def want_cone(self, cone: Cone) -> None:
        """Ask for another cone."""
        if self.request is not None:
            self._want(replace(self.request, cone=cone))

    def want_food(self, touches: bool) -> None:
        """Ask only for layerings whose top may be named where food or mouth touches, or for all."""
        if self.request is not None:
            self._want(replace(self.request, regions=TOUCHES_FOOD if touches else ()))

    def _want(self, request: ColoursRequest) -> None:
        if request != self.request:
            self._stop()
            self.request, self.answer, self.problem, self.number = request, None, None, 0
            self._ask()
            self.shown.emit()

    def _ask(self) -> None:
        folder = self._studio.folder
        if folder is None or self.request is None or not self._wanted or not self._studio.counts.fired:
            return
        request = self.request
        self.problem = None
        self._job = self._jobs.ask("colours", {"folder": str(folder), "request": request})
        self._job.finished.connect(lambda answer: self._found(request, answer))
        self._job.failed.connect(self._failed)
        self._job.ended.connect(self._over)

    def _found(self, request: ColoursRequest, answer: JarColours) -> None:
        if request == self.request:
            self.answer = answer
            middle = [n for n, band in enumerate(answer.bands) if band.lightness[0] >= 50.0]
            self.number = middle[0] if middle else 0

    def _failed(self, error: Exception) -> None:
        if isinstance(error, StudioProblem):
            self.problem = Notice(error.code, error.facts)
        else:
            self._jobs.bug.emit(error)

    def _over(self) -> None:
        self._job = None
        self.shown.emit()

    def _stop(self) -> None:
        if self._job is not None:
            self._job.stop()
            self._job = None

    def _records_changed(self) -> None:
        self.answer = None
        if self._wanted:
            self._stop()
            self._ask()
        self.shown.emit()

    def _forget(self) -> None:
        self._stop()
        self.request, self.answer, self.problem, self.number = None, None, None, 0
        self.shown.emit()
