"""The first page: the demo studio, a studio that is there already, a new one."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QObject, Signal

from swatch.desk.jobs import Job, Jobs, Work
from swatch.desk.opening import OpenStudio
from swatch.desk.settings import demo_folder
from swatch.terms.problems import StudioProblem
from swatch.terms.report import Report


class Welcoming(QObject):
    """Puts a first studio on the desk."""

    building_changed = Signal()

    def __init__(self, studio: OpenStudio, jobs: Jobs) -> None:
        super().__init__(studio)
        self._studio, self._jobs = studio, jobs
        self._job: Job | None = None

    @property
    def building(self) -> bool:
        """Whether the demo studio is being built."""
        return self._job is not None

    @property
    def job(self) -> Job | None:
        """The building of the demo studio, while it goes on."""
        return self._job

    def recent(self) -> tuple[Path, ...]:
        """Studios opened lately."""
        return self._studio.settings.recent

    def demo(self) -> None:
        """Open the demo studio; the first time it is built from its photos."""
        folder = demo_folder()
        if (folder / "studio.sqlite").exists() and self._studio.open(folder):
            return
        if self._job is None:
            self._job = self._jobs.start(_build(folder), "demo")
            self._job.finished.connect(lambda _made: self._studio.open(folder))
            self._job.failed.connect(self._failed)
            self._job.ended.connect(self._over)
            self.building_changed.emit()

    def stop(self) -> None:
        """Stop building."""
        if self._job is not None:
            self._job.stop()

    def _failed(self, error: Exception) -> None:
        if isinstance(error, StudioProblem):
            self._studio.failed.emit(error)
        else:
            self._jobs.bug.emit(error)

    def _over(self) -> None:
        self._job = None
        self.building_changed.emit()


def _build(folder: Path) -> Work:
    def build(report: Report) -> object:
        from swatch.work.demo import build_demo

        return build_demo(folder, report)

    return build
