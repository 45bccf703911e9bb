"""The studio now open, shared by every place: its records as a snapshot, and the one way to change them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from PySide6.QtCore import QObject, Signal

from swatch.desk.settings import Settings
from swatch.desk.tile_views import TileView, view_tiles
from swatch.terms.evidence import Evidence
from swatch.terms.problems import StudioProblem
from swatch.terms.problems.studio import studio_busy

if TYPE_CHECKING:
    from swatch.library.studio import Studio

Made = TypeVar("Made")


class OpenStudio(QObject):
    """The studio on the desk, or none."""

    opened = Signal()
    """Another studio is on the desk, or none."""
    settled = Signal()
    """That is so, and every place has read its records: now it can be shown."""
    changed = Signal()
    """Its records changed: by a command, an undo or a redo."""
    failed = Signal(object)
    """A `StudioProblem`: what was asked for did not happen."""

    def __init__(self, settings: Settings, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.settings = settings
        self._studio: Studio | None = None
        self._evidence = Evidence()
        self._lent = False
        self._tiles: list[TileView] | None = None

    @property
    def studio(self) -> Studio | None:
        """The studio's records, where a studio is open."""
        return self._studio

    @property
    def folder(self) -> Path | None:
        """The studio's folder."""
        return self._studio.folder if self._studio is not None else None

    @property
    def name(self) -> str:
        """The studio's name."""
        return self._studio.name if self._studio is not None else ""

    @property
    def invented(self) -> bool:
        """Whether this is the demo studio, in which everything is invented."""
        return self._studio is not None and self._studio.invented

    @property
    def evidence(self) -> Evidence:
        """Everything recorded that an answer can rest on."""
        return self._evidence

    def tiles(self) -> list[TileView]:
        """The tiles as they are looked at; worked out once for each state of the records."""
        if self._tiles is None:
            self._tiles = view_tiles(self._evidence.readings)
        return self._tiles

    def _read(self, evidence: Evidence) -> None:
        self._evidence, self._tiles = evidence, None

    def open(self, folder: Path) -> bool:
        """Put the studio in this folder on the desk; where that fails the one now open stays."""
        from swatch.library.studio import Studio

        return self._take(lambda: Studio.open(folder))

    def create(self, folder: Path) -> bool:
        """Make a new, empty studio in this folder and put it on the desk."""
        from swatch.library.studio import Studio

        return self._take(lambda: Studio.create(folder))

    def _take(self, get: Callable[[], Studio]) -> bool:
        try:
            studio = get()
            evidence = studio.evidence()
        except StudioProblem as problem:
            self.failed.emit(problem)
            return False
        if self._studio is not None:
            self._studio.close()
        self._studio = studio
        self._read(evidence)
        self.settings.opened(studio.folder)
        self._tell_opened()
        return True

    def _tell_opened(self) -> None:
        self.opened.emit()
        self.changed.emit()
        self.settled.emit()

    def close(self) -> None:
        """Take the studio off the desk."""
        if self._studio is not None:
            self._studio.close()
            self._studio = None
            self._read(Evidence())
            self._tell_opened()

    def lend(self) -> Studio | None:
        """Lend the records to a job; until `take_back` nothing else can be changed. None where they are lent."""
        if self._studio is None or self._lent:
            self._say_busy()
            return None
        self._lent = True
        return self._studio

    def take_back(self) -> None:
        """The job has let go of the records."""
        self._lent = False
        if self._studio is not None:
            self._read(self._studio.evidence())
            self.changed.emit()

    def _say_busy(self) -> None:
        if self._studio is not None:
            self.failed.emit(studio_busy(str(self._studio.folder)))

    def do(self, command: Callable[[Studio], Made]) -> Made | None:
        """Do one command on the records and tell everyone; None where it could not be done."""
        if self._studio is None or self._lent:
            self._say_busy()
            return None
        try:
            made = command(self._studio)
            self._read(self._studio.evidence())
        except StudioProblem as problem:
            self.failed.emit(problem)
            return None
        self.changed.emit()
        return made
