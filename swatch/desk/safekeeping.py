"""Copies of the whole studio, and whether its records are sound."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from swatch.desk.jobs import Job, Jobs, Work
from swatch.desk.opening import OpenStudio
from swatch.terms.problems import StudioProblem


class Safekeeping(QObject):
    """Saves copies, brings them back and checks: one job at a time; cancelled, it leaves nothing half done."""

    copied = Signal(object, int)
    """The file that was written, and its size in bytes."""
    brought_back = Signal(object)
    checked = Signal(object)
    """A `Checked`: what is damaged, and whether the records bear their seal."""
    changed = Signal()
    """Work began or ended."""

    def __init__(self, studio: OpenStudio, jobs: Jobs) -> None:
        super().__init__(studio)
        self._studio, self._jobs = studio, jobs
        self._job: Job | None = None

    @property
    def busy(self) -> bool:
        """Whether a copy or a check is under way."""
        return self._job is not None

    @property
    def last_copy(self) -> str:
        """The day the open studio was last copied from this window; empty where it never was."""
        return self._studio.settings.text(f"copied {self._studio.folder}") if self._studio.folder else ""

    def name_for_copy(self) -> str:
        """A file name that says what it is a copy of, and of which day."""
        folder = self._studio.folder
        return f"{folder.name if folder else 'studio'} {date.today().isoformat()}.zip"

    def save_copy(self, out: Path) -> None:
        """Write records and photos of the open studio into one file; it is there whole or not at all."""
        from swatch.work.safekeeping import save

        folder = self._studio.folder
        if folder is not None:
            self._do("backup", partial(save, folder, out), partial(self._copied, folder, out))

    def bring_back(self, source: Path, into: Path) -> None:
        """Make a studio from a copy, in a folder that is absent or empty, and open it."""
        from swatch.work.safekeeping import bring_back

        self._do("restore", partial(bring_back, source, into), lambda _made: self._back(into))

    def check(self) -> None:
        """Read every record and every photo of the open studio."""
        from swatch.work.check_studio import check_studio

        folder = self._studio.folder
        if folder is not None:
            self._do("verify", partial(check_studio, folder), self.checked.emit)

    def _do(self, name: str, work: Work, done: Callable[..., object]) -> None:
        if self._job is not None:
            return
        self._job = self._jobs.start(work, name)
        self._job.finished.connect(done)
        self._job.failed.connect(self._failed)
        self._job.over.connect(self._over)
        self.changed.emit()

    def _copied(self, folder: Path, out: Path, size: int) -> None:
        self._studio.settings.put(f"copied {folder}", date.today().isoformat())
        self.copied.emit(out, size)

    def _back(self, into: Path) -> None:
        if self._studio.open(into):
            self.brought_back.emit(into)

    def _failed(self, error: Exception) -> None:
        if isinstance(error, StudioProblem):
            self._studio.failed.emit(error)
        else:
            self._jobs.bug.emit(error)

    def _over(self) -> None:
        self._job = None
        self.changed.emit()
