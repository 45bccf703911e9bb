"""The form that an edition's pieces share: its outline, and the regions as they were once placed on it."""

from __future__ import annotations

from dataclasses import dataclass

Spot = tuple[float, float]
"""A point on a form: from the middle of its outline, in units of the square root of the outline's area."""


@dataclass(frozen=True, slots=True)
class FormZone:
    """One region, or one stripe of a button, as placed once.

    ``tone`` is ln of camera light there, over the mean of all regions: it tells which way round a form lies whose
    outline does not. None where it was not read.
    """

    region: str
    polygon: tuple[Spot, ...]
    tone: tuple[float, float, float] | None = None


@dataclass(frozen=True, slots=True)
class Form:
    """A form with its regions; ``name`` is the edition's, or the buttons'."""

    name: str
    outline: tuple[Spot, ...]
    zones: tuple[FormZone, ...]
