"""Editions, their pieces, and the material they take."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from swatch.terms.colour import Covariance, Lab
from swatch.terms.cone import Cone
from swatch.terms.layering import Layers
from swatch.terms.measured import ColourShare


class RegionKind(StrEnum):
    """A part of a piece. Inside, lip and the outside's top 20 mm touch food or mouth."""

    INSIDE = "inside"
    LIP = "lip"
    OUTSIDE = "outside"
    FOOT = "foot"


class Role(StrEnum):
    """What a measured piece stands for."""

    APPROVED = "approved"
    PIECE = "piece"
    SPARE = "spare"


@dataclass(frozen=True, slots=True)
class EditionRegion:
    """One region of an edition's pieces, with its layers; ``yield_share`` is the share of good pieces, 0 to 1.

    ``tolerance`` is how far, in ΔE00, a load may be from the approved look; it is of the whole edition.
    """

    edition: str
    region: str
    planned: int | None = None
    yield_share: float | None = None
    body: str | None = None
    cone: Cone | None = None
    region_kind: RegionKind | None = None
    area_dm2: float | None = None
    layers: Layers = ()
    tolerance: float | None = None


@dataclass(frozen=True, slots=True)
class PieceReading:
    """One measured colour of one region of a piece; ``clay_lot`` is what the piece was made of."""

    edition: str
    piece: str
    region: str
    lab: Lab
    covariance: Covariance
    reading: int = 1
    firing: str | None = None
    shelf: str | None = None
    place: str | None = None
    role: Role = Role.PIECE
    session: str | None = None
    lot: str | None = None
    clay_lot: str | None = None


@dataclass(frozen=True, slots=True)
class MottledReading:
    """The colours, with their shares, of a mottled region of a piece as one photo showed it."""

    edition: str
    piece: str
    region: str
    firing: str | None
    role: Role
    colours: tuple[ColourShare, ...]


class Weighed(StrEnum):
    """What stood on the scales before and after."""

    JAR = "jar"
    PIECE = "piece"


@dataclass(frozen=True, slots=True)
class Weighing:
    """A jar or a ware weighed before and after one application.

    ``area_dm2`` is what was covered in all, whatever the number of pieces. A jar gets lighter; a ``piece`` gets
    heavier, by what stayed on it: dregs and overspray are not in that.
    """

    material: str
    at: str
    lot: str | None = None
    before_g: float | None = None
    after_g: float | None = None
    area_dm2: float | None = None
    pieces: int | None = None
    coats: float | None = None
    method: str | None = None
    weighed: Weighed | None = None

    @property
    def grams(self) -> float | None:
        """What was taken out of the jar, or put on the piece; None where it was not weighed twice."""
        if self.before_g is None or self.after_g is None:
            return None
        taken = self.before_g - self.after_g
        return -taken if self.weighed is Weighed.PIECE else taken


class Tallied(StrEnum):
    """What was counted of an edition."""

    MADE = "made"
    FIRED = "fired"
    GOOD = "good"
    SOLD = "sold"


@dataclass(frozen=True, slots=True)
class Tally:
    """So many pieces of an edition were made, fired, found good or sold on one day, of one firing where said."""

    edition: str
    at: str
    what: Tallied
    count: int
    firing: str | None = None


@dataclass(frozen=True, slots=True)
class Counts:
    """What bringing rows into the studio did."""

    added: int = 0
    updated: int = 0
    unchanged: int = 0
