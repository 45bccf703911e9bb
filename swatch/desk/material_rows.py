"""The rows of the shelf."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QAbstractListModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from swatch.terms.colour import Lab
from swatch.terms.materials import Material
from swatch.wording.surface import kind_in_words, status_in_words
from swatch.wording.units import grams_in_words

Index = QModelIndex | QPersistentModelIndex


@dataclass(frozen=True, slots=True)
class Cell:
    """A material's colour at one cone: measured (one colour), predicted (a spread), or not known."""

    measured: Lab | None = None
    draws: tuple[Lab, ...] = ()


@dataclass(frozen=True, slots=True)
class MaterialRow:
    """One material as it stands on the shelf."""

    material: Material
    cells: tuple[Cell, ...]
    uses: int
    raw: Lab | None = None

    @property
    def spoken(self) -> str:
        """The row for who hears instead of sees."""
        material = self.material
        left = f", {grams_in_words(material.left_g)}" if material.left_g is not None else ""
        return f"{material.name}, {kind_in_words(material.kind)}, {status_in_words(material.status)}{left}"


class MaterialRows(QAbstractListModel):
    """The shelf as a list."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._rows: list[MaterialRow] = []

    def show_rows(self, rows: list[MaterialRow]) -> None:
        """Put another shelf up; the same materials keep their places and their choice."""
        same = [row.material.name for row in rows] == [row.material.name for row in self._rows]
        if same and rows:
            self._rows = rows
            self.dataChanged.emit(self.index(0), self.index(len(rows) - 1))
            return
        self.beginResetModel()
        self._rows = rows
        self.endResetModel()

    def row(self, number: int) -> MaterialRow | None:
        """One material."""
        return self._rows[number] if 0 <= number < len(self._rows) else None

    def row_of(self, name: str) -> int:
        """Where a material stands; -1 where it does not."""
        return next((n for n, row in enumerate(self._rows) if row.material.name == name), -1)

    def rowCount(self, parent: Index | None = None) -> int:  # noqa: N802
        """How many materials."""
        return 0 if parent is not None and parent.isValid() else len(self._rows)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Name, row and spoken row."""
        row = self.row(index.row())
        if row is None:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return row.material.name
        if role == Qt.ItemDataRole.UserRole:
            return row
        if role in (Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole):
            return row.spoken
        return None
