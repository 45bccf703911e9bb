"""Invented colours and layerings for the gallery of components; nothing here was ever fired."""

from __future__ import annotations

import random
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QAbstractListModel, QModelIndex, QPersistentModelIndex, Qt

from swatch.desk.answer_rows import AnswerRow, answer_row
from swatch.desk.plane import Plane, PlanePoint
from swatch.desk.sections import Section, section_of
from swatch.desk.tile_cells import TileCell, cell
from swatch.terms.answers import Basis, Grounds, Prediction, Question, Suggestion
from swatch.terms.colour import Covariance, Lab
from swatch.terms.cone import Cone
from swatch.terms.layering import parse_layers

TARGET = Lab(57.4, -21.6, 13.8)
BEYOND = Lab(78.0, 12.0, 96.0)
"""No sRGB screen shows it."""
BODY, BODY_LAB = "Corrie Buff", Lab(71.8, 7.0, 20.5)
FIRED = {
    "Halm Moss": Lab(43.0, -21.0, 29.0),
    "Mardle": Lab(70.0, -16.0, 5.0),
    "Ossel Blue": Lab(36.0, -2.0, -24.0),
    "Kessel Amber": Lab(52.0, 17.0, 46.0),
    "Rill Wash": Lab(38.0, 17.0, 20.0),
    "Dunnet Satin": Lab(65.0, -2.0, 18.0),
    "Halm Slate": Lab(45.0, -5.0, -11.0),
    "Sill Yellow": Lab(74.0, 2.0, 56.0),
    "Brackle": Lab(35.0, 17.0, 19.0),
    "Fennick Jade": Lab(62.0, -33.0, 10.0),
}
_TOP = QModelIndex()
CLEAR = frozenset({"Orrin Clear"})


@dataclass(frozen=True, slots=True)
class _Sample:
    layers: str
    lab: Lab
    spread: float
    own: int
    others: int
    de: float
    low: float
    high: float
    chance: float
    pieces: int
    caution: str


_SAMPLES = (
    _Sample(
        "Halm Moss*2 > Mardle",
        Lab(58.0, -22.4, 12.0),
        0.9,
        2,
        9,
        1.9,
        0.9,
        3.1,
        0.63,
        84,
        "Runs: wipe 3 mm clear of the foot.",
    ),
    _Sample(
        "Ossel Blue > Kessel Amber*2",
        Lab(57.0, -19.7, 15.6),
        2.2,
        0,
        14,
        2.6,
        1.5,
        3.9,
        0.26,
        112,
        "New layering: fire one tile first.",
    ),
    _Sample(
        "Rill Wash (wiped) > Mardle*2",
        Lab(58.5, -20.0, 16.5),
        1.6,
        3,
        12,
        3.1,
        1.7,
        4.6,
        0.18,
        84,
        "Breaks: ΔE of the mean colour only.",
    ),
    _Sample("Halm Moss > Dunnet Satin*2", Lab(58.2, -22.5, 20.0), 1.9, 1, 11, 3.2, 1.9, 4.6, 0.13, 140, ""),
    _Sample(
        "Halm Slate > Sill Yellow*2",
        Lab(55.0, -27.0, 9.0),
        3.0,
        0,
        8,
        4.0,
        2.6,
        5.4,
        0.02,
        66,
        "Label of Sill Yellow: not for food.",
    ),
    _Sample("Halm Moss*3 > Orrin Clear", Lab(52.0, -21.5, 19.5), 1.3, 6, 17, 4.1, 2.8, 5.4, 0.01, 210, ""),
    _Sample(
        "Halm Moss*2",
        Lab(52.0, -22.0, 22.0),
        1.1,
        5,
        17,
        4.9,
        3.7,
        6.1,
        0.003,
        230,
        "Bare underglaze: rough, not for food.",
    ),
    _Sample(
        "Mardle*2 > Brackle",
        Lab(53.0, -9.0, 17.5),
        4.0,
        0,
        10,
        5.5,
        3.7,
        7.5,
        0.004,
        19,
        "Enough for 19 of 60 pieces.",
    ),
    _Sample(
        "Ossel Blue > Sill Yellow > Orrin Clear",
        Lab(60.0, -27.0, 6.0),
        4.2,
        0,
        13,
        6.1,
        4.0,
        8.2,
        0.002,
        66,
        "New layering: fire one tile first.",
    ),
    _Sample(
        "Fennick Jade*2",
        Lab(60.5, -31.0, 8.0),
        5.6,
        0,
        0,
        7.1,
        4.3,
        10.3,
        0.001,
        160,
        "Never fired here: nearly unknown.",
    ),
)


