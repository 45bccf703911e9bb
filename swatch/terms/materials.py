"""What the studio has on its shelves, and what its pieces are made of and fired in."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from swatch.terms.colour import Lab
from swatch.terms.cone import Cone


class Kind(StrEnum):
    """What a material is, as its jar says."""

    UNDERGLAZE = "underglaze"
    GLAZE = "glaze"
    CLEAR = "clear"
    SLIP = "slip"
    WASH = "wash"


class Status(StrEnum):
    """Whether a material can be had."""

    IN_STOCK = "in stock"
    DISCONTINUED = "discontinued"
    USED_UP = "used up"


@dataclass(frozen=True, slots=True)
class Material:
    """One ready-made material; ``food_label`` is what its maker states for it alone, None where nothing.

    ``left_g`` is what all its jars hold, ``locked_g`` the part of it that is locked for an edition. ``lead_days``
    go by from ordering it to having it.
    """

    name: str
    kind: Kind | None = None
    status: Status = Status.IN_STOCK
    left_g: float | None = None
    cone_from: Cone | None = None
    cone_to: Cone | None = None
    food_label: bool | None = None
    food_label_cone: Cone | None = None
    density_g_per_ml: float | None = None
    raw: Lab | None = None
    raw_state: str | None = None
    lead_days: int | None = None
    locked_g: float = 0.0


@dataclass(frozen=True, slots=True)
class Jar:
    """One container of a material, by lot; an empty name is what was only counted for the lot as a whole.

    ``left_g`` is what it holds, without the jar's own weight ``tare_g``. A locked jar is kept for an edition.
    """

    material: str
    jar: str = ""
    lot: str | None = None
    left_g: float | None = None
    tare_g: float = 0.0
    opened: str | None = None
    locked: bool = False


@dataclass(frozen=True, slots=True)
class BareBody:
    """The fired colour of a body without any layer, at one cone; the colour may not be known yet."""

    body: str
    cone: Cone
    lab: Lab | None = None


@dataclass(frozen=True, slots=True)
class Firing:
    """One run of the kiln, as asked and as reached."""

    name: str
    date: str | None = None
    cone_asked: Cone | None = None
    peak_c: float | None = None
    rate_c_per_h: float | None = None
    hold_min: float | None = None
    cone_reached: Cone | None = None
    cooling: str | None = None
    atmosphere: str | None = None
    kiln: str | None = None
    note: str | None = None


@dataclass(frozen=True, slots=True)
class FiringLog:
    """The temperatures of one firing as logged: minutes since its start, rising, and °C."""

    firing: str
    minutes: tuple[float, ...]
    celsius: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class WitnessCone:
    """What a witness cone on one shelf said of one firing."""

    firing: str
    shelf: str
    cone_reached: Cone
