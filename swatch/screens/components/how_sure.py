"""How sure an answer is: the sentence, what it means to the eye, range and chance, what it rests on."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from swatch.desk.sureness import Sureness
from swatch.screens.style import BODY, CAPTION, HALF, UNIT, look
from swatch.wording.text import _, say


class HowSure(QWidget):
    """The block of words beside a prediction; `evidence_asked` when what it rests on is wanted."""

    evidence_asked = Signal()

    def __init__(self, sureness: Sureness | None = None, *, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.sentence, self.eye, self.number, self.evidence = (QLabel() for _part in range(4))
        self.sentence.setFont(look.font(BODY, strong=True))
        for label in (self.eye, self.number, self.evidence):
            label.setFont(look.font(CAPTION))
        self.evidence.setProperty("quiet", True)
        self.show_evidence = QPushButton(say(_("Show them")))
        self.show_evidence.setProperty("link", True)
        self.show_evidence.setFont(look.font(CAPTION, strong=True))
        self.show_evidence.setCursor(Qt.CursorShape.PointingHandCursor)
        self.show_evidence.setAccessibleName(say(_("Show what this answer rests on")))
        self.show_evidence.clicked.connect(self.evidence_asked)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(HALF)
        for label in (self.sentence, self.eye, self.number):
            label.setWordWrap(True)
            column.addWidget(label)
        self.evidence.setWordWrap(True)
        last = QHBoxLayout()
        last.setSpacing(UNIT)
        last.addWidget(self.evidence, 1)
        last.addWidget(self.show_evidence)
        column.addLayout(last)
        self.show_sureness(sureness)

    def show_sureness(self, sureness: Sureness | None) -> None:
        """Say how sure another answer is; None empties the block."""
        lines = (sureness.sentence, sureness.eye, sureness.number, sureness.evidence) if sureness else ("",) * 4
        for label, text in zip((self.sentence, self.eye, self.number, self.evidence), lines, strict=True):
            label.setText(text)
        self.show_evidence.setVisible(sureness is not None)
        self.setAccessibleName(say(_("How sure")))
        self.setAccessibleDescription(sureness.spoken() if sureness else "")
