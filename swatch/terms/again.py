"""Photos on record measured again: what is known beside what is read today."""

from __future__ import annotations

from dataclasses import dataclass

from swatch.terms.colour import Lab
from swatch.terms.evidence import Stage
from swatch.terms.measured import Verdict, ZoneRead
from swatch.terms.problems.base import Notice, StudioProblem


@dataclass(frozen=True, slots=True)
class ZoneAgain:
    """One zone on record and as read today; `moved_de00` is how far apart the two colours are.

    ``u95_before`` is None where no doubt was recorded.
    """

    tile: str
    zone: str
    stage: Stage
    reading: int
    before: Lab
    u95_before: float | None
    now: ZoneRead
    moved_de00: float


@dataclass(frozen=True, slots=True)
class PhotoAgain:
    """One photo as judged today, with the zones that are read in it."""

    photo: str
    verdict: Verdict
    warnings: tuple[Notice, ...]
    zones: tuple[ZoneAgain, ...]


@dataclass(frozen=True, slots=True)
class MeasuredAgain:
    """All photos that were measured again, how many readings were kept, and what could not be read."""

    photos: tuple[PhotoAgain, ...]
    kept: int
    problems: tuple[StudioProblem, ...]
