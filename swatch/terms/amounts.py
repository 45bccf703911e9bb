"""Weights and volumes as a potter says them: grams, ounces, millilitres, and pints of which country."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum

from swatch.terms.problems.holding import bad_amount, no_gravity, which_pint

GRAMS_PER_OUNCE = 28.349523125
"""The avoirdupois ounce, exact (international yard and pound agreement of 1959)."""
ML_PER_US_PINT = 473.176473
"""The US liquid pint: an eighth of 231 cubic inches, exact."""
ML_PER_UK_PINT = 568.26125
"""The imperial pint: an eighth of 4.54609 litres, exact."""
US_FLUID_OUNCES, UK_FLUID_OUNCES = 16, 20
"""Fluid ounces of a pint, there and here; not the ounce, which is a weight."""


class Unit(StrEnum):
    """What an amount is said in."""

    GRAMS = "g"
    KILOGRAMS = "kg"
    OUNCES = "oz"
    ML = "ml"
    LITRES = "l"
    US_FLUID_OUNCES = "us fl oz"
    UK_FLUID_OUNCES = "uk fl oz"
    US_PINTS = "us pint"
    UK_PINTS = "uk pint"


_GRAMS = {Unit.GRAMS: 1.0, Unit.KILOGRAMS: 1000.0, Unit.OUNCES: GRAMS_PER_OUNCE}
_ML = {
    Unit.ML: 1.0,
    Unit.LITRES: 1000.0,
    Unit.US_FLUID_OUNCES: ML_PER_US_PINT / US_FLUID_OUNCES,
    Unit.UK_FLUID_OUNCES: ML_PER_UK_PINT / UK_FLUID_OUNCES,
    Unit.US_PINTS: ML_PER_US_PINT,
    Unit.UK_PINTS: ML_PER_UK_PINT,
}
_SAID = re.compile(r"([0-9]+(?:\.[0-9]*)?|\.[0-9]+)\s*([a-z. ]+)")
_ALSO = {
    "grams": Unit.GRAMS, "gram": Unit.GRAMS, "ounces": Unit.OUNCES, "ounce": Unit.OUNCES, "litre": Unit.LITRES,
    "litres": Unit.LITRES, "us pints": Unit.US_PINTS, "uk pints": Unit.UK_PINTS, "us pt": Unit.US_PINTS,
    "uk pt": Unit.UK_PINTS, "imperial pint": Unit.UK_PINTS, "imperial pints": Unit.UK_PINTS,
}  # fmt: skip
_WHICH = frozenset({"pint", "pints", "pt", "fl oz", "fluid ounce", "fluid ounces", "floz"})
"""Said in two countries, of two sizes."""


@dataclass(frozen=True, slots=True)
class Amount:
    """A number, not below zero, with its unit."""

    number: float
    unit: Unit

    @property
    def is_volume(self) -> bool:
        """Whether it takes a specific gravity to be a weight."""
        return self.unit in _ML

    def __str__(self) -> str:
        return f"{self.number!r} {self.unit}"


def parse_amount(text: str) -> Amount:
    """Read ``650 g``, ``12.5 oz``, ``450 ml``, ``1 US pint``; a number always has its unit.

    Raises
    ------
    StudioProblem
        ``which-pint``: a pint or a fluid ounce of no country. ``bad-amount``: anything else.
    """
    found = _SAID.fullmatch(" ".join(text.casefold().replace(".", ". ").split()).replace(". ", "."))
    if found is None:
        raise bad_amount(text)
    word = " ".join(found[2].replace(".", " ").split())
    if word in _WHICH:
        raise which_pint(text)
    unit = _ALSO.get(word) or next((unit for unit in Unit if str(unit) == word), None)
    if unit is None:
        raise bad_amount(text)
    return Amount(float(found[1]), unit)


def grams_of(amount: Amount, gravity: float | None) -> float:
    """An amount as grams of the wet material; ``gravity`` is its specific gravity, g/ml.

    Raises
    ------
    StudioProblem
        ``no-gravity``: it is a volume, and nothing says what a millilitre weighs.
    """
    if not amount.is_volume:
        return amount.number * _GRAMS[amount.unit]
    if gravity is None:
        raise no_gravity(f"{amount.number:g} {amount.unit}")
    return amount.number * _ML[amount.unit] * gravity


def ml_of(amount: Amount) -> float:
    """A volume as ml.

    Raises
    ------
    ValueError
        It is a weight.
    """
    if not amount.is_volume:
        raise ValueError(f"{amount} is no volume")
    return amount.number * _ML[amount.unit]
