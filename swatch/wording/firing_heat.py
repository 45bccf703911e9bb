"""The heat of a firing in sentences."""

from __future__ import annotations

from swatch.terms.cone import COOLEST_POSITION, HOTTEST_POSITION, Cone
from swatch.terms.firing_heat import FiringHeat
from swatch.wording.text import _, _many, say, say_many
from swatch.wording.units import heat_in_words as degrees

_BY_CONES = _many(
    "With {n} witness cone: cone {cone}, ±{sd:.2f} cone.", "With {n} witness cones: cone {cone}, ±{sd:.2f} cone."
)


def heat_in_words(found: FiringHeat) -> list[str]:
    """What a firing's log comes to, what witness cones make of it, or what is missing."""
    lines = []
    if found.logged is not None:
        hours, minutes = divmod(round(found.logged.soak_ends_min), 60)
        lines.append(
            say(_("Log of {firing}: peak {peak}, the soak ended after {hours} h {minutes} min.")).format(
                firing=found.firing, peak=degrees(found.logged.peak_c), hours=hours, minutes=minutes
            )
        )
        steady = say(_("Heat-work of a steady climb at 60 °C an hour to {same}: cone {cone}, ±{sd:.1f} cone."))
        lines.append(
            steady.format(
                same=degrees(found.logged.celsius_60),
                cone=position_in_words(found.logged.cone),
                sd=found.logged.cone_sd,
            )
        )
    if found.cone is None or found.cone_sd is None:
        lines.append(
            say(_("Nothing tells how hot {firing} became: bring in its log, or note its witness cones.")).format(
                firing=found.firing
            )
        )
    elif found.witnesses:
        text = say_many(*_BY_CONES, len(found.witnesses))
        lines.append(text.format(n=len(found.witnesses), cone=position_in_words(found.cone), sd=found.cone_sd))
    elif found.reached is not None:
        text = say(_("With the cone noted as reached: cone {cone}, ±{sd:.2f} cone."))
        lines.append(text.format(cone=position_in_words(found.cone), sd=found.cone_sd))
    return lines


def position_in_words(position: float) -> str:
    """A place in the cone series to a tenth: ``5.9``, ``between 04 and 03``."""
    return str(Cone(min(max(round(position, 1), COOLEST_POSITION), HOTTEST_POSITION)))
