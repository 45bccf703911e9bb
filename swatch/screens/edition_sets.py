"""Sorting measured pieces into pairs and sets, and which to hold back."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRect, QSize
from PySide6.QtGui import QPainter

from swatch.desk.checking import Checking
from swatch.screens.components.painting import Painted, fill, write
from swatch.screens.seen import Seen, when_seen
from swatch.screens.style import UNIT, look
from swatch.screens.widgets import column, labelled, plain, row, strong, whole_number
from swatch.terms.colour import Lab
from swatch.wording.numbers import number_in_words
from swatch.wording.text import say, say_many

SWATCH, SET_ROW = 48, 56
MOST_DRAWN = 200
"""Sets that are drawn: 350 pieces in pairs are 175."""


class SetRows(Painted):
    """Sets one below the other; the pieces of a set touch."""

    def __init__(self) -> None:
        super().__init__()
        self._sets: Sequence[tuple[str, ...]] = ()
        self._colours: dict[str, Lab] = {}
        self._apart: Sequence[float] = ()

    def show_sets(
        self, sets: Sequence[tuple[str, ...]], colours: dict[str, Lab], apart: Sequence[float] = ()
    ) -> None:
        """Show others; `apart` is how far apart, ΔE00, the two pieces of each set are that differ most."""
        self._sets, self._colours, self._apart = sets[:MOST_DRAWN], colours, apart[:MOST_DRAWN]
        self.say_as(say("Sets"), "; ".join(", ".join(one) for one in sets))
        self.setVisible(bool(sets))
        self.updateGeometry()
        self.update()

    def wanted_size(self) -> QSize:
        """A row a set."""
        longest = max((len(one) for one in self._sets), default=2)
        return QSize(max(480, longest * SWATCH + 360), SET_ROW * max(len(self._sets), 1) + 8)

    def paint(self, painter: QPainter) -> None:
        """Swatches, then names."""
        for k, one in enumerate(self._sets):
            top = 8 + k * SET_ROW
            for n, name in enumerate(one):
                fill(painter, QRect(16 + n * SWATCH, top, SWATCH, SET_ROW - 8), self._colours.get(name))
            words = QRect(32 + len(one) * SWATCH, top, self.width() - 40 - len(one) * SWATCH, SET_ROW - 8)
            text = ",  ".join(one)
            if k < len(self._apart):
                text = say("{pieces}:  {de00} ΔE00 apart at most").format(
                    pieces=text, de00=number_in_words(self._apart[k])
                )
            write(painter, words, text, look.bench_ink, size=15)


class EditionSets(Seen):
    """How many to a set, how many to hold back, and the sets."""

    def __init__(self, checking: Checking) -> None:
        super().__init__()
        self._checking = checking
        self.many = whole_number(say("Pieces of a set"), 2, 12)
        self.back = whole_number(say("Pieces to hold back"), 0, 999)
        self.sentence, self.held_back = strong(wrap=True), plain(wrap=True)
        self.sets = SetRows()
        line = row(spacing=2 * UNIT)
        line.addLayout(labelled(say("Pieces of a set"), self.many))
        line.addLayout(labelled(say("Hold back"), self.back))
        line.addStretch(1)
        inside = column(spacing=2 * UNIT)
        inside.addLayout(line)
        inside.addWidget(self.sentence)
        inside.addWidget(self.held_back)
        inside.addWidget(self.sets)
        inside.addStretch(1)
        self.setLayout(inside)
        for field in (self.many, self.back):
            field.valueChanged.connect(self._sort)
        checking.shown.connect(self.follow)
        self.follow()

    def _sort(self, _value: int = 0) -> None:
        self._checking.sort_into(self.many.value(), self.back.value())

    @when_seen
    def follow(self) -> None:
        """Show what the desk knows now."""
        answer = self._checking.answer
        for field, value in ((self.many, self._checking.set_size), (self.back, self._checking.hold_back)):
            field.blockSignals(True)
            field.setValue(value)
            field.blockSignals(False)
        sets = answer.sets if answer is not None else ()
        n = len(sets)
        if self._checking.busy:
            text = say("Sorting…")
        elif not sets:
            text = say("No pieces to sort yet: measure those that are for sale.")
        else:
            text = say_many(
                "{n} set whose pieces are nearest to each other", "{n} sets, nearest pieces together", n
            )
        self.sentence.say(text.format(n=n))
        held = answer.held_back if answer is not None else ()
        self.held_back.say(say("Hold back: {pieces}.").format(pieces=", ".join(held)) if held else "")
        self.held_back.setVisible(bool(held))
        region = self._checking.first_region
        apart = answer.sets_de00 if answer is not None else ()
        self.sets.show_sets(sets, dict(self._checking.colours(region)), apart)
