"""A board: tiles that are planned, numbered before they are made, so that their photo is understood later."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from swatch.terms.colour import Covariance, Lab
from swatch.terms.cone import Cone
from swatch.terms.layering import Layers


class Why(StrEnum):
    """What a planned tile is to show."""

    ALONE = "alone"
    OVER_DARKEST = "over-darkest"
    LIKELY = "likely"
    BESIDE = "beside"
    BOLD = "bold"
    TEACHES = "teaches"
    HALF_AND_HALF = "half-and-half"


@dataclass(frozen=True, slots=True)
class BoardZone:
    """One zone as planned; ``read`` tells whether a colour of it is on record by now.

    ``said``, with its covariance, is what was predicted of it, and ``chance`` to hit, when it was planned.
    """

    zone: str
    layers: Layers
    read: bool = False
    said: Lab | None = None
    covariance: Covariance | None = None
    chance: float | None = None


@dataclass(frozen=True, slots=True)
class BoardTile:
    """One tile: the number pencilled on its back, and its zones from the top down."""

    tile: str
    zones: tuple[BoardZone, ...]
    why: str = ""


@dataclass(frozen=True, slots=True)
class BoardTarget:
    """The colour that a board's tiles are to meet; ``source`` says in words where it comes from."""

    lab: Lab
    tolerance: float = 2.0
    source: str = ""


@dataclass(frozen=True, slots=True)
class Board:
    """Tiles planned together; called as the firing they go into, so that a sheet printed for it names them."""

    name: str
    body: str
    cone: Cone | None
    tiles: tuple[BoardTile, ...]
    made_at: str = ""
    target: BoardTarget | None = None
