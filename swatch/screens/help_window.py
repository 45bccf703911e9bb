"""Help for each place, in a window beside the other one."""

from __future__ import annotations

from PySide6.QtWidgets import QDialog, QTextBrowser, QWidget

from swatch.resources import resource
from swatch.screens.style import look
from swatch.screens.widgets import button, column, row
from swatch.wording.text import say


class HelpWindow(QDialog):
    """One page of help; it holds nothing up."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle(say("Help"))
        self.setModal(False)
        self.resize(520, 640)
        self.page = QTextBrowser()
        self.page.setAccessibleName(say("Help"))
        self.page.setOpenExternalLinks(False)
        self.page.setFont(look.font())
        inside = column(margins=16)
        inside.addWidget(self.page, 1)
        keys = row()
        keys.addStretch(1)
        keys.addWidget(button(say("Close"), self.close))
        inside.addLayout(keys)
        self.setLayout(inside)

    def turn_to(self, topic: str) -> None:
        """Show the page on one topic."""
        self.page.setMarkdown(page_of(topic))
        self.page.moveCursor(self.page.textCursor().MoveOperation.Start)


def page_of(topic: str) -> str:
    """The text of one page; places without a page of their own get the general one."""
    file = resource("help", f"{topic}.md")
    if not file.is_file():
        file = resource("help", "welcome.md")
    return file.read_text(encoding="utf-8")


def show_help(parent: QWidget, topic: str) -> HelpWindow:
    """Open the help window at a topic, or turn the open one to it."""
    window = next((child for child in parent.children() if isinstance(child, HelpWindow)), None)
    if window is None:
        window = HelpWindow(parent)
    window.turn_to(topic)
    window.show()
    window.raise_()
    window.activateWindow()
    return window
