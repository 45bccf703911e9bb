"""How many tiles find room on a kiln shelf."""

from __future__ import annotations

import math

GAP_MM = 10.0
"""Room between tiles and at the edge: a cookie reaches past its tile (common practice, no source)."""
WITNESS_MM = 60.0
"""Strip at the front kept for witness cones and buttons (common practice, no source)."""
FOR_WITNESSES = 1
"""On a round shelf, which has no front, the place of so many tiles is kept for them."""


def tiles_on(shelf_mm: tuple[float, ...], tile_mm: tuple[float, float], shelves: int = 1) -> int:
    """Tiles lying upright in rows beside the witnesses.

    Parameters
    ----------
    shelf_mm : (width, depth) or (diameter,)
        A shelf with corners, or a round one.
    tile_mm : (width, height)
    shelves : int
        How many such shelves there are.
    """
    if len(shelf_mm) == 1:
        return shelves * max(_on_round(shelf_mm[0], *tile_mm) - FOR_WITNESSES, 0)
    return shelves * in_row(shelf_mm[0], tile_mm[0]) * in_row(shelf_mm[1] - WITNESS_MM, tile_mm[1])


def in_row(room: float, size: float) -> int:
    """How many of one size find room side by side, a gap before, between and after them."""
    return max(int((room - GAP_MM) // (size + GAP_MM)), 0)


def _on_round(across_mm: float, wide: float, high: float) -> int:
    """Rows as wide as the circle leaves at the end of the row that is further from its middle."""
    radius = across_mm / 2.0 - GAP_MM
    most = 0
    for many in range(1, in_row(across_mm, high) + 1):
        lowest = -(many * high + (many - 1) * GAP_MM) / 2.0
        held = 0
        for row in range(many):
            start = lowest + row * (high + GAP_MM)
            reach = max(abs(start), abs(start + high))
            if reach < radius:
                held += in_row(2.0 * math.sqrt(radius**2 - reach**2) + 2.0 * GAP_MM, wide)
        most = max(most, held)
    return most
