"""One cell of a table to one value. Each reader takes the column's name, for the message, and the text."""

from __future__ import annotations

import datetime
import re
from collections.abc import Callable
from enum import StrEnum
from functools import lru_cache
from typing import TypeVar

from swatch.terms.amounts import Amount, parse_amount
from swatch.terms.colour import Covariance
from swatch.terms.cone import Cone, parse_cone
from swatch.terms.evidence import FAULTS
from swatch.terms.layering import Layers, parse_layers
from swatch.terms.problems.files import (
    bad_covariance,
    bad_date,
    bad_name,
    bad_number,
    decimal_comma,
    out_of_range,
    unknown_word,
)

Read = Callable[[str, str], object]
Word = TypeVar("Word", bound=StrEnum)

_NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?")
_COMMA = re.compile(r"[+-]?[0-9.]*,[0-9]+(?:[eE][+-]?[0-9]+)?")
_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_MOMENT = re.compile(r"([0-9]{4}-[0-9]{2}-[0-9]{2})(?:[T ]([0-9]{2}:[0-9]{2}(?::[0-9]{2})?))?")
_MARKS = re.compile(r"[\s;,/|]+")
_MATERIAL_FORBIDS = re.compile(r"[>*]|\s\([^()]*\)$")


def number(low: float, high: float) -> Callable[[str, str], float]:
    """Make a reader of numbers from `low` to `high`, with a decimal point."""

    def read(column: str, text: str) -> float:
        # A typographic minus is a minus and nothing else; a comma may be two things, so it is refused.
        bare = text.replace("\u2212", "-")
        if _COMMA.fullmatch(bare):
            raise decimal_comma(column, text)
        if not _NUMBER.fullmatch(bare):
            raise bad_number(column, text)
        value = float(bare)
        if not low <= value <= high:
            raise out_of_range(column, text, low, high)
        return value + 0.0

    return read


_COVARIANCE_ENTRY = number(-2500, 2500)


def whole(low: int, high: int) -> Read:
    """Make a reader of whole numbers from `low` to `high`; ``3.0`` is one, as spreadsheets write it."""
    as_number = number(low, high)

    def read(column: str, text: str) -> int:
        value = as_number(column, text)
        if value != int(value):
            raise bad_number(column, text)
        return int(value)

    return read


def covariance(column: str, text: str) -> Covariance:
    """A covariance of (L*, a*, b*): its six numbers LL La Lb aa ab bb, parted by spaces."""
    parts = text.split()
    if len(parts) != 6:
        raise bad_covariance(column, text)
    found = Covariance(*(_COVARIANCE_ENTRY(column, part) for part in parts))
    if not found.is_possible():
        raise bad_covariance(column, text)
    return found


def words(kind: type[Word]) -> Read:
    """Make a reader of one of a few words, without case."""
    allowed = [str(word) for word in kind]

    def read(column: str, text: str) -> Word:
        bare = " ".join(text.casefold().split())
        if bare not in allowed:
            raise unknown_word(column, text, allowed)
        return kind(bare)

    return read


def one_of(*allowed: str) -> Read:
    """Make a reader of one of a few words that stay text."""

    def read(column: str, text: str) -> str:
        bare = " ".join(text.casefold().split())
        if bare not in allowed:
            raise unknown_word(column, text, allowed)
        return bare

    return read


def amount(column: str, text: str) -> Amount:
    """A weight or volume with its unit: ``650 g``, ``1 US pint``."""
    bare = text.replace("\u2212", "-")
    if re.match(r"[+-]?[0-9.]*,[0-9]", bare):
        raise decimal_comma(column, text)
    return parse_amount(bare)


def text_line(column: str, text: str) -> str:
    """A name or a remark: single spaces, nothing else changed."""
    return " ".join(text.split())


def material_name(column: str, text: str) -> str:
    """A material's name, which layers must be able to hold."""
    bare = " ".join(text.split())
    if _MATERIAL_FORBIDS.search(bare):
        raise bad_name(column, text)
    return bare


def yes_no(column: str, text: str) -> bool:
    """``yes`` or ``no``."""
    bare = text.casefold()
    if bare not in ("yes", "no"):
        raise unknown_word(column, text, ("yes", "no"))
    return bare == "yes"


def cone(column: str, text: str) -> Cone:
    """A cone as it is asked for: whole or half."""
    return _parsed_cone(text)


def cone_reached(column: str, text: str) -> Cone:
    """A cone as it was reached: hundredths above cone 1 may be read off a bent witness."""
    return parse_cone(text, between=True)


def layers(column: str, text: str) -> Layers:
    """Layers from the body outward."""
    return _parsed_layers(text)


def day(column: str, text: str) -> str:
    """A date, year-month-day."""
    if not _DAY.fullmatch(text) or not _is_day(text):
        raise bad_date(column, text)
    return text


def moment(column: str, text: str) -> str:
    """A date, or a date and a time: ``2027-02-11`` or ``2027-02-11T09:30``."""
    found = _MOMENT.fullmatch(text)
    if not found or not _is_day(found.group(1)) or not _is_time(found.group(2)):
        raise bad_date(column, text)
    return found.group(1) + (f"T{found.group(2)}" if found.group(2) else "")


def faults(column: str, text: str) -> tuple[str, ...]:
    """Faults, parted by semicolons, commas or spaces; each once, in the order of the trade's list."""
    said = {word for word in _MARKS.split(text.casefold()) if word}
    for word in sorted(said):
        if word not in FAULTS:
            raise unknown_word(column, word, FAULTS)
    return tuple(fault for fault in FAULTS if fault in said)


# A table says the same few layerings and cones over and over; the values are frozen, so they are shared.
_parsed_layers = lru_cache(maxsize=4096)(parse_layers)
_parsed_cone = lru_cache(maxsize=256)(parse_cone)


def _is_day(text: str) -> bool:
    try:
        datetime.date.fromisoformat(text)
    except ValueError:
        return False
    return True


def _is_time(text: str | None) -> bool:
    if text is None:
        return True
    try:
        datetime.time.fromisoformat(text)
    except ValueError:
        return False
    return True
