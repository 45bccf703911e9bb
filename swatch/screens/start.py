"""Opens the window: style, desks, the studio that was open last; heavy libraries come in after the first paint."""

from __future__ import annotations

import os
import sys
from pathlib import Path

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication

from swatch.desk.colours_on_screen import screen_colours
from swatch.desk.desks import Desks
from swatch.screens.crash import CrashHook
from swatch.screens.main_window import MainWindow
from swatch.screens.menus import SCHEMES
from swatch.screens.style import look
from swatch.terms.problems import StudioProblem


def display_missing() -> bool:
    """Whether there is no screen to open a window on."""
    if sys.platform in ("win32", "darwin") or os.environ.get("QT_QPA_PLATFORM"):
        return False
    return not (os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def make_window(app: QApplication, desks: Desks) -> MainWindow:
    """Dress the program and make its window, as the user left it."""
    scheme = desks.settings.text("scheme", "system")
    if scheme in ("light", "dark"):
        QGuiApplication.styleHints().setColorScheme(SCHEMES[scheme])
    look.dress(app)
    profile = desks.settings.text("screen profile")
    if profile:
        try:
            screen_colours().use_profile(Path(profile))
        except StudioProblem:
            desks.settings.put("screen profile", "")  # the file is gone: sRGB, as the foot says
    return MainWindow(desks)


def open_window(studio: Path | None) -> int:
    """Open the window on a studio, on the one that was open last, or on the welcome page; run until it is closed.

    Returns
    -------
    int
        The exit status.
    """
    QGuiApplication.setHighDpiScaleFactorRoundingPolicy(Qt.HighDpiScaleFactorRoundingPolicy.PassThrough)
    app = QApplication.instance()
    if not isinstance(app, QApplication):
        app = QApplication(sys.argv[:1])
    app.setApplicationName("Swatch")
    app.setApplicationDisplayName("")
    desks = Desks()
    window = make_window(app, desks)
    hook = CrashHook(window)
    hook.install()
    folder = studio if studio is not None else next(iter(desks.settings.recent), None)
    window.show()
    if folder is not None:
        QTimer.singleShot(0, lambda: desks.studio.open(folder))
    try:
        return app.exec()
    finally:
        desks.close()
        hook.remove()
