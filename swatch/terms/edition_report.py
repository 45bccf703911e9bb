"""A report of an edition, or of one load of it: all that is said of it, as of one day."""

from __future__ import annotations

from dataclasses import dataclass

from swatch.terms.holding import CheckAnswer
from swatch.terms.layering import Layers
from swatch.terms.material_plan import MaterialPlan


@dataclass(frozen=True, slots=True)
class ReportRequest:
    """Which edition, and which load of it where only one is wanted; ``on`` is the day, else the last on record."""

    edition: str
    firing: str = ""
    on: str = ""
    tolerance: float | None = None
    set_size: int = 2
    hold_back: int = 0


@dataclass(frozen=True, slots=True)
class EditionReport:
    """What a report is made from. The same records, request and version give the same report.

    ``check`` is None where no piece was measured, ``plan`` in a report of one load or where no day is known.
    ``layers`` has each region's.
    """

    edition: str
    firing: str
    studio: str
    invented: bool
    on: str
    version: str
    body: str
    cone: str
    layers: tuple[tuple[str, Layers], ...]
    check: CheckAnswer | None
    plan: MaterialPlan | None
