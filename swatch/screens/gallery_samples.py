"""Invented colours and layerings for the gallery of components; nothing here was ever fired."""

from __future__ import annotations

from dataclasses import dataclass

from swatch.desk.answer_rows import AnswerRow, answer_row
from swatch.desk.sections import Section, section_of
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
