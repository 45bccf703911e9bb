"""Which colours the jars at hand can make, as outlines in a* and b* by lightness."""

from __future__ import annotations

from dataclasses import dataclass

from swatch.terms.colour import Lab
from swatch.terms.cone import Cone
from swatch.terms.layering import Layers
from swatch.terms.problems.base import Notice

Ring = tuple[tuple[float, float], ...]
"""Corners (a*, b*) of a closed line, the first not repeated. What it holds lies on its left, so a hole runs the
other way round."""


@dataclass(frozen=True, slots=True)
class ColoursRequest:
    """Where, and within which limits."""

    body: str
    cone: Cone
    max_layers: int = 3
    max_coats: int = 4
    regions: tuple[str, ...] = ()
    must_use: tuple[str, ...] = ()
    leave_out: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class OwnColour:
    """One zone fired and measured: a colour that was made."""

    tile: str
    zone: str
    layers: Layers
    lab: Lab


@dataclass(frozen=True, slots=True)
class LightnessBand:
    """The colours from L* ``lightness[0]`` up to ``lightness[1]``.

    ``predicted`` are outlines about the predicted colours of ``layerings`` layerings, ``measured`` about the own
    tiles' alone. ``u`` is one standard uncertainty of these predictions in ΔE00, the median of some of them; None
    where there are none.
    """

    lightness: tuple[float, float]
    layerings: int
    predicted: tuple[Ring, ...]
    u: float | None
    measured: tuple[Ring, ...]
    tiles: tuple[OwnColour, ...]


@dataclass(frozen=True, slots=True)
class JarColours:
    """All bands that hold anything, darkest first."""

    request: ColoursRequest
    bands: tuple[LightnessBand, ...]
    cell: float
    """Width in a* and b* of what a single colour fills."""
    searched: int
    seconds: float
    learnt_from: int
    cautions: tuple[Notice, ...] = ()
