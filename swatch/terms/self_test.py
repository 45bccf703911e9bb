"""How well measuring repeats: the same tiles photographed again and again."""

from __future__ import annotations

from dataclasses import dataclass

from swatch.terms.colour import Lab


@dataclass(frozen=True, slots=True)
class ZoneRepeated:
    """One zone in all photos: its mean colour, the largest ΔE00 of any photo from that mean, the u95 stated."""

    zone: str
    lab: Lab
    furthest_de00: float
    u95_de00: float


@dataclass(frozen=True, slots=True)
class SelfTest:
    """A gauge study of photos of the same tiles.

    Each figure is the ΔE00 that 95 % of readings stay within: ``repeatability_de00`` among photos of one occasion,
    ``reproducibility_de00`` between occasions, None where there is only one, ``measuring_de00`` both together.
    ``zones_de00`` is the spread of the zones themselves, one standard deviation in CIELAB.
    """

    occasions: tuple[tuple[str, ...], ...]
    zones: tuple[ZoneRepeated, ...]
    repeatability_de00: float
    reproducibility_de00: float | None
    measuring_de00: float
    zones_de00: float
    mean_u95_de00: float
