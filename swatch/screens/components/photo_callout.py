"""What lies over a photo as real controls: the callout with its actions, and the box where a corner is typed."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QDoubleSpinBox, QFrame, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from swatch.desk.photo_shapes import Callout
from swatch.screens.components.caution_line import TriangleMark
from swatch.screens.style import BODY, CAPTION, HALF, UNIT, look
from swatch.terms.measured import Point
from swatch.wording.text import _, say

WIDTH = 248


class CalloutBox(QFrame):
    """A warning in words, with what can be done about it; its actions are ink, since no accent comes near."""

    acted = Signal(str, str)  # outline key, action

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.callout: Callout | None = None
        self.setObjectName("callout")
        self.setFixedWidth(WIDTH)
        self.title, self.words = QLabel(), QLabel()
        self.title.setFont(look.font(BODY, strong=True))
        self.title.setWordWrap(True)
        self.words.setFont(look.font(CAPTION))
        self.words.setWordWrap(True)
        head = QHBoxLayout()
        head.setSpacing(UNIT)
        self.mark = TriangleMark(16)
        head.addWidget(self.mark, 0, Qt.AlignmentFlag.AlignTop)
        text = QVBoxLayout()
        text.setSpacing(HALF)
        text.addWidget(self.title)
        text.addWidget(self.words)
        head.addLayout(text, 1)
        head.setContentsMargins(UNIT, UNIT, UNIT, UNIT)
        self._actions = QHBoxLayout()
        self._actions.setSpacing(0)
        self._actions.setContentsMargins(0, 0, 0, 0)
        column = QVBoxLayout(self)
        column.setContentsMargins(2, 2, 2, 2)
        column.setSpacing(0)
        column.addLayout(head)
        column.addLayout(self._actions)
        look.changed.connect(self._dress)
        self._dress()
        self.hide()

    def show_callout(self, callout: Callout | None) -> None:
        """Say something about another outline, or nothing."""
        self.callout = callout
        while (item := self._actions.takeAt(0)) is not None:
            if (button := item.widget()) is not None:
                button.deleteLater()
        if callout is None:
            self.hide()
            return
        self.title.setText(callout.title)
        self.words.setText(callout.words)
        self.words.setVisible(bool(callout.words))
        self.setAccessibleName(callout.title)
        self.setAccessibleDescription(callout.words)
        for code, words in callout.actions:
            button = QPushButton(words)
            button.setAccessibleName(words)
            button.setFont(look.font(CAPTION, strong=True))
            button.clicked.connect(lambda _on=False, code=code: self.acted.emit(callout.key, code))
            self._actions.addWidget(button, 1)
        self.resize(self.wanted_size())
        self.show()

    def wanted_size(self) -> QSize:
        """As high as the words need."""
        layout = self.layout()
        high = (
            layout.totalHeightForWidth(WIDTH)
            if layout and layout.hasHeightForWidth()
            else self.sizeHint().height()
        )
        return QSize(WIDTH, high)

    def _dress(self) -> None:
        t = look.tokens
        self.setStyleSheet(
            f"QFrame#callout {{ background: {t.raised}; border: 2px solid {t.ink}; border-radius: 4px; }}"
            f"QPushButton {{ background: transparent; border: none; border-top: 1px solid {t.line};"
            f" border-radius: 0; min-height: 32px; padding: 0 4px; color: {t.ink}; }}"
            f"QPushButton + QPushButton {{ border-left: 1px solid {t.line}; }}"
            f"QPushButton:hover {{ background: {t.window}; }}"
            f"QPushButton:focus {{ border: 2px solid {t.ink}; }}"
        )


class CornerEntry(QFrame):
    """Two numbers where a corner, or a whole outline's first corner, is typed. Enter keeps, Escape leaves."""

    typed = Signal(float, float)
    closed = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setObjectName("entry")
        look.changed.connect(self._dress)
        self._dress()
        self.name = QLabel()
        self.across, self.down = (_Entry(say(text)) for text in (_("Across, pixels"), _("Down, pixels")))
        row = QHBoxLayout(self)
        row.setContentsMargins(UNIT, UNIT, UNIT, UNIT)
        row.setSpacing(UNIT)
        row.addWidget(self.name)
        for letter, box in (("x", self.across), ("y", self.down)):
            row.addWidget(QLabel(letter))
            row.addWidget(box)
            box.valueChanged.connect(self._changed)
            box.done.connect(self.closed)
        self.hide()

    def open_for(self, name: str, at: Point, photo: tuple[int, int]) -> None:
        """Show the place as numbers, ready to be typed over."""
        self.name.setText(name)
        for box, value, most in zip((self.across, self.down), at, photo, strict=True):
            box.blockSignals(True)
            box.setRange(0.0, float(most))
            box.setValue(value)
            box.blockSignals(False)
        self.adjustSize()
        self.show()
        self.raise_()
        self.across.setFocus()
        self.across.selectAll()

    def _dress(self) -> None:
        t = look.tokens
        self.setStyleSheet(
            f"QFrame#entry {{ background: {t.raised}; border: 2px solid {t.ink}; border-radius: 4px; }}"
        )

    def _changed(self) -> None:
        self.typed.emit(self.across.value(), self.down.value())


class _Entry(QDoubleSpinBox):
    done = Signal()

    def __init__(self, name: str) -> None:
        super().__init__()
        self.setDecimals(1)
        self.setAccessibleName(name)
        self.setMinimumWidth(104)
        # Typing 120 must not first move the corner to 1 and to 12.
        self.setKeyboardTracking(False)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Enter keeps what is typed and goes back to the photo; so does Escape, without what is half typed."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.interpretText()
            self.done.emit()
        elif event.key() == Qt.Key.Key_Escape:
            self.blockSignals(True)
            self.setValue(self.value())
            self.blockSignals(False)
            self.done.emit()
        else:
            super().keyPressEvent(event)
