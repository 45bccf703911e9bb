"""The part of the studio's menu that keeps it safe: a copy out, a copy back, the records checked."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QStandardPaths
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QFileDialog, QMenu

from swatch.wording.problems import problem_in_words
from swatch.wording.text import say, say_many

if TYPE_CHECKING:
    from swatch.screens.main_window import MainWindow
    from swatch.work.check_studio import Checked


class SafekeepingMenu(QObject):
    """Three actions, and what is said when each is done."""

    def __init__(self, window: MainWindow, menu: QMenu) -> None:
        super().__init__(menu)
        self._window = window
        self._keeping = window.desks.safekeeping
        self.save = self._action(menu, self._save)
        self.back = self._action(menu, self._bring_back)
        self.check = self._action(menu, self._keeping.check)
        menu.aboutToShow.connect(self.follow)
        self._keeping.changed.connect(self.follow)
        window.desks.studio.settled.connect(self.follow)
        self._keeping.copied.connect(self._copied)
        self._keeping.brought_back.connect(self._brought_back)
        self._keeping.checked.connect(self._checked)
        self.follow()

    def _action(self, menu: QMenu, do: object) -> QAction:
        action = QAction(self._window)
        action.triggered.connect(lambda _checked=False: do())  # type: ignore[operator]
        menu.addAction(action)
        return action

    def follow(self) -> None:
        """Say when the last copy was saved; one thing at a time."""
        open_now, busy = self._window.desks.studio.studio is not None, self._keeping.busy
        last = self._keeping.last_copy
        when = say("last {date}").format(date=last) if last else say("none yet")
        text = say("Save a copy of the studio… ({when})").format(when=when)
        self.save.setText(text if open_now else say("Save a copy of the studio…"))
        self.back.setText(say("Bring a copy back…"))
        self.check.setText(say("Check the records"))
        for action in (self.save, self.check):
            action.setEnabled(open_now and not busy)
        self.back.setEnabled(not busy)

    def _save(self) -> None:
        folder = _documents() / self._keeping.name_for_copy()
        file, _kind = QFileDialog.getSaveFileName(
            self._window, say("Save a copy of the studio"), str(folder), say("Copies of a studio") + " (*.zip)"
        )
        if file:
            self._keeping.save_copy(Path(file if file.casefold().endswith(".zip") else f"{file}.zip"))

    def _bring_back(self) -> None:
        file, _kind = QFileDialog.getOpenFileName(
            self._window, say("Bring a copy back"), str(_documents()), say("Copies of a studio") + " (*.zip)"
        )
        if not file:
            return
        folder, _kind = QFileDialog.getSaveFileName(
            self._window, say("Folder for the studio that comes back"), str(_documents() / Path(file).stem)
        )
        if folder:
            self._keeping.bring_back(Path(file), Path(folder))

    def _copied(self, out: Path, size: int) -> None:
        text = say("The studio is copied into {file} ({megabytes:.1f} MB).")
        keep = say("Keep it on another disk: one on this computer goes with it.")
        self._window.tell(text.format(file=out, megabytes=size / 1e6), keep)

    def _brought_back(self, into: Path) -> None:
        self._window.tell(say("The studio is back in {folder}, and open.").format(folder=into))

    def _checked(self, checked: Checked) -> None:
        if not checked.problems:
            well = say("Every record reads well, and every photo is as it was kept.")
            sealed = say("What changed on the disk since it was last closed properly would show, too.")
            open_now = say("While a studio is open its records bear no seal: a figure gone wrong would not show.")
            self._window.tell(well, sealed if checked.sealed == "before" else open_now)
            return
        n = len(checked.problems)
        text = say_many("{n} thing is damaged.", "{n} things are damaged.", n).format(n=n)
        happened, next_step = problem_in_words(checked.problems[0])
        self._window.tell(f"{text} {happened}", next_step)


def _documents() -> Path:
    found = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation)
    return Path(found) if found else Path.home()
