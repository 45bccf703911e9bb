"""The few plain widgets every place is built from, sized and named alike."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QRect, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import (
    QComboBox,
    QDoubleSpinBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QLayout,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QSpinBox,
    QVBoxLayout,
    QWidget,
)

from swatch.screens.style import BODY, CAPTION, TITLE, UNIT, look

SIDE = 40
"""Height of buttons in a column beside the bench."""


class Words(QLabel):
    """One line of text in one of the type sizes; too long, it ends in … and the whole is its tooltip."""

    def __init__(
        self, text: str = "", size: int = BODY, *, strong: bool = False, quiet: bool = False, wrap: bool = False
    ) -> None:
        super().__init__()
        self._whole = ""
        self.setFont(look.font(size, strong=strong))
        self.setProperty("quiet", quiet)
        self.setWordWrap(wrap)
        self.setTextFormat(Qt.TextFormat.PlainText)
        if not wrap:
            self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        else:
            self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        self.say(text)

    def say(self, text: str) -> None:
        """Show another text."""
        self._whole = text
        self.setAccessibleName(text)
        self._fit()

    def hug(self) -> Words:
        """Take the width of the text and no more, beside something that grows."""
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        return self

    def whole(self) -> str:
        """The text, also where it is shown cut short."""
        return self._whole

    def sizeHint(self) -> QSize:  # noqa: N802
        """Room for the whole text on one line."""
        if self.wordWrap():
            return super().sizeHint()
        metrics = self.fontMetrics()
        return QSize(metrics.horizontalAdvance(self._whole) + 2, metrics.height())

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Cut to the new width."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        if self.wordWrap():
            self.setText(self._whole)
            return
        shown = self.fontMetrics().elidedText(self._whole, Qt.TextElideMode.ElideRight, max(self.width(), 24))
        self.setText(shown)
        self.setToolTip(self._whole if shown != self._whole else "")


def heading(text: str = "") -> Words:
    """A title of 22 px."""
    return Words(text, TITLE, strong=True)


def strong(text: str = "", *, wrap: bool = False) -> Words:
    """Body text in the heavier weight."""
    return Words(text, BODY, strong=True, wrap=wrap)


def quiet(text: str = "", *, wrap: bool = False) -> Words:
    """A caption."""
    return Words(text, CAPTION, quiet=True, wrap=wrap)


def plain(text: str = "", *, wrap: bool = False, size: int = CAPTION) -> Words:
    """Small text in full ink."""
    return Words(text, size, wrap=wrap)


class Rule(QFrame):
    """A hairline."""

    def __init__(self) -> None:
        super().__init__()
        self.setProperty("rule", True)
        self.setFixedHeight(1)


def button(
    text: str, pressed: Callable[[], object] | None = None, *, main: bool = False, tip: str = ""
) -> QPushButton:
    """A button that says what will happen; the one `main` button of a screen carries the accent."""
    made = QPushButton(text)
    made.setFont(look.font(BODY, strong=main))
    made.setProperty("main", main)
    made.setAccessibleName(text.replace("&", ""))
    made.setAutoDefault(False)
    if tip:
        made.setToolTip(tip)
    if pressed is not None:
        made.clicked.connect(lambda: pressed())
    return made


def link(text: str, pressed: Callable[[], object] | None = None) -> QPushButton:
    """Words that can be pressed, 32 px high."""
    made = button(text, pressed)
    made.setProperty("link", True)
    made.setFont(look.font(CAPTION, strong=True))
    made.setCursor(Qt.CursorShape.PointingHandCursor)
    made.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
    return made


class Choice(QComboBox):
    """A box to choose one of several names; ``chosen`` gives the value behind it, at the user's hand only."""

    chosen = Signal(object)

    def __init__(self, spoken: str, *, editable: bool = False) -> None:
        super().__init__()
        self.setAccessibleName(spoken)
        self.setEditable(editable)
        self.setMinimumContentsLength(2)
        self.setMinimumWidth(56)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMaxVisibleItems(16)
        self.activated.connect(lambda index: self.chosen.emit(self.itemData(index)))

    def offer(self, items: Sequence[tuple[str, object]], value: object = None) -> None:
        """Offer these names and values and show the one whose value is given, silently."""
        before = [(self.itemText(i), self.itemData(i)) for i in range(self.count())]
        if before != list(items):
            self.blockSignals(True)
            self.clear()
            for text, behind in items:
                self.addItem(text, behind)
            self.blockSignals(False)
        self.show_value(value)

    def show_value(self, value: object) -> None:
        """Show the item with this value, silently."""
        index = next((i for i in range(self.count()) if self.itemData(i) == value), -1)
        if index >= 0 and index != self.currentIndex():
            self.blockSignals(True)
            self.setCurrentIndex(index)
            self.blockSignals(False)


