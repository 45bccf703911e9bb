"""Help for each place, in a window beside the other one."""

from __future__ import annotations

from PySide6.QtGui import QFont, QTextBlockFormat, QTextCharFormat, QTextCursor
from PySide6.QtWidgets import QDialog, QTextBrowser, QWidget

from swatch.screens.style import BODY, TITLE, look
from swatch.screens.widgets import button, column, row
from swatch.wording.languages import help_page
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
        self.page.setFont(look.reading_font())
        self.page.document().setDocumentMargin(16)
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
        self._space_out()
        self.page.moveCursor(self.page.textCursor().MoveOperation.Start)

    def _space_out(self) -> None:
        """Part the paragraphs, which Markdown sets close."""
        cursor = QTextCursor(self.page.document())
        cursor.select(QTextCursor.SelectionType.Document)
        spaced = QTextBlockFormat()
        spaced.setBottomMargin(8)
        cursor.mergeBlockFormat(spaced)
        for start, length, size in self._heavy_parts():
            cursor.setPosition(start)
            cursor.setPosition(start + length, QTextCursor.MoveMode.KeepAnchor)
            heavy = QTextCharFormat()
            heavy.setFont(look.font(size, strong=True))
            cursor.mergeCharFormat(heavy)

    def _heavy_parts(self) -> list[tuple[int, int, int]]:
        """Start, length and size of what is bold: its weight is an axis of the font, which Markdown cannot set."""
        out: list[tuple[int, int, int]] = []
        block = self.page.document().begin()
        while block.isValid():
            size = TITLE if block.blockFormat().headingLevel() else BODY
            part = block.begin()
            while not part.atEnd():
                fragment = part.fragment()
                part += 1
                if fragment.charFormat().fontWeight() > QFont.Weight.Medium:
                    out.append((fragment.position(), fragment.length(), size))
            block = block.next()
        return out


def page_of(topic: str) -> str:
    """The text of one page; places without a page of their own get the general one."""
    file = help_page(topic) or help_page("welcome")
    assert file is not None
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
