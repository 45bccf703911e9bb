"""Tables dropped on the window, into the studio."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from swatch.desk.jobs import Jobs, Work
from swatch.desk.opening import OpenStudio
from swatch.terms.problems import StudioProblem
from swatch.terms.report import Report

if TYPE_CHECKING:
    from swatch.library.studio import Studio

_TELLING = (
    ("pieces", {"edition", "piece"}),
    ("editions", {"edition", "region"}),
    ("tiles", {"tile", "zone"}),
    ("witness", {"firing", "shelf", "cone_reached"}),
    ("weighings", {"material", "at"}),
    ("firings", {"firing"}),
    ("bodies", {"body", "cone"}),
    ("materials", {"material"}),
)
"""Columns that tell which table a file is, the most telling first."""


def table_of(path: Path) -> str | None:
    """Which of the studio's tables a file is, by its name or its header row; None where neither tells."""
    names = [name for name, _columns in _TELLING]
    stem = path.stem.casefold()
    if stem in names:
        return stem
    with path.open("rb") as file:
        first = file.readline(65_536).decode("utf-8-sig", errors="replace")
    header = {cell.strip() for row in csv.reader(io.StringIO(first)) for cell in row}
    return next((name for name, columns in _TELLING if columns <= header), None)


class Bringing(QObject):
    """Takes tables in, all or nothing for each file, and says what came of it."""

    brought = Signal(object)
    """A `BroughtIn`."""
    not_known = Signal(object)
    """Files (paths) that are none of the studio's tables."""

    def __init__(self, studio: OpenStudio, jobs: Jobs) -> None:
        super().__init__(studio)
        self._studio, self._jobs = studio, jobs

    def bring(self, paths: Sequence[Path]) -> None:
        """Bring files in; while that goes on nothing else can be changed."""
        known: dict[str, Path] = {}
        unknown: list[Path] = []
        for path in paths:
            table = table_of(path)
            if table is None or table in known:
                unknown.append(path)
            else:
                known[table] = path
        if unknown:
            self.not_known.emit(unknown)
        studio = self._studio.lend() if known else None
        if studio is None:
            return
        job = self._jobs.start(_bring_in(studio, known), "import")
        job.finished.connect(self.brought)
        job.failed.connect(self._failed)
        job.over.connect(self._studio.take_back)

    def _failed(self, error: Exception) -> None:
        if isinstance(error, StudioProblem):
            self._studio.failed.emit(error)
        else:
            self._jobs.bug.emit(error)


def _bring_in(studio: Studio, files: dict[str, Path]) -> Work:
    def work(report: Report) -> object:
        from swatch.work.bring_in import bring_into

        return bring_into(studio, files, report)

    return work
