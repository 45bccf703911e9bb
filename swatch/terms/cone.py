"""Pyrometric cones: text in, position in the series out.

Cones measure heat-work, not temperature. The series runs 022 … 02, 01, 1, 2 … 14, coolest first, so
cone 06 and cone 6 are far apart. A cone is text everywhere outside this module; inside, its position in the
series is a float: cone 6 is 6.0, cone 1 is 1.0, cone 01 is 0.0, cone 06 is -5.0.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from swatch.terms.problems.files import bad_cone

COOLEST_POSITION = -21.0
"""Position of cone 022."""
HOTTEST_POSITION = 14.0

_WHOLE = re.compile(r"(0?[1-9]|0?1[0-9]|02[0-2])")
_HALF = re.compile(r"([1-9]|1[0-3])(?:\.5|½)")
_BETWEEN = re.compile(r"([1-9]|1[0-3])\.(0[1-9]|[1-9][0-9]?)")


@dataclass(frozen=True, slots=True, order=True)
class Cone:
    """One place in the cone series; compares by heat-work, coolest first."""

    position: float

    def __post_init__(self) -> None:
        if not COOLEST_POSITION <= self.position <= HOTTEST_POSITION:
            raise ValueError(f"no cone stands at {self.position}")

    def __str__(self) -> str:
        position = round(self.position, 2)
        if position >= 1.0:
            return f"{position:g}"
        if position == int(position):
            return f"0{1 - int(position)}"
        # Between two cones of the 0-series no text is in use; such places come only from heat-work sums.
        return f"between 0{1 - int(position // 1)} and {Cone(float(int(position // 1) + 1))}"


def parse_cone(text: str, *, between: bool = False) -> Cone:
    """Read a cone as a potter writes it: ``06``, ``6``, ``5.5`` or ``5½``.

    Parameters
    ----------
    text : str
        What stands in the field.
    between : bool
        Also take hundredths above cone 1 (``5.8``), as read off a bent witness cone.

    Returns
    -------
    Cone

    Raises
    ------
    StudioProblem
        ``bad-cone``: not a cone of the series, or a form that a spreadsheet is known to make
        (``6.0``, the letter O, a date).
    """
    bare = text.strip()
    if _HALF.fullmatch(bare):
        return Cone(float(re.split(r"\.|½", bare)[0]) + 0.5)
    if between and _BETWEEN.fullmatch(bare):
        return Cone(float(bare))
    if _WHOLE.fullmatch(bare):
        number = int(bare)
        if bare.startswith("0"):
            return Cone(1.0 - number)
        if number <= HOTTEST_POSITION:
            return Cone(float(number))
    raise bad_cone(text)
