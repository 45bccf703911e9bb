"""Amounts with their units, as the user chose them. Elsewhere in the program all is °C, g and ml."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from swatch.terms.amounts import GRAMS_PER_OUNCE, ML_PER_UK_PINT, ML_PER_US_PINT
from swatch.wording.text import _, say


class Heat(StrEnum):
    """What temperatures are said in."""

    CELSIUS = "celsius"
    FAHRENHEIT = "fahrenheit"


class Weight(StrEnum):
    """What weights are said in."""

    GRAMS = "grams"
    OUNCES = "ounces"


class Volume(StrEnum):
    """What volumes are said in; a pint is not one thing."""

    ML = "ml"
    US_PINTS = "us pints"
    UK_PINTS = "uk pints"


_ML = {Volume.ML: 1.0, Volume.US_PINTS: ML_PER_US_PINT, Volume.UK_PINTS: ML_PER_UK_PINT}


@dataclass(frozen=True, slots=True)
class Units:
    """The units in use."""

    heat: Heat = Heat.CELSIUS
    weight: Weight = Weight.GRAMS
    volume: Volume = Volume.ML


_used = Units()


def use_units(units: Units) -> None:
    """Say amounts in these units from now on."""
    global _used
    _used = units


def units() -> Units:
    """The units in use."""
    return _used


# Figures: to and from the units in use.


def heat_figure(celsius: float) -> float:
    """A temperature as a number in the unit in use."""
    return celsius * 9 / 5 + 32 if _used.heat is Heat.FAHRENHEIT else celsius


def celsius_of(figure: float) -> float:
    """A number in the unit in use as °C."""
    return (figure - 32) * 5 / 9 if _used.heat is Heat.FAHRENHEIT else figure


def rate_figure(celsius_per_h: float) -> float:
    """How fast it climbs: a difference, so that only the size of a degree counts."""
    return celsius_per_h * 9 / 5 if _used.heat is Heat.FAHRENHEIT else celsius_per_h


def celsius_per_h_of(figure: float) -> float:
    """A climb in the unit in use as °C/h."""
    return figure * 5 / 9 if _used.heat is Heat.FAHRENHEIT else figure


def weight_figure(grams: float) -> float:
    """A weight as a number in the unit in use."""
    return grams / GRAMS_PER_OUNCE if _used.weight is Weight.OUNCES else grams


def grams_of(figure: float) -> float:
    """A number in the unit in use as g."""
    return figure * GRAMS_PER_OUNCE if _used.weight is Weight.OUNCES else figure


def volume_figure(ml: float) -> float:
    """A volume as a number in the unit in use."""
    return ml / _ML[_used.volume]


def ml_of(figure: float) -> float:
    """A number in the unit in use as ml."""
    return figure * _ML[_used.volume]


# Words.


def heat_unit() -> str:
    """``°C`` or ``°F``."""
    return "°F" if _used.heat is Heat.FAHRENHEIT else "°C"


def weight_unit() -> str:
    """``g`` or ``oz``."""
    return "oz" if _used.weight is Weight.OUNCES else "g"


def heat_in_words(celsius: float) -> str:
    """Say a temperature: ``1222 °C``."""
    return f"{heat_figure(celsius):.0f} {heat_unit()}"


def rate_in_words(celsius_per_h: float) -> str:
    """Say a climb: ``60 °C/h``."""
    return f"{rate_figure(celsius_per_h):.0f} {heat_unit()}/h"


def grams_in_words(grams: float) -> str:
    """Say a weight: ``650 g``, ``3.2 kg``, ``22.9 oz``."""
    if _used.weight is Weight.OUNCES:
        return say(_("{n:.1f} oz")).format(n=weight_figure(grams))
    if abs(grams) >= 1000:
        # Halves go up, as people round; 2150 / 1000 lies a hair below 2.15 as a float.
        return say(_("{n:.1f} kg")).format(n=math.floor(grams / 100 + 0.5) / 10)
    return say(_("{n:.0f} g")).format(n=grams)


def ml_in_words(ml: float) -> str:
    """Say a volume: ``120 ml``, ``0.25 US pints``, ``0.21 UK pints``."""
    words = {
        Volume.ML: say(_("{n:.0f} ml")),
        Volume.US_PINTS: say(_("{n:.2f} US pints")),
        Volume.UK_PINTS: say(_("{n:.2f} UK pints")),
    }
    return words[_used.volume].format(n=volume_figure(ml))
