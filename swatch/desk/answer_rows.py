"""The rows of an answer: everything a list of layerings shows and says, prepared once before it is painted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QAbstractListModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from swatch.desk.colours_on_screen import cannot_show, screen_colours
from swatch.desk.kiln_draws import draws_of
from swatch.desk.sections import Section
from swatch.terms.answers import Suggestion
from swatch.terms.colour import Lab
from swatch.wording.answers import (
    chance_in_words,
    difference_in_words,
    evidence_in_words,
    layers_in_words,
    range_in_words,
)
from swatch.wording.text import _, say, say_many

ROW_ROLE = Qt.ItemDataRole.UserRole + 1
"""The whole `AnswerRow`."""
Index = QModelIndex | QPersistentModelIndex
_TOP = QModelIndex()


@dataclass(frozen=True, slots=True)
class AnswerRow:
    """One layering held against the target."""

    rank: int
    name: str
    evidence: str
    caution: str
    difference: str
    lab: Lab
    draws: tuple[Lab, ...]
    section: Section
    expected: float
    low: float
    high: float
    chance: float
    tolerance: float
    pieces: str = ""

    @property
    def range(self) -> str:
        """The likely range, in words."""
        return range_in_words(self.low, self.high)

    @property
    def chance_text(self) -> str:
        """The chance, in words."""
        return chance_in_words(self.chance)

    def spoken(self) -> str:
        """The row as a screen reader says it: what, how far, how sure, on what, and what to mind."""
        parts = [
            say(_("{rank}. {name}.")).format(rank=self.rank, name=self.name),
            self.difference,
            say(_("ΔE00 {de:.1f}, likely {range}, {chance} within {tolerance:.1f}.")).format(
                de=self.expected, range=self.range, chance=self.chance_text, tolerance=self.tolerance
            ),
            f"{self.evidence}.",
        ]
        parts += [f"{self.pieces}."] if self.pieces else []
        parts += [self.caution] if self.caution else []
        if not screen_colours().shown(self.lab).in_gamut:
            parts.append(cannot_show())
        return " ".join(parts)


def answer_row(rank: int, suggestion: Suggestion, target: Lab, section: Section, caution: str = "") -> AnswerRow:
    """Prepare one row; `caution` is the sentence that matters most, or empty."""
    prediction = suggestion.prediction
    low, high = suggestion.de00_80
    return AnswerRow(
        rank=rank,
        name=layers_in_words(prediction.question.layers),
        evidence=evidence_in_words(prediction.grounds, short=True),
        caution=caution,
        difference=difference_in_words(prediction.lab, target),
        lab=prediction.lab,
        draws=draws_of(prediction),
        section=section,
        expected=suggestion.de00_expected,
        low=low,
        high=high,
        chance=suggestion.chance_within,
        tolerance=suggestion.tolerance,
        pieces=pieces_in_words(suggestion.pieces_possible),
    )


def pieces_in_words(pieces: tuple[int, int] | None) -> str:
    """Say how many pieces the stock is enough for, by the low end of the range."""
    if pieces is None:
        return ""
    return say_many("{n} piece", "{n} pieces", pieces[0]).format(n=pieces[0])


class AnswerRows(QAbstractListModel):
    """The answers to one target, nearest first."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.target: Lab | None = None
        self._rows: tuple[AnswerRow, ...] = ()

    def show(self, target: Lab | None, rows: Sequence[AnswerRow]) -> None:
        """Put another answer in place of the last."""
        self.beginResetModel()
        self.target, self._rows = target, tuple(rows)
        seen = [lab for row in self._rows for lab in (row.lab, *row.draws)]
        screen_colours().prepare(([target] if target else []) + seen)
        self.endResetModel()

    def row(self, number: int) -> AnswerRow:
        """The answer in one row."""
        return self._rows[number]

    def rowCount(self, parent: Index = _TOP) -> int:  # noqa: N802
        """How many answers there are."""
        return 0 if parent.isValid() else len(self._rows)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """The row itself, its name, or what is said of it."""
        if not index.isValid():
            return None
        row = self._rows[index.row()]
        if role == ROW_ROLE:
            return row
        if role == Qt.ItemDataRole.DisplayRole:
            return row.name
        if role in (Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.AccessibleDescriptionRole):
            return row.spoken()
        return None
