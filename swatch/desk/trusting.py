"""How far off predictions have been: predicted beside fired colours, the worst first, by kind of question."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QAbstractListModel, QModelIndex, QObject, QPersistentModelIndex, Qt, Signal

from swatch.desk.answer_rows import ROW_ROLE
from swatch.desk.colours_on_screen import screen_colours
from swatch.desk.next import Next
from swatch.terms.answers import Held, SaidAndFired, TrustAnswer
from swatch.wording.answers import difference_in_words, lab_in_words
from swatch.wording.text import _, say
from swatch.wording.trust import trust_kind_in_words

ALL = ""
"""Stands for every kind of question."""
Index = QModelIndex | QPersistentModelIndex
_TOP = QModelIndex()


class PairRows(QAbstractListModel):
    """Predicted beside fired, worst first."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._pairs: tuple[SaidAndFired, ...] = ()

    def show(self, pairs: Sequence[SaidAndFired]) -> None:
        """Put other pairs in place of the last."""
        self.beginResetModel()
        self._pairs = tuple(pairs)
        screen_colours().prepare([lab for pair in self._pairs for lab in (pair.said, pair.fired)])
        self.endResetModel()

    def pair(self, number: int) -> SaidAndFired:
        """One pair."""
        return self._pairs[number]

    def rowCount(self, parent: Index = _TOP) -> int:  # noqa: N802
        """How many pairs there are."""
        return 0 if parent.isValid() else len(self._pairs)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """The pair itself, its tile, or what is said of it."""
        if not index.isValid():
            return None
        pair = self._pairs[index.row()]
        if role == ROW_ROLE:
            return pair
        if role == Qt.ItemDataRole.DisplayRole:
            return f"{pair.tile} {pair.zone}"
        spoken = (Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.AccessibleDescriptionRole)
        return pair_in_words(pair) if role in spoken else None


def pair_in_words(pair: SaidAndFired) -> str:
    """A pair as a screen reader says it."""
    text = say(_("{tile} {zone}, asked as {kind}: predicted {said}, fired {fired}. {difference} ΔE00 {de:.1f}."))
    return text.format(
        tile=pair.tile,
        zone=pair.zone,
        kind=trust_kind_in_words(pair.question),
        said=lab_in_words(pair.said),
        fired=lab_in_words(pair.fired),
        difference=difference_in_words(pair.fired, pair.said),
        de=pair.de00,
    )


class Trusting(QObject):
    """What the check of the studio's predictions showed, and which kind of question is looked at."""

    changed = Signal()

    def __init__(self, found: Next) -> None:
        super().__init__(found)
        self._found = found
        self.rows = PairRows(self)
        self.kind = ALL
        self._shown: TrustAnswer | None = None
        found.trust_changed.connect(self._follow)

    @property
    def answer(self) -> TrustAnswer | None:
        """What was found; None until it is asked for, and once the records are others."""
        return self._found.trust

    @property
    def checking(self) -> bool:
        """Whether it is being found out."""
        return self._found.checking

    @property
    def desk(self) -> Next:
        """Where the check is asked for."""
        return self._found

    def kinds(self) -> list[str]:
        """Kinds of question that were tried."""
        return [line.question for line in self.answer.questions] if self.answer is not None else []

    def look_at(self, kind: str) -> None:
        """Look at one kind of question, or at all."""
        self.kind = kind if kind in self.kinds() else ALL
        self._lay()
        self.changed.emit()

    def curve(self, kind: str) -> list[Held]:
        """The calibration curve of one kind."""
        return [one for one in self.answer.curve if one.question == kind] if self.answer is not None else []

    def _follow(self) -> None:
        if self.answer is not self._shown:
            self._shown = self.answer
            self.kind = self.kind if self.kind in self.kinds() else ALL
            self._lay()
        self.changed.emit()

    def _lay(self) -> None:
        pairs = self.answer.pairs if self.answer is not None else ()
        self.rows.show([pair for pair in pairs if self.kind in (ALL, pair.question)])