def _with_room(field: QSpinBox | QDoubleSpinBox) -> None:
    edit = field.lineEdit()
    if edit is not None:
        edit.setTextMargins(6, 0, 0, 0)


def whole_number(spoken: str, low: int, high: int, *, suffix: str = "") -> QSpinBox:
    """A field for a whole number."""
    made = QSpinBox()
    made.setRange(low, high)
    made.setAccessibleName(spoken)
    made.setSuffix(suffix)
    made.setKeyboardTracking(False)
    made.setMinimumWidth(56)
    _with_room(made)
    return made


def number(spoken: str, low: float, high: float, step: float = 0.1, *, suffix: str = "") -> QDoubleSpinBox:
    """A field for a number with one decimal."""
    made = QDoubleSpinBox()
    made.setRange(low, high)
    made.setDecimals(1)
    made.setSingleStep(step)
    made.setAccessibleName(spoken)
    made.setSuffix(suffix)
    made.setKeyboardTracking(False)
    made.setMinimumWidth(56)
    _with_room(made)
    return made


def text_field(spoken: str, hint: str = "") -> QLineEdit:
    """A field for a line of text."""
    made = QLineEdit()
    made.setAccessibleName(spoken)
    made.setPlaceholderText(hint)
    return made


def labelled(text: str | Words, field: QWidget) -> QVBoxLayout:
    """A caption with its field beneath; as words of their own where what they say will change."""
    caption = quiet(text) if isinstance(text, str) else text
    caption.setBuddy(field)
    column = QVBoxLayout()
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(2)
    column.addWidget(caption)
    column.addWidget(field)
    return column


def column(*, margins: int = 0, spacing: int = UNIT) -> QVBoxLayout:
    """A column with even margins."""
    made = QVBoxLayout()
    made.setContentsMargins(margins, margins, margins, margins)
    made.setSpacing(spacing)
    return made


def row(*, margins: int = 0, spacing: int = UNIT) -> QHBoxLayout:
    """A row with even margins."""
    made = QHBoxLayout()
    made.setContentsMargins(margins, margins, margins, margins)
    made.setSpacing(spacing)
    return made


def area(name: str, layout: QLayout | None = None, width: int = 0) -> QWidget:
    """A named ground: ``panel``, ``raised`` or ``header`` of the style sheet."""
    made = QWidget()
    made.setObjectName(name)
    made.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
    if layout is not None:
        made.setLayout(layout)
    if width:
        made.setFixedWidth(width)
    return made


def scrolled(inside: QWidget) -> QScrollArea:
    """Let a column be scrolled up and down where the window is low."""
    made = QScrollArea()
    made.setWidget(inside)
    made.setWidgetResizable(True)
    made.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    made.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    return made


def empty(layout: QLayout) -> None:
    """Take everything out of a layout."""
    while layout.count():
        item = layout.takeAt(0)
        if item is None:
            return
        inner, widget = item.layout(), item.widget()
        if inner is not None:
            empty(inner)
        if widget is not None:
            widget.hide()
            widget.deleteLater()


class Bench(QWidget):
    """The even ground under all colour."""

    def __init__(self) -> None:
        super().__init__()
        look.changed.connect(self.update)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """Lay the ground."""
        painter = QPainter(self)
        painter.fillRect(event.rect(), look.bench)
        painter.end()


class Empty(QWidget):
    """What an empty place says: what to do first, and the button that does it."""

    def __init__(self, sentence: str, hint: str = "", act: QWidget | None = None) -> None:
        super().__init__()
        inside = column(margins=4 * UNIT, spacing=UNIT)
        inside.addStretch(1)
        self.sentence = Words(sentence, BODY, strong=True, wrap=True)
        self.sentence.setAlignment(Qt.AlignmentFlag.AlignHCenter)
        inside.addWidget(self.sentence)
        self.hint = quiet(hint, wrap=True)
        self.hint.setAlignment(Qt.AlignmentFlag.AlignHCenter)
        inside.addWidget(self.hint)
        if act is not None:
            act.setMinimumWidth(200)
            inside.addWidget(act, 0, Qt.AlignmentFlag.AlignHCenter)
        inside.addStretch(2)
        self.setLayout(inside)


def dashed(painter: QPainter, rect: QRect, colour: QColor, width: float = 1.0) -> None:
    """Outline a rectangle with dashes: not known, or to be filled."""
    pen = QPen(colour, width)
    pen.setDashPattern([4, 3])
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(rect)


def restyle(widget: QWidget) -> None:
    """Have the style sheet look at the widget's properties again."""
    style = widget.style()
    style.unpolish(widget)
    style.polish(widget)
    widget.update()
