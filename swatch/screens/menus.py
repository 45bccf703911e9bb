"""The menu bar: everything the window can do, with its key."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, QObject, Qt
from PySide6.QtGui import QAction, QActionGroup, QKeySequence, QResizeEvent
from PySide6.QtWidgets import QFileDialog, QMenu, QWidget

from swatch.desk.colours_on_screen import screen_colours
from swatch.screens.places import PLACES
from swatch.screens.safekeeping_menu import SafekeepingMenu
from swatch.screens.style import SCHEMES, Surround, look
from swatch.screens.widgets import quiet, row
from swatch.terms.problems import StudioProblem
from swatch.wording.languages import AS_SYSTEM, LANGUAGES
from swatch.wording.text import say
from swatch.wording.units import Heat, Volume, Weight, units

if TYPE_CHECKING:
    from swatch.screens.main_window import MainWindow

Key = QKeySequence | QKeySequence.StandardKey | str | None


class Menus(QObject):
    """Fills the window's menu bar and keeps it true."""

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._window = window
        self._desks = window.desks
        bar = window.menuBar()
        self._studio_menu(bar.addMenu(say("Studio")))
        self._edit_menu(bar.addMenu(say("Edit")))
        self._view_menu(bar.addMenu(say("View")))
        self._place_menu(bar.addMenu(say("Place")))
        self._help_menu(bar.addMenu(say("Help")))
        self._name = quiet().hug()
        corner = QWidget()
        beside = row()
        beside.setContentsMargins(16, 0, 16, 0)
        beside.addWidget(self._name, 0, Qt.AlignmentFlag.AlignVCenter)
        corner.setLayout(beside)
        bar.setCornerWidget(corner, Qt.Corner.TopRightCorner)
        self.say_studio("")

    def _add(self, menu: QMenu, text: str, do: Callable[[], object], key: Key = None) -> QAction:
        action = QAction(text, self._window)
        if key is not None:
            action.setShortcut(key)
        action.triggered.connect(lambda _checked=False: do())
        menu.addAction(action)
        return action

    # Menus

    def _studio_menu(self, menu: QMenu) -> None:
        standard = QKeySequence.StandardKey
        self._add(menu, say("Start a studio…"), lambda: self._window.show_place("start"), standard.New)
        self._add(menu, say("Empty studio…"), self._start)
        self._add(menu, say("Open a studio…"), self._open, standard.Open)
        recent = menu.addMenu(say("Opened lately"))
        recent.aboutToShow.connect(lambda: self._list_recent(recent))
        self._add(menu, say("See the demo studio"), self._desks.welcoming.demo)
        menu.addSeparator()
        self._needing_studio = [
            self._add(menu, say("Open photos…"), self._window.choose_photos, "Ctrl+Shift+O"),
            self._add(menu, say("Watch a folder for photos…"), self._watch),
            self._add(menu, say("Import tables (CSV)…"), self._tables, "Ctrl+I"),
            self._add(
                menu, say("Boards and photo sheets…"), lambda: self._window.show_place("papers"), standard.Print
            ),
            self._add(menu, say("Close the studio"), self._desks.studio.close, standard.Close),
        ]
        self._unwatch = self._add(menu, say("Watch no folder"), lambda: self._desks.watching.watch(None))
        menu.aboutToShow.connect(lambda: self._unwatch.setEnabled(self._desks.watching.folder is not None))
        menu.addSeparator()
        self.safekeeping = SafekeepingMenu(self._window, menu)
        menu.addSeparator()
        self._add(menu, say("Quit"), self._window.close, standard.Quit)

    def _edit_menu(self, menu: QMenu) -> None:
        standard = QKeySequence.StandardKey
        self.undo = self._add(menu, say("Undo"), self._desks.undoing.undo, standard.Undo)
        self.redo = self._add(menu, say("Redo"), self._desks.undoing.redo, standard.Redo)
        menu.addSeparator()
        self._add(menu, say("Paste photos"), self._window.paste, "Ctrl+Shift+V")
        self._add(menu, say("Search"), self._window.search, standard.Find)

    def _view_menu(self, menu: QMenu) -> None:
        surrounds = {
            Surround.GREY: say("Mid grey round the swatches"),
            Surround.WHITE: say("White round the swatches"),
            Surround.BLACK: say("Black round the swatches"),
        }
        self._surrounds = self._one_of(
            menu,
            {str(which): text for which, text in surrounds.items()},
            lambda which: look.set_surround(Surround(which)),
            str(look.surround),
        )
        self._add(menu, say("Swap target and prediction") + "\tX", look.swap)
        menu.addSeparator()
        schemes = {
            "system": say("Light or dark as the system"),
            "light": say("Light"),
            "dark": say("Dark"),
        }
        kept = self._desks.settings.text("scheme", "system")
        self._one_of(menu, schemes, self._wear, kept if kept in SCHEMES else "system")
        menu.addSeparator()
        language = self._desks.settings.text("language", AS_SYSTEM)
        self._one_of(
            menu.addMenu(say("Language")),
            {AS_SYSTEM: say("As the system"), **LANGUAGES},
            self._speak,
            language if language in LANGUAGES else AS_SYSTEM,
        )
        self._units_menu(menu.addMenu(say("Units")))
        menu.addSeparator()
        self._add(menu, say("Choose the screen's profile…"), self._choose_profile)
        self._add(menu, say("Show colours as sRGB"), lambda: self._use_profile(""))

    def _units_menu(self, menu: QMenu) -> None:
        chosen, now = self._desks.units, units()
        heats = {Heat.CELSIUS: say("Temperatures in °C"), Heat.FAHRENHEIT: say("Temperatures in °F")}
        weights = {Weight.GRAMS: say("Weights in g"), Weight.OUNCES: say("Weights in oz")}
        volumes = {
            Volume.ML: say("Volumes in ml"),
            Volume.US_PINTS: say("Volumes in US pints (473 ml)"),
            Volume.UK_PINTS: say("Volumes in UK pints (568 ml)"),
        }
        self._one_of(menu, _texts(heats), lambda unit: chosen.choose(heat=Heat(unit)), now.heat)
        menu.addSeparator()
        self._one_of(menu, _texts(weights), lambda unit: chosen.choose(weight=Weight(unit)), now.weight)
        menu.addSeparator()
        self._one_of(menu, _texts(volumes), lambda unit: chosen.choose(volume=Volume(unit)), now.volume)

    def _place_menu(self, menu: QMenu) -> None:
        for number, (code, word) in enumerate(PLACES, 1):
            action = self._add(menu, say(word), partial(self._window.show_place, code), f"Ctrl+{number}")
            self._needing_studio.append(action)
        menu.addSeparator()
        self._needing_studio.append(
            self._add(menu, say("Photos being read"), lambda: self._window.show_place("measure"), "Ctrl+0")
        )
        for code, text, key in (
            ("tests", say("Tests to fire"), "Ctrl+7"),
            ("trust", say("How far off I've been"), "Ctrl+8"),
            ("what-if", say("What if…"), "Ctrl+9"),
        ):
            self._needing_studio.append(self._add(menu, text, partial(self._window.show_place, code), key))

    def _help_menu(self, menu: QMenu) -> None:
        self._add(menu, say("Help for this place"), self._window.help, QKeySequence.StandardKey.HelpContents)
        self._add(menu, say("Keys"), lambda: self._help_on("keys"))
        self._add(menu, say("What can hurt"), lambda: self._help_on("cautions"))
        menu.addSeparator()
        self._add(menu, say("About Swatch"), self._about)

    def _one_of(self, menu: QMenu, texts: dict[str, str], choose: Callable[[str], None], now: str) -> QActionGroup:
        group = QActionGroup(self._window)
        for which, text in texts.items():
            action = QAction(text, self._window)
            action.setCheckable(True)
            action.setChecked(which == now)
            action.setData(which)
            group.addAction(action)
            menu.addAction(action)
        group.triggered.connect(lambda action: choose(str(action.data())))
        return group

    # What they do

    def say_undo(self, undo: str, redo: str) -> None:
        """Name what Undo and Redo would do."""
        self.undo.setText(say("Undo “{name}”").format(name=undo) if undo else say("Undo"))
        self.redo.setText(say("Redo “{name}”").format(name=redo) if redo else say("Redo"))
        self.undo.setEnabled(bool(undo))
        self.redo.setEnabled(bool(redo))

    def say_studio(self, name: str) -> None:
        """Name the studio at the right end of the bar."""
        self._name.say(name)
        self._name.updateGeometry()
        corner = self._window.menuBar().cornerWidget(Qt.Corner.TopRightCorner)
        if corner is not None:
            corner.setFixedSize(self._name.sizeHint().width() + 32, 23)
            bar = self._window.menuBar()
            QCoreApplication.sendEvent(
                bar, QResizeEvent(bar.size(), bar.size())
            )  # it asks for no new layout itself
        for action in self._needing_studio:
            action.setEnabled(bool(name))

    def _list_recent(self, menu: QMenu) -> None:
        menu.clear()
        for folder in self._desks.settings.recent:
            text = f"{folder.name}  ({folder.parent})".replace("&", "&&")
            action = menu.addAction(text)
            action.triggered.connect(lambda _checked=False, folder=folder: self._desks.studio.open(folder))
        menu.setEnabled(True)

    def _open(self) -> None:
        folder = QFileDialog.getExistingDirectory(self._window, say("Open a studio"))
        if folder:
            self._desks.studio.open(Path(folder))

    def _start(self) -> None:
        folder, _kind = QFileDialog.getSaveFileName(
            self._window, say("Folder for the new studio"), say("My studio")
        )
        if folder:
            self._desks.studio.create(Path(folder))

    def _watch(self) -> None:
        watching = self._desks.watching
        folder = QFileDialog.getExistingDirectory(
            self._window, say("Folder that photos come into"), str(watching.folder or "")
        )
        if folder:
            watching.watch(Path(folder))
            self._window.tell(say("Photos that come into {folder} are offered on Next.").format(folder=folder))

    def _tables(self) -> None:
        files, _kind = QFileDialog.getOpenFileNames(
            self._window, say("Bring tables in"), "", say("Tables") + " (*.csv)"
        )
        if files:
            self._window.take_files([Path(file) for file in files])

    def _wear(self, scheme: str) -> None:
        self._desks.settings.put("scheme", scheme)
        look.choose(scheme)

    def _speak(self, language: str) -> None:
        self._desks.settings.put("language", language)
        self._window.tell(say("The language changes when the program is next started."))

    def _choose_profile(self) -> None:
        file, _kind = QFileDialog.getOpenFileName(
            self._window, say("Choose the screen's profile"), "", say("Colour profiles") + " (*.icc *.icm)"
        )
        if file:
            self._use_profile(file)

    def _use_profile(self, file: str) -> None:
        try:
            screen_colours().use_profile(Path(file) if file else None)
        except StudioProblem as problem:
            self._window.tell_problem(problem)
            return
        self._desks.settings.put("screen profile", file)

    def _help_on(self, topic: str) -> None:
        from swatch.screens.help_window import show_help

        show_help(self._window, topic)

    def _about(self) -> None:
        from swatch.screens.about import show_about

        show_about(self._window)


def _texts(units_in_words: Mapping[Heat, str] | Mapping[Weight, str] | Mapping[Volume, str]) -> dict[str, str]:
    return {str(unit): text for unit, text in units_in_words.items()}
