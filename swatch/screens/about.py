"""What this is, its versions, its limits, and the texts of what it is made with."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QDialog, QPlainTextEdit, QWidget

from swatch.resources import resource
from swatch.screens.crash import report
from swatch.screens.style import UNIT
from swatch.screens.widgets import button, column, heading, plain, row
from swatch.wording.text import say


class About(QDialog):
    """A window beside the other one; it holds nothing up."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle(say("About Swatch"))
        self.setModal(False)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.resize(560, 440)
        self.text = QPlainTextEdit(f"{report()}\n\n{_font_licence()}")
        self.text.setReadOnly(True)
        self.text.setAccessibleName(say("Versions and licences"))
        inside = column(margins=3 * UNIT, spacing=UNIT)
        inside.addWidget(heading("Swatch"))
        inside.addWidget(
            plain(
                say(
                    "What this program predicts was proven on simulated studios and on real paint and charts, not "
                    "yet on fired glazes. It never says that a surface is safe for food."
                ),
                wrap=True,
                size=15,
            )
        )
        inside.addWidget(self.text, 1)
        keys = row()
        keys.addStretch(1)
        keys.addWidget(button(say("Copy report"), self._copy))
        keys.addWidget(button(say("Close"), self.close))
        inside.addLayout(keys)
        self.setLayout(inside)

    def _copy(self) -> None:
        QGuiApplication.clipboard().setText(report())


def _font_licence() -> str:
    return resource("fonts", "OFL.txt").read_text(encoding="utf-8")


def show_about(parent: QWidget) -> About:
    """Open it."""
    about = About(parent)
    about.show()
    return about
