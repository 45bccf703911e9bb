"""Two colours that are compared: they touch, edge to edge, with no line between."""

from __future__ import annotations

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QKeyEvent, QPainter
from PySide6.QtWidgets import QHBoxLayout, QLabel, QWidget

from swatch.desk.colours_on_screen import cannot_show, screen_colours
from swatch.screens.components.painting import Painted, fill
from swatch.screens.style import UNIT, look
from swatch.terms.colour import Lab
from swatch.wording.answers import difference_in_words, lab_in_words
from swatch.wording.text import _, say

TARGET_WIDTH, OTHER_WIDTH, HEIGHT = 40, 48, 56


class SwatchPair(Painted):
    """Target and prediction on the bench. X swaps them, S changes what lies around."""

    def __init__(
        self,
        target: Lab | None = None,
        other: Lab | None = None,
        *,
        names: tuple[str, str] | None = None,
        size: QSize | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._names = names or (say(_("Target")), say(_("Prediction")))
        self._size = size or QSize(TARGET_WIDTH + OTHER_WIDTH, HEIGHT)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        screen_colours().changed.connect(self._speak)
        self.show_pair(target, other)

    def show_pair(self, target: Lab | None, other: Lab | None) -> None:
        """Lay two other colours side by side; None where one is not known."""
        self.target, self.other = target, other
        self._speak()
        self.update()

    def words(self) -> str:
        """How the second differs from the first."""
        if self.target is None or self.other is None:
            return say(_("Nothing to compare yet."))
        return difference_in_words(self.other, self.target)

    def wanted_size(self) -> QSize:
        """Both swatches, with bench around them."""
        return self._size + QSize(4 * UNIT, 2 * UNIT)

    def halves(self) -> tuple[QRect, QRect]:
        """Where target and prediction lie now; they share an edge."""
        area = self.rect().adjusted(2 * UNIT, UNIT, -2 * UNIT, -UNIT)
        share = TARGET_WIDTH / (TARGET_WIDTH + OTHER_WIDTH)
        target_width = round(area.width() * share)
        left_width = area.width() - target_width if look.swapped else target_width
        left = QRect(area.left(), area.top(), left_width, area.height())
        right = QRect(area.left() + left_width, area.top(), area.width() - left_width, area.height())
        return (right, left) if look.swapped else (left, right)

    def paint(self, painter: QPainter) -> None:
        """Both colours."""
        target, other = self.halves()
        fill(painter, target, self.target)
        fill(painter, other, self.other)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """X swaps, S changes the surround."""
        if event.key() == Qt.Key.Key_X:
            look.swap()
        elif event.key() == Qt.Key.Key_S:
            look.next_surround()
        else:
            super().keyPressEvent(event)

    def _speak(self) -> None:
        parts = []
        for name, lab in zip(self._names, (self.target, self.other), strict=True):
            if lab is None:
                parts.append(say(_("{name}: not known.")).format(name=name))
                continue
            parts.append(f"{name}: {lab_in_words(lab)}.")
            if not screen_colours().shown(lab).in_gamut:
                parts.append(cannot_show())
        self.say_as(" / ".join(self._names), " ".join([*parts, self.words()]))


class PairWithWords(QWidget):
    """A pair, and beside the bench the difference in words."""

    def __init__(self, pair: SwatchPair, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.pair, self.words = pair, QLabel(pair.words())
        self.words.setFont(look.font(15, strong=True))
        self.words.setWordWrap(True)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(2 * UNIT)
        row.addWidget(pair)
        row.addWidget(self.words, 1)

    def show_pair(self, target: Lab | None, other: Lab | None) -> None:
        """Compare two other colours."""
        self.pair.show_pair(target, other)
        self.words.setText(self.pair.words())
