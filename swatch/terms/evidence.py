"""Everything the studio knows that a prediction can rest on: one frozen snapshot of its records."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from swatch.terms.colour import Covariance, Lab
from swatch.terms.cone import Cone
from swatch.terms.layering import Layers
from swatch.terms.materials import BareBody, Firing, FiringLog, Material, WitnessCone


class Stage(StrEnum):
    """Where a colour comes from. A maker's printed chart is weak evidence."""

    FIRED = "fired"
    RAW = "raw"
    MAKER = "maker"


class Sheen(StrEnum):
    """How a fired surface shines."""

    GLOSS = "gloss"
    SATIN = "satin"
    MATT = "matt"


FAULTS = ("ran", "crawled", "pinholed", "crazed", "dry", "blistered")


@dataclass(frozen=True, slots=True)
class ZoneReading:
    """One measured colour of one zone of a tile, with all that is recorded of how the zone was made.

    ``cone`` is the cone asked for, of the firing or, where there is none, of the tile itself.
    """

    tile: str
    zone: str
    lab: Lab
    covariance: Covariance
    stage: Stage = Stage.FIRED
    reading: int = 1
    body: str | None = None
    layers: Layers = ()
    cone: Cone | None = None
    firing: str | None = None
    shelf: str | None = None
    session: str | None = None
    method: str | None = None
    lot: str | None = None
    sheen: Sheen | None = None
    faults: tuple[str, ...] = ()
    refires: int = 0


@dataclass(frozen=True, slots=True)
class Evidence:
    """A snapshot of the studio's records; readings that were set aside or superseded are not in it.

    Order is by name, then zone, then reading, so the same records give the same snapshot.
    """

    materials: tuple[Material, ...] = ()
    bodies: tuple[BareBody, ...] = ()
    firings: tuple[Firing, ...] = ()
    witnesses: tuple[WitnessCone, ...] = ()
    readings: tuple[ZoneReading, ...] = ()
    logs: tuple[FiringLog, ...] = ()
