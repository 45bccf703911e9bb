"""The chosen edition's material to its last piece, what was counted of it, and its report."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from swatch.desk.editions import Editions
from swatch.desk.jobs import Job, Jobs
from swatch.desk.opening import OpenStudio
from swatch.terms.edition_report import EditionReport, ReportRequest
from swatch.terms.editions import Tallied, Tally
from swatch.terms.material_plan import MaterialPlan, PlanRequest
from swatch.terms.problems import StudioProblem
from swatch.terms.report import Report


class EditionPlan(QObject):
    """The plan as of today, asked of a worker while it is looked at; the report on request."""

    shown = Signal()
    reported = Signal(str)
    """A report was written to this file."""

    def __init__(self, studio: OpenStudio, jobs: Jobs, editions: Editions) -> None:
        super().__init__(studio)
        self._studio, self._jobs, self._editions = studio, jobs, editions
        self.plan: MaterialPlan | None = None
        self._job: Job | None = None
        self._writing: Job | None = None
        self._awake, self._stale, self._of = False, True, ""
        studio.opened.connect(self._forget)
        studio.written.connect(self._stop)
        studio.changed.connect(self._again)
        editions.chosen_changed.connect(self._edition_changed)

    @property
    def busy(self) -> bool:
        """Whether the plan is being worked out."""
        return self._job is not None

    @property
    def writing(self) -> bool:
        """Whether a report is being gathered or written."""
        return self._writing is not None

    def wake(self) -> None:
        """The plan is looked at."""
        self._awake = True
        if self._stale:
            self._ask()

    def sleep(self) -> None:
        """Nobody looks."""
        self._awake = False

    def count(self, what: Tallied, n: int) -> None:
        """Count pieces of the chosen edition as made, fired, good or sold today; the day's counts add up."""
        studio, name, today = self._studio.studio, self._editions.chosen_name, date.today().isoformat()
        if studio is None or not name or n <= 0:
            return
        before = sum(
            one.count
            for one in studio.tallies()
            if (one.edition, one.at, one.what, one.firing) == (name, today, what, None)
        )
        value = Tally(name, today, what, before + n)
        self._studio.do(lambda records: records.put_tallies([value], frozenset({"count"})))

    def write_report(self, out: Path) -> None:
        """Gather the chosen edition's report and write it as PDF or CSV."""
        folder = self._studio.folder
        if folder is None or self.writing or not self._editions.chosen_name:
            return
        request = ReportRequest(self._editions.chosen_name)
        job = self._jobs.ask("edition report", {"folder": str(folder), "request": request}, said_as="report")
        self._take(job)
        job.finished.connect(lambda found: self._write(found, out))

    def _write(self, found: EditionReport, out: Path) -> None:
        def work(_report: Report) -> object:
            from swatch.wording.edition_report_out import write_report

            return write_report(found, out)

        # Drawing the pages takes longer than the UI thread may.
        job = self._jobs.start(work, "report")
        self._take(job)
        job.finished.connect(lambda _pages: self.reported.emit(str(out)))

    def _take(self, job: Job) -> None:
        self._writing = job
        job.failed.connect(self._failed)
        job.ended.connect(lambda: self._written(job))
        self.shown.emit()

    def _written(self, job: Job) -> None:
        if self._writing is job:
            self._writing = None
            self.shown.emit()

    def _ask(self) -> None:
        folder, name = self._studio.folder, self._editions.chosen_name
        self._stop()
        self._stale = False
        if folder is None or not name:
            return
        request = PlanRequest(name, date.today().isoformat())
        job = self._jobs.ask("material plan", {"folder": str(folder), "request": request})
        self._job = job
        job.finished.connect(self._answered)
        job.failed.connect(self._failed)
        job.ended.connect(lambda: self._over(job))
        self.shown.emit()

    def _answered(self, plan: MaterialPlan) -> None:
        self.plan = plan

    def _failed(self, error: Exception) -> None:
        if isinstance(error, StudioProblem):
            self._studio.failed.emit(error)
        else:
            self._jobs.bug.emit(error)

    def _over(self, job: Job) -> None:
        if self._job is job:
            self._job = None
        self.shown.emit()

    def _stop(self) -> None:
        if self._job is not None:
            job, self._job = self._job, None
            job.stop()
            self._stale = True

    def _forget(self) -> None:
        self._stop()
        self.plan, self._stale, self._of = None, True, ""

    def _again(self) -> None:
        self.plan, self._stale = None, True
        if self._awake:
            self._ask()

    def _edition_changed(self) -> None:
        if self._editions.chosen_name != self._of:
            self._of = self._editions.chosen_name
            self._again()
            self.shown.emit()
