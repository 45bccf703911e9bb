"""Does the material last to an edition's last piece: what is needed, what is left, until when, what to do."""

from __future__ import annotations

from dataclasses import dataclass

from swatch.terms.layering import Layers
from swatch.terms.materials import Jar
from swatch.terms.problems.base import Notice

Range = tuple[float, float]
"""The ends of a range that holds 80 %."""


@dataclass(frozen=True, slots=True)
class PlanRequest:
    """Which edition to plan for, as of which day (``2027-02-11``), and what a jar holds that can be bought."""

    edition: str
    on: str
    jar_ml: float = 473.0


@dataclass(frozen=True, slots=True)
class RateTold:
    """What one coat on a dm² takes out of the jar: low end, middle, high end; in ml where the density is known.

    ``method`` is how it was put on last; ``weighings`` are those it rests on, of other materials where
    ``borrowed``; ``loss`` is how dregs and overspray come in: ``weighed``, ``learnt`` or ``usual``.
    """

    grams: tuple[float, float, float]
    ml: tuple[float, float, float] | None
    method: str | None
    weighings: int
    borrowed: bool
    loss: str


@dataclass(frozen=True, slots=True)
class MaterialNeed:
    """One material of an edition.

    ``dm2_coats`` is what a piece takes of it: area times coats. ``need_g`` is for the pieces still to be begun,
    ``others_need_g`` what other editions still take. ``pieces_possible`` are good pieces from all that is left,
    were it only for this edition: plan on the low end. ``runs_out`` are the earlier and later day at the present
    pace, None where it lasts or the pace is not known; ``order_by`` is the earlier one less the lead time.
    """

    material: str
    dm2_coats: float
    rate: RateTold | None
    need_g: Range | None
    others_need_g: Range | None
    left_g: float | None
    locked_g: float
    jars: tuple[Jar, ...]
    short_g: Range | None
    pieces_possible: tuple[int, int] | None
    runs_out: tuple[str, str] | None
    order_by: str | None
    lead_days: int | None
    jars_to_buy: int | None
    notices: tuple[Notice, ...] = ()


@dataclass(frozen=True, slots=True)
class BridgeTile:
    """One tile with two halves, the old lot on one, the new lot on the other, in the edition's layering."""

    material: str
    old_lot: str
    new_lot: str
    region: str
    layers: Layers
    opened: str


@dataclass(frozen=True, slots=True)
class Pace:
    """Pieces a day of the latest firings, and what tells of it: ``counts``, or ``measured`` pieces alone."""

    a_day: float
    firings: int
    told_by: str


@dataclass(frozen=True, slots=True)
class MaterialPlan:
    """An edition's materials to its last piece. Counts are None where nothing was counted."""

    edition: str
    on: str
    planned: int | None
    share_good: float | None
    made: int | None
    fired: int | None
    good: int
    sold: int | None
    pieces_to_make: int
    pieces_to_start: int
    pace: Pace | None
    materials: tuple[MaterialNeed, ...]
    bridges: tuple[BridgeTile, ...]
    notices: tuple[Notice, ...]
    jar_ml: float = 473.0
