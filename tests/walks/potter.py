"""A potter at the window: does what hands do with real widgets, and counts the steps."""

from __future__ import annotations

from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QApplication

LONG = 120_000


class Potter:
    """Acts on the window and counts the steps."""

    def __init__(self, window, qtbot):
        self.window, self.qtbot, self.steps = window, qtbot, 0

    def press(self, button):
        self.qtbot.waitUntil(button.isVisible)
        assert button.isEnabled()
        self.steps += 1
        self.qtbot.mouseClick(button, Qt.MouseButton.LeftButton)

    def key(self, widget, key):
        self.steps += 1
        self.qtbot.keyClick(widget, key)

    def choose(self, view, row):
        self.steps += 1
        index = view.model().index(row, 0)
        view.scrollTo(index)
        at = view.visualRect(index).center()
        self.qtbot.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=at)

    def drop(self, *files):
        self.steps += 1
        mime = QMimeData()
        mime.setUrls([QUrl.fromLocalFile(str(file)) for file in files])
        left, none, copy = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, Qt.DropAction.CopyAction
        enter = QDragEnterEvent(QPoint(400, 400), copy, mime, left, none)
        QApplication.sendEvent(self.window, enter)
        assert enter.isAccepted()
        QApplication.sendEvent(self.window, QDropEvent(QPointF(400, 400), copy, mime, left, none))

    def wait(self, condition):
        self.qtbot.waitUntil(condition, timeout=LONG)