def section(layers: str) -> Section:
    """A section in the sample colours."""
    return section_of(parse_layers(layers), BODY, BODY_LAB, FIRED, CLEAR)


def suggestions() -> list[Suggestion]:
    """Ten answers to the sample target."""
    return [_suggestion(sample) for sample in _SAMPLES]


def _suggestion(sample: _Sample) -> Suggestion:
    basis = Basis.OWN_TILES if sample.own else Basis.OWN_MATERIALS if sample.others else Basis.RAW_ONLY
    variance = sample.spread**2
    prediction = Prediction(
        question=Question(parse_layers(sample.layers), BODY, Cone(6.0)),
        lab=sample.lab,
        covariance=Covariance(variance, 0.2 * variance, 0.0, variance, -0.3 * variance, 1.4 * variance),
        grounds=Grounds(sample.own, sample.others, basis),
    )
    return Suggestion(prediction, sample.de, (sample.low, sample.high), sample.chance, 2.0, (sample.pieces, 400))


def rows() -> list[AnswerRow]:
    """The ten as rows."""
    return [
        answer_row(rank, suggestion, TARGET, section(sample.layers), sample.caution)
        for rank, (sample, suggestion) in enumerate(zip(_SAMPLES, suggestions(), strict=True), start=1)
    ]


def plane() -> Plane:
    """The ten and some tiles on the plane."""
    points = [
        PlanePoint(row.rank, row.name, row.lab, suggestion.prediction.covariance)
        for row, suggestion in zip(rows(), suggestions(), strict=True)
    ]
    made = random.Random(5)
    own = [Lab(made.uniform(30, 80), made.gauss(-8, 14), made.gauss(18, 14)) for _tile in range(148)]
    edge = ((-40.0, 0.0), (-36.0, -4.0), (0.0, -6.0), (24.0, 16.0), (2.0, 42.0), (-20.0, 38.0), (-34.0, 22.0))
    return Plane(TARGET, tuple(points), tuple(own), edge)


class TileModel(QAbstractListModel):
    """As many invented tiles as wanted, each made when it is looked at."""

    def __init__(self, n: int) -> None:
        super().__init__()
        self._n = n
        self._kept: dict[int, TileCell] = {}

    def rowCount(self, parent: QModelIndex | QPersistentModelIndex = _TOP) -> int:  # noqa: N802
        """How many tiles there are."""
        return 0 if parent.isValid() else self._n

    def data(self, index: QModelIndex | QPersistentModelIndex, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """The cell, or its name."""
        if role == Qt.ItemDataRole.UserRole:
            return self._kept.setdefault(index.row(), _tile(index.row()))
        return f"T-{index.row() + 1:03d}" if role == Qt.ItemDataRole.DisplayRole else None


def _tile(number: int) -> TileCell:
    made = random.Random(number)
    name, waits = f"T-{number + 1:03d}", number % 17 == 16
    if waits:
        return cell(name, "Fennick Jade", [], waiting="in the\nnext firing")
    material, lab = list(FIRED.items())[number % len(FIRED)]
    n = made.choice((1, 1, 3, 3, 3, 9))
    labs = [Lab(lab.L + 6 * k / n, lab.a * (1 - 0.3 * k / n), lab.b + made.gauss(0, 2)) for k in range(n)]
    labs = [BEYOND] if number == 5 else labs
    return cell(name, f"{material} ×2" if n == 1 else material, labs, mark="doubtful" if number % 23 == 22 else "")


def tile_model(n: int) -> TileModel:
    """A bench of `n` tiles."""
    return TileModel(n)
