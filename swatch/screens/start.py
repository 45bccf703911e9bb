"""Opens the window: style, desks, the studio that was open last; heavy libraries come in after the first paint."""

from __future__ import annotations

import importlib
import os
import sys
import threading
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6 import QtWidgets
from PySide6.QtCore import QLibraryInfo, QLocale, Qt, QTimer, QTranslator
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication

from swatch.desk.settings import Settings
from swatch.screens.main_window import MainWindow
from swatch.screens.style import look
from swatch.terms.problems import StudioProblem
from swatch.wording.languages import ENGLISH, chosen, speak, spoken

if TYPE_CHECKING:
    from swatch.desk.desks import Desks
    from swatch.screens.crash import CrashHook


def display_missing() -> bool:
    """Whether there is no screen to open a window on."""
    if sys.platform in ("win32", "darwin") or os.environ.get("QT_QPA_PLATFORM"):
        return False
    return not (os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def make_frame(app: QApplication, settings: Settings) -> MainWindow:
    """Dress the program and make its window's frame, as the user left it; nothing heavy is loaded for it."""
    _let_qt_speak(app)
    look.dress(app, settings.text("scheme", "system"))
    return MainWindow(settings)


def _let_qt_speak(app: QApplication) -> None:
    """Have Qt's own words, those of its dialogs and context menus, in the language of the rest."""
    language = spoken()
    if language == ENGLISH:
        return
    words = QTranslator(app)
    if words.load(f"qtbase_{language}", QLibraryInfo.path(QLibraryInfo.LibraryPath.TranslationsPath)):
        app.installTranslator(words)


def furnish(window: MainWindow, settings: Settings) -> Desks:
    """Bring the desks in, and the monitor's profile."""
    from swatch.desk.colours_on_screen import screen_colours
    from swatch.desk.desks import Desks

    desks = Desks(settings)
    profile = settings.text("screen profile")
    if profile:
        try:
            screen_colours().use_profile(Path(profile))
        except StudioProblem:
            settings.put("screen profile", "")  # the file is gone: sRGB, as the foot says
    window.attach(desks)
    return desks


LATER = (
    "numpy.ma",  # numpy itself asks for it late, when the first search is typed
    "swatch.library.studio",
    "swatch.screens.next_screen",
    "swatch.screens.tiles_screen",
    "swatch.screens.match_screen",
    "swatch.screens.photo_workspace",
    "swatch.screens.materials_screen",
    "swatch.screens.editions_screen",
    "swatch.screens.firings_screen",
    "swatch.work.workers",
    "swatch.work.measure",
    "swatch.work.bring_in",
)
"""What is needed soon after the first paint, loaded beside the window's own work."""


def warm_up() -> threading.Thread:
    """Load what the first steps need, off the UI thread, so that no step waits for it."""

    def load() -> None:
        for name in LATER:
            importlib.import_module(name)
        # PySide makes classes when they are first asked for, and all of them at the first call of some methods.
        for name in dir(QtWidgets):
            getattr(QtWidgets, name)

    thread = threading.Thread(target=load, name="load the rest", daemon=True)
    thread.start()
    return thread


def open_window(studio: Path | None) -> int:
    """Open the window on a studio, on the one that was open last, or on the welcome page; run until it is closed.

    Returns
    -------
    int
        The exit status.
    """
    app = QApplication.instance()
    if not isinstance(app, QApplication):
        QGuiApplication.setHighDpiScaleFactorRoundingPolicy(Qt.HighDpiScaleFactorRoundingPolicy.PassThrough)
        app = QApplication(sys.argv[:1])
    app.setApplicationName("Swatch")
    app.setApplicationDisplayName("")
    settings = Settings()
    if sys.platform == "darwin":  # where the desktop's language is not in the environment
        speak(chosen(settings.text("language"), QLocale.system().uiLanguages()))
    window = make_frame(app, settings)
    window.show()
    hooks: list[CrashHook] = []

    def begin() -> None:
        from swatch.screens.ahead import Ahead
        from swatch.screens.crash import CrashHook

        hooks.append(CrashHook(window))
        hooks[0].install()
        warm_up()
        desks = furnish(window, settings)
        Ahead(window)
        folder = studio if studio is not None else next(iter(settings.recent), None)
        if folder is not None:
            desks.studio.open(folder)

    QTimer.singleShot(0, begin)
    try:
        return app.exec()
    finally:
        for hook in hooks:
            hook.remove()
