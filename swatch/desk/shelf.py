"""Where tiles stand on the kiln's shelf: rows of tiles with room between them, and a strip kept for witnesses."""

from __future__ import annotations

from dataclasses import dataclass

from swatch.terms.sheet import Size
from swatch.work.shelf import GAP_MM, WITNESS_MM, in_row, tiles_on

SHELF = Size(400.0, 400.0)
"""A shelf until another is said, mm: common practice, no source."""
GAP, WITNESS = GAP_MM, WITNESS_MM


@dataclass(frozen=True, slots=True)
class Spot:
    """Where one tile lies: its shelf, and its corner at the back left, mm."""

    shelf: int
    left: float
    top: float


@dataclass(frozen=True, slots=True)
class Laid:
    """How many tiles one shelf takes, and where each of those asked for lies."""

    per_shelf: int
    spots: tuple[Spot, ...] = ()

    @property
    def shelves(self) -> int:
        """How many shelves they take."""
        return 1 + max((spot.shelf for spot in self.spots), default=0)


def lay_out(n: int, tile: Size, shelf: Size = SHELF) -> Laid:
    """Lay `n` tiles flat in rows from the back, first to last as on the list."""
    across = in_row(shelf.wide, tile.wide)
    per_shelf = tiles_on((shelf.wide, shelf.high), (tile.wide, tile.high))
    if not per_shelf:
        return Laid(0)
    spots = []
    for k in range(n):
        which, place = divmod(k, per_shelf)
        row, column = divmod(place, across)
        spots.append(Spot(which, GAP + column * (tile.wide + GAP), GAP + row * (tile.high + GAP)))
    return Laid(per_shelf, tuple(spots))
