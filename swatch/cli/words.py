"""Words of a call to values: what `argparse` checks while it reads them, so that a wrong word is status 2."""

from __future__ import annotations

import argparse
import datetime
import math
import re
from collections.abc import Callable
from typing import TypeVar

from swatch.terms.colour import Lab
from swatch.terms.cone import Cone, parse_cone
from swatch.terms.editions import RegionKind
from swatch.terms.layering import Layers, parse_layers
from swatch.terms.measured import Point
from swatch.terms.problems import StudioProblem
from swatch.wording.problems import problem_in_words

Value = TypeVar("Value")

_NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?")


def cone_word(text: str) -> Cone:
    """``--cone``."""
    return _or_wrong(parse_cone, text)


def layers_word(text: str) -> Layers:
    """``--layers``."""
    return _or_wrong(parse_layers, text)


def lab_word(text: str) -> Lab:
    """``--target``: three numbers with commas between, L* from 0 to 100."""
    parts = text.split(",")
    if len(parts) != 3:
        raise argparse.ArgumentTypeError(f'"{text}" is not three numbers "L,a,b", with decimal points')
    lab = Lab(*(number_word(part.strip()) for part in parts))
    if not 0 <= lab.L <= 100 or max(abs(lab.a), abs(lab.b)) > 160:
        raise argparse.ArgumentTypeError(f'"{text}" is no colour: L* lies from 0 to 100, a* and b* within ±160')
    return lab


def zone_pair_word(text: str) -> tuple[str, str]:
    """``--compare``: names of two zones with a comma between."""
    one, comma, other = (part.strip() for part in text.partition(","))
    if not (one and comma and other) or "," in other or one == other:
        raise argparse.ArgumentTypeError(f'"{text}" is not two different zones "A1,A2"')
    return one, other


def point_word(text: str) -> Point:
    """``--neutral``: a point, two numbers with a comma between."""
    x, comma, y = text.partition(",")
    if not comma:
        raise argparse.ArgumentTypeError(f'"{text}" is no point "x,y"')
    return number_word(x.strip()), number_word(y.strip())


def corners_word(text: str) -> tuple[Point, Point, Point, Point]:
    """``--corners``: four points with spaces between."""
    points: list[Point] = []
    for part in text.split():
        x, comma, y = part.partition(",")
        if not comma:
            raise argparse.ArgumentTypeError(f'"{part}" is no point "x,y"')
        points.append((number_word(x), number_word(y)))
    if len(points) != 4:
        raise argparse.ArgumentTypeError(f'"{text}" is not four points "x,y x,y x,y x,y"')
    return points[0], points[1], points[2], points[3]


def regions_word(text: str) -> tuple[str, ...]:
    """``--region``: parts of a piece with commas between."""
    words = [" ".join(part.casefold().split()) for part in text.split(",")]
    allowed = [str(kind) for kind in RegionKind]
    for word in words:
        if word not in allowed:
            raise argparse.ArgumentTypeError(f'"{word}" is none of {", ".join(allowed)}')
    return tuple(dict.fromkeys(words))


def name_word(text: str) -> str:
    """A name of the studio's."""
    bare = " ".join(text.split())
    if not bare:
        raise argparse.ArgumentTypeError("a name is needed")
    return bare


def number_word(text: str) -> float:
    """A number with a decimal point."""
    if not _NUMBER.fullmatch(text) or not math.isfinite(float(text)):
        raise argparse.ArgumentTypeError(f'"{text}" is no number; numbers have a decimal point')
    return float(text)


def number_in(low: float, high: float) -> Callable[[str], float]:
    """Make a reader of numbers above `low` and up to `high`."""

    def read(text: str) -> float:
        value = number_word(text)
        if not low < value <= high:
            raise argparse.ArgumentTypeError(f"{text} is not above {low:g} and at most {high:g}")
        return value

    return read


def whole_in(low: int, high: int) -> Callable[[str], int]:
    """Make a reader of whole numbers from `low` to `high`."""

    def read(text: str) -> int:
        if not re.fullmatch(r"[0-9]{1,9}", text) or not low <= int(text) <= high:
            raise argparse.ArgumentTypeError(f'"{text}" is no whole number from {low} to {high}')
        return int(text)

    return read


def day_word(text: str) -> str:
    """A day, year-month-day."""
    try:
        return datetime.date.fromisoformat(text).isoformat()
    except ValueError:
        raise argparse.ArgumentTypeError(f'"{text}" is no day such as 2027-02-11') from None


def sizes_in(least: int, most: int) -> Callable[[str], tuple[float, ...]]:
    """Make a reader of lengths in mm with an x between them, so many of them, each from 5 to 3000."""

    def read(text: str) -> tuple[float, ...]:
        parts = tuple(number_word(part.strip()) for part in text.lower().split("x"))
        if not least <= len(parts) <= most or not all(5 <= part <= 3000 for part in parts):
            raise argparse.ArgumentTypeError(f'"{text}" is no size in millimetres such as 400x350')
        return parts

    return read


def firing_log_word(text: str) -> tuple[str, str]:
    """``--log``: a firing's name and a file."""
    firing, equals, path = text.partition("=")
    if not equals or not firing.strip() or not path:
        raise argparse.ArgumentTypeError(f'"{text}" is not FIRING=FILE')
    return " ".join(firing.split()), path


def _or_wrong(read: Callable[[str], Value], text: str) -> Value:
    try:
        return read(text)
    except StudioProblem as problem:
        raise argparse.ArgumentTypeError(" ".join(problem_in_words(problem))) from None
