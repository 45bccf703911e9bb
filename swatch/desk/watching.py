"""A folder that photos come into from the phone: a new one is offered once it is whole."""

from __future__ import annotations

import os
from pathlib import Path

from PySide6.QtCore import QFileSystemWatcher, QObject, QTimer, Signal

from swatch.desk.settings import Settings

PHOTO_ENDINGS = frozenset(
    (".jpg", ".jpeg", ".png", ".tif", ".tiff", ".heic", ".heif", ".webp", ".dng", ".cr2", ".cr3", ".nef", ".arw")
)
STILL_MS = 700
"""A file that has not grown for this long is taken for whole."""
FOLDER, SINCE = "watched folder", "watched since"


class Watching(QObject):
    """Looks at one folder; what came since it was last taken is waiting."""

    changed = Signal()

    def __init__(self, settings: Settings) -> None:
        super().__init__()
        self._settings = settings
        self._watcher = QFileSystemWatcher(self)
        self._watcher.directoryChanged.connect(lambda _folder: self.look())
        self._again = QTimer(self)
        self._again.setSingleShot(True)
        self._again.setInterval(STILL_MS)
        self._again.timeout.connect(self.look)
        self._sizes: dict[Path, tuple[int, int]] = {}
        self.waiting: tuple[Path, ...] = ()
        self._watch()

    @property
    def folder(self) -> Path | None:
        """The folder that is watched."""
        kept = self._settings.text(FOLDER)
        return Path(kept) if kept else None

    def watch(self, folder: Path | None) -> None:
        """Watch a folder from now on; what is in it already is not new. None: watch none."""
        self._settings.put(FOLDER, str(folder) if folder is not None else "")
        self._settings.put(SINCE, str(max((_came(one) for one in _photos(folder)), default=0)))
        self._sizes.clear()
        self._watch()

    def take(self) -> list[Path]:
        """Take the photos that are waiting; they are offered no more."""
        taken = list(self.waiting)
        if taken:
            self._settings.put(SINCE, str(max(map(_came, taken))))
            self.waiting = ()
            self.changed.emit()
        return taken

    def look(self) -> None:
        """Look what came; a file that still grows is looked at again."""
        new = [one for one in _photos(self.folder) if _came(one) > self._since()]
        sizes = {one: found for one in new if (found := _state(one)) is not None}
        whole = tuple(
            one for one in new if one in sizes and sizes[one][0] > 0 and self._sizes.get(one) == sizes[one]
        )
        self._sizes = sizes
        if len(whole) < len(sizes):
            self._again.start()
        if whole != self.waiting:
            self.waiting = whole
            self.changed.emit()

    def _since(self) -> int:
        kept = self._settings.text(SINCE, "0")
        return int(kept) if kept.isdigit() else 0

    def _watch(self) -> None:
        if watched := self._watcher.directories():
            self._watcher.removePaths(watched)
        folder = self.folder
        if folder is not None and folder.is_dir():
            self._watcher.addPath(str(folder))
        self.look()


def _photos(folder: Path | None) -> list[Path]:
    """Photos of a folder in the order they came; what a sync still writes under another name is none."""
    if folder is None or not folder.is_dir():
        return []
    with os.scandir(folder) as entries:
        found = [
            Path(entry.path)
            for entry in entries
            if not entry.name.startswith((".", "~"))
            and Path(entry.name).suffix.casefold() in PHOTO_ENDINGS
            and entry.is_file()
        ]
    return sorted(found, key=lambda one: (_came(one), one.name))


def _came(path: Path) -> int:
    """When a file came, ns: a sync may keep the time the photo was taken, so the later of both times counts."""
    try:
        state = path.stat()
    except OSError:  # gone again between two looks
        return 0
    return max(state.st_mtime_ns, state.st_ctime_ns)


def _state(path: Path) -> tuple[int, int] | None:
    try:
        state = path.stat()
    except OSError:
        return None
    return state.st_size, state.st_mtime_ns
