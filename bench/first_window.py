"""First painted window ÷ a bare PySide6 window, process start to first paint, in one run.

``python -m bench.first_window``. Both are whole processes, started in turn, on the offscreen platform.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time

ROUNDS = 9

BARE = """
from PySide6.QtCore import QEvent, QObject, QTimer
from PySide6.QtWidgets import QApplication, QMainWindow, QLabel

class Watch(QObject):
    def eventFilter(self, thing, event):
        if event.type() == QEvent.Type.Paint:
            QTimer.singleShot(0, QApplication.quit)
        return False

app = QApplication([])
window = QMainWindow()
window.setCentralWidget(QLabel("A bare window"))
watch = Watch()
window.centralWidget().installEventFilter(watch)
window.resize(1280, 800)
window.show()
app.exec()
"""

OURS = """
import sys
from PySide6.QtCore import QEvent, QObject, QTimer
from PySide6.QtWidgets import QApplication
from swatch.desk.settings import Settings
from swatch.screens.start import make_frame

class Watch(QObject):
    def eventFilter(self, thing, event):
        if event.type() == QEvent.Type.Paint:
            QTimer.singleShot(0, QApplication.quit)
        return False

app = QApplication([])
window = make_frame(app, Settings())
watch = Watch()
window.centralWidget().installEventFilter(watch)
window.show()
app.exec()
heavy = {"cv2", "scipy", "sklearn", "colour", "pyqtgraph", "PIL"} & set(sys.modules)
assert not heavy, heavy
import os
os._exit(0)
"""


def seconds(script: str, settings: str) -> float:
    """Run one process to its first paint and its end."""
    environment = os.environ | {"QT_QPA_PLATFORM": "offscreen", "SWATCH_CONFIG_DIR": settings}
    began = time.perf_counter()
    subprocess.run([sys.executable, "-c", script], check=True, env=environment)
    return time.perf_counter() - began


def main() -> None:
    """Print the ratio of medians and of each pair."""
    with tempfile.TemporaryDirectory() as settings:
        seconds(BARE, settings), seconds(OURS, settings)
        pairs = [(seconds(OURS, settings), seconds(BARE, settings)) for _ in range(ROUNDS)]
    ratios = sorted(ours / bare for ours, bare in pairs)
    ours, bare = (statistics.median(side) for side in zip(*pairs, strict=True))
    print(
        f"first window ÷ bare PySide6 window: {ours / bare:.2f} of medians "
        f"({ours:.2f} s ÷ {bare:.2f} s; pairs {ratios[0]:.2f} to {ratios[-1]:.2f}, n {ROUNDS})"
    )


if __name__ == "__main__":
    main()
