"""Whether the loads of the chosen edition hold its look: asked of a worker while the place is open."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from PySide6.QtCore import QObject, Signal

from swatch.desk.editions import Editions
from swatch.desk.firing_charts import Chart, charts_of
from swatch.desk.jobs import Job, Jobs
from swatch.desk.opening import OpenStudio
from swatch.terms.colour import Lab
from swatch.terms.editions import PieceReading
from swatch.terms.holding import CheckAnswer, CheckRequest, LoadCheck, PieceCheck, PieceVerdict
from swatch.terms.layering import fold_name
from swatch.terms.problems import StudioProblem

_ORDER = {PieceVerdict.OFF: 0, PieceVerdict.DOUBTFUL: 1, PieceVerdict.WITHIN: 2}


class Checking(QObject):
    """The last answer about the chosen edition, and the load looked at closely."""

    shown = Signal()
    """The answer, its progress or the problem in its way is another."""
    load_changed = Signal()

    def __init__(self, studio: OpenStudio, jobs: Jobs, editions: Editions) -> None:
        super().__init__(studio)
        self._studio, self._jobs, self._editions = studio, jobs, editions
        self.answer: CheckAnswer | None = None
        self.problem: StudioProblem | None = None
        self.charts: tuple[Chart, ...] = ()
        self.chart_code = "distance"
        self.firing = ""
        self.set_size, self.hold_back = 2, 0
        self._job: Job | None = None
        self._awake, self._stale, self._of = False, True, ""
        studio.opened.connect(self._forget)
        studio.written.connect(self._stop)
        studio.when_changed(self._records_changed)
        editions.chosen_changed.connect(self._edition_changed)

    @property
    def busy(self) -> bool:
        """Whether a worker is looking."""
        return self._job is not None

    @property
    def measured(self) -> bool:
        """Whether the chosen edition has any measured piece."""
        view = self._editions.chosen
        return view is not None and bool(view.pieces)

    @property
    def load(self) -> LoadCheck | None:
        """The load looked at closely: the one chosen, else the latest."""
        loads = self.answer.loads if self.answer is not None else ()
        return next((one for one in loads if one.firing == self.firing), loads[-1] if loads else None)

    @property
    def chart(self) -> Chart | None:
        """The chart in view."""
        found = (one for one in self.charts if one.code == self.chart_code)
        return next(found, self.charts[0] if self.charts else None)

    def choose_load(self, firing: str) -> None:
        """Look at one load closely."""
        if firing != self.firing:
            self.firing = firing
            self.load_changed.emit()

    def choose_chart(self, code: str) -> None:
        """Show another chart."""
        self.chart_code = code
        self.load_changed.emit()

    def sort_into(self, set_size: int, hold_back: int) -> None:
        """Sort the pieces into sets of another size."""
        if (set_size, hold_back) != (self.set_size, self.hold_back):
            self.set_size, self.hold_back = set_size, hold_back
            self._ask()

    def pieces(self) -> Sequence[PieceCheck]:
        """The pieces of the load looked at, the ones that stray first."""
        load = self.load
        if self.answer is None or load is None:
            return ()
        mine = [one for one in self.answer.pieces if one.firing == load.firing]
        return sorted(mine, key=lambda one: (_ORDER[one.verdict], -one.statistic, one.piece))

    def colours(self, region: str) -> Mapping[str, Lab]:
        """Mean colour of each piece in one region, by the piece's name."""
        view = self._editions.chosen
        found: dict[str, list[PieceReading]] = {}
        for one in view.pieces if view is not None else ():
            if fold_name(one.region) == fold_name(region):
                found.setdefault(one.piece, []).append(one)
        return {name: _mean([one.lab for one in rows]) for name, rows in found.items()}

    @property
    def first_region(self) -> str:
        """The region of the look that is seen first: the outside, where there is one."""
        view, known = self._editions.chosen, self.answer.regions if self.answer is not None else ()
        for region in view.regions if view is not None else ():
            if any(fold_name(one) == fold_name(region.region) for one in known):
                return region.region
        return known[0] if known else ""

    def wake(self) -> None:
        """The place is open: check what has changed since."""
        self._awake = True
        if self._stale:
            self._ask()

    def sleep(self) -> None:
        """The place is closed: what is under way goes on, nothing new is asked."""
        self._awake = False

    def check(self) -> None:
        """Check again."""
        self._ask()

    def cancel(self) -> None:
        """Stop looking; what was said before stays."""
        self._stop()
        self.shown.emit()

    # Within

    def _forget(self) -> None:
        self._stop()
        self.answer, self.problem, self.charts, self.firing, self._of = None, None, (), "", ""
        self._stale = True

    def _stop(self) -> None:
        if self._job is not None:
            job, self._job = self._job, None
            job.stop()
            self._stale = True

    def _records_changed(self) -> None:
        self._stale = True
        if self._awake:
            self._ask()

    def _edition_changed(self) -> None:
        name = self._editions.chosen_name
        if name == self._of:
            return
        self._forget()
        self._of = name
        self.shown.emit()
        self.load_changed.emit()
        if self._awake:
            self._ask()

    def _ask(self) -> None:
        view, folder = self._editions.chosen, self._studio.folder
        self._stop()
        if view is None or folder is None or not view.pieces:
            self.answer, self.charts, self._stale = None, (), False
            self.shown.emit()
            self.load_changed.emit()
            return
        request = CheckRequest(view.name, set_size=self.set_size, hold_back=self.hold_back)
        job = self._jobs.ask("check", {"folder": str(folder), "request": request})
        self._job, self._stale = job, False
        job.finished.connect(self._answered)
        job.failed.connect(self._failed)
        job.progressed.connect(lambda *_progress: self.shown.emit())
        job.ended.connect(lambda: self._over(job))
        self.shown.emit()

    def _answered(self, answer: CheckAnswer) -> None:
        self.answer, self.problem = answer, None
        self.charts = charts_of(answer)
        if all(load.firing != self.firing for load in answer.loads):
            self.firing = ""

    def _failed(self, error: Exception) -> None:
        if not isinstance(error, StudioProblem):
            self._jobs.bug.emit(error)
            return
        self.answer, self.problem, self.charts = None, error, ()

    def _over(self, job: Job) -> None:
        if self._job is job:
            self._job = None
        self.shown.emit()
        self.load_changed.emit()


def _mean(labs: Sequence[Lab]) -> Lab:
    n = len(labs)
    return Lab(sum(x.L for x in labs) / n, sum(x.a for x in labs) / n, sum(x.b for x in labs) / n)
