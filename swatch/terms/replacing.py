"""What a material's end asks for: how long it lasts, what to buy today, what could stand in for it everywhere."""

from __future__ import annotations

from dataclasses import dataclass

from swatch.terms.layering import Layers
from swatch.terms.problems.base import Notice


@dataclass(frozen=True, slots=True)
class EditionNeed:
    """What one edition still takes of a material.

    ``pieces_to_make`` good pieces are still planned; ``pieces_to_start`` must be begun so that they come out with
    90 % assurance. ``need_g`` is the range that holds 80 %, touch-ups and re-fires included; ``need_90_g`` is
    enough with 90 % assurance. ``pieces_possible`` are good pieces from all that is left: plan on the low end.
    None where nothing was weighed.
    """

    edition: str
    pieces_to_make: int
    pieces_to_start: int
    need_g: tuple[float, float] | None
    need_90_g: float | None
    pieces_possible: tuple[int, int] | None


@dataclass(frozen=True, slots=True)
class StandIn:
    """Layers in place of a material at every use: expected ΔE00 and chance at each, ranked by the worst.

    One that is likely to shine otherwise than the material somewhere, or that showed faults here, stands behind
    those as near in colour: ``weighed`` is what it is ranked by, the worst ΔE00 with that added.
    """

    layers: Layers
    worst_de00: float
    de00: tuple[float, ...]
    chances: tuple[float, ...]
    cautions: tuple[Notice, ...]
    weighed: float = 0.0


@dataclass(frozen=True, slots=True)
class Sample:
    """A material not in stock that may be worth buying a sample of, by what a chart or few tiles say of it."""

    material: str
    layers: Layers
    worst_de00: float
    nearer_by: float


@dataclass(frozen=True, slots=True)
class BridgeStep:
    """Where what is left goes: a region keeps the material for so many pieces; the others take the stand-in."""

    edition: str
    region: str
    loss_de00: float
    pieces: int
    of_pieces: int
    grams: float


@dataclass(frozen=True, slots=True)
class ReplacePlan:
    """Everything beside the suggestions of each use.

    A stand-in's figures are in the order of the answer's uses in editions, or of its first use where none is.
    """

    left_g: float | None
    needs: tuple[EditionNeed, ...]
    jars: int | None
    jar_ml: float
    together: tuple[StandIn, ...]
    samples: tuple[Sample, ...]
    bridge: tuple[BridgeStep, ...]
    advice: tuple[Notice, ...]
