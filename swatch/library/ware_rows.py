"""What a row says of a reading, its zone and its ware, and what it came to."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TypeVar

from swatch.library.fire_events import NOT_FIRED, Fired
from swatch.terms.colour import Covariance, Lab
from swatch.terms.layering import Layers

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Seen:
    """How a reading was taken from a photo."""

    shot: int
    polygon: str
    variation_de00: float
    used_share: float
    warnings: str
    colours: str | None = None


@dataclass(frozen=True, slots=True)
class WareRow:
    """One reading with all that a row says; ``given`` are the fields it speaks of, as `ZoneReading` names them.

    ``line`` is the row of the file it stands in, where it comes from one.
    """

    kind: str
    ware: str
    zone: str
    stage: str
    number: int
    lab: Lab
    covariance: Covariance
    given: frozenset[str]
    edition: str | None = None
    body: str | None = None
    layers: Layers = ()
    method: str | None = None
    lot: str | None = None
    clay_lot: str | None = None
    fired: Fired = NOT_FIRED
    session: str | None = None
    sheen: str | None = None
    faults: tuple[str, ...] = ()
    role: str | None = None
    seen: Seen | None = None
    line: int | None = None


@dataclass(slots=True)
class Outcome:
    """What a row came to; ``renewed`` where it speaks of a reading that was known."""

    reading: int = 0
    new: bool = False
    changed: bool = False
    renewed: bool = False


def with_lines(values: Sequence[T], lines: Sequence[int]) -> Iterable[tuple[T, int | None]]:
    """Pair each value with the row of the file it stands in; with None where `lines` is empty."""
    return zip(values, lines, strict=True) if lines else ((value, None) for value in values)
