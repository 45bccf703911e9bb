"""What a firing's log and its witness cones say of its heat."""

from __future__ import annotations

from dataclasses import dataclass

from swatch.terms.cone import Cone
from swatch.terms.materials import WitnessCone


@dataclass(frozen=True, slots=True)
class LoggedHeat:
    """Heat-work of a log up to the end of its soak.

    ``celsius_60`` is the peak of a climb at 60 °C/h without a hold that does the same; ``cone`` the cone position
    that falls then, with its standard uncertainty ``cone_sd``. Cooling is left out.
    """

    peak_c: float
    soak_ends_min: float
    celsius_60: float
    cone: float
    cone_sd: float


@dataclass(frozen=True, slots=True)
class FiringHeat:
    """The heat of one firing: the log as a curve, what it comes to, and what witness cones make of that.

    ``cone`` and ``cone_sd`` join the log with the witness cones and the cone noted as reached, each weighed by its
    own doubt; None where none of them is known. ``done`` is the share of the heat-work done at each logged point.
    ``logged`` is None where there is no log of two points or more.
    """

    firing: str
    asked: Cone | None = None
    reached: Cone | None = None
    minutes: tuple[float, ...] = ()
    celsius: tuple[float, ...] = ()
    logged: LoggedHeat | None = None
    witnesses: tuple[WitnessCone, ...] = ()
    cone: float | None = None
    cone_sd: float | None = None
    done: tuple[float, ...] = ()
