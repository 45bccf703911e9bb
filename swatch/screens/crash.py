"""Our own mistakes: written to a log, shown without stopping the work, ready to be copied."""

from __future__ import annotations

import logging
import sys
import traceback
from collections.abc import Callable
from logging.handlers import RotatingFileHandler
from types import TracebackType
from typing import TYPE_CHECKING

from PySide6.QtGui import QGuiApplication

from swatch.desk.settings import settings_folder
from swatch.wording.text import say

if TYPE_CHECKING:
    from swatch.screens.main_window import MainWindow

LOG_BYTES = 500_000
LOGS_KEPT = 2
Hook = Callable[[type[BaseException], BaseException, TracebackType | None], object]


class CrashHook:
    """Catches what nothing else caught."""

    def __init__(self, window: MainWindow) -> None:
        self._window = window
        self._before: Hook = sys.excepthook
        self._log = logging.getLogger("swatch.window")
        window.bug.connect(self.tell)

    def install(self) -> None:
        """Listen from now on."""
        self._before = sys.excepthook
        sys.excepthook = self._caught
        folder = settings_folder()
        try:
            folder.mkdir(parents=True, exist_ok=True)
            handler = RotatingFileHandler(
                folder / "swatch.log", maxBytes=LOG_BYTES, backupCount=LOGS_KEPT, encoding="utf-8", delay=True
            )
        except OSError:
            return  # without a log the message in the window still has it all
        handler.setFormatter(logging.Formatter("%(asctime)s %(message)s"))
        self._log.addHandler(handler)

    def remove(self) -> None:
        """Listen no longer."""
        sys.excepthook = self._before
        for handler in list(self._log.handlers):
            self._log.removeHandler(handler)
            handler.close()

    def tell(self, error: BaseException) -> None:
        """Show one mistake of ours; the work goes on."""
        text = "".join(traceback.format_exception(error))
        self._log.error(text)
        QGuiApplication.clipboard().setText(report(text))
        self._window.tell(
            say("Something went wrong in the program itself; nothing of yours was changed by it."),
            say("A report is on the clipboard, ready to be pasted: {what}").format(
                what=text.strip().splitlines()[-1]
            ),
        )

    def _caught(self, kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        if issubclass(kind, KeyboardInterrupt):
            self._before(kind, error, trace)
            return
        sys.__excepthook__(kind, error, trace)
        self.tell(error)


def report(trace: str = "") -> str:
    """Versions and, where something went wrong, what; nothing of the studio."""
    import platform
    from importlib.metadata import PackageNotFoundError, version

    lines = [f"Python {platform.python_version()}, {platform.platform()}"]
    for name in ("swatch", "PySide6-Essentials", "numpy", "scipy", "opencv-python-headless", "scikit-learn"):
        try:
            lines.append(f"{name} {version(name)}")
        except PackageNotFoundError:
            lines.append(f"{name}: not installed as a package")
    screen = QGuiApplication.primaryScreen()
    if screen is not None:
        size = screen.size()
        lines.append(f"screen {size.width()}×{size.height()}, scale {screen.devicePixelRatio():g}")
    return "\n".join([*lines, "", trace.strip()]).strip()
