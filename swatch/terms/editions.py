"""Editions, their pieces, and the material they take."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from swatch.terms.colour import Covariance, Lab
from swatch.terms.cone import Cone
from swatch.terms.layering import Layers


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
    """One measured colour of one region of a piece."""

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


@dataclass(frozen=True, slots=True)
class Weighing:
    """A jar or a ware weighed before and after one application."""

    material: str
    at: str
    lot: str | None = None
    before_g: float | None = None
    after_g: float | None = None
    area_dm2: float | None = None
    pieces: int | None = None
    coats: float | None = None
    method: str | None = None


@dataclass(frozen=True, slots=True)
class Counts:
    """What bringing rows into the studio did."""

    added: int = 0
    updated: int = 0
    unchanged: int = 0
