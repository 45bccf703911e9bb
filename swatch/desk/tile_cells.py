"""A tile as one cell of the bench: its zones where they lie on the tile, its name and what is on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from swatch.desk.photo_work import DOUBTFUL
from swatch.desk.tile_views import TileView
from swatch.terms.colour import Lab
from swatch.terms.evidence import Stage
from swatch.wording.text import _, say

Place = tuple[float, float, float, float]
"""Left, top, width, height as shares of the swatch."""
_RAW, _MAKER, _DOUBTFUL = _("raw"), _("maker's"), _("doubtful")


@dataclass(frozen=True, slots=True)
class TileCell:
    """What one cell shows; ``mark`` is a word beside the name.

    Without zones it is not fired yet, and ``waiting`` says for what it waits.
    """

    name: str
    caption: str
    zones: tuple[tuple[Place, Lab], ...] = ()
    mark: str = ""
    waiting: str = ""

    @property
    def labs(self) -> tuple[Lab, ...]:
        """Every colour in the cell."""
        return tuple(lab for _place, lab in self.zones)


def places(n: int) -> list[Place]:
    """Where `n` zones lie: bands from the top for a step tile, three by three for a crossed one of nine."""
    columns = 1 if n <= 4 else 2 if n <= 8 else 3
    rows = -(-n // columns) if n else 0
    return [(k % columns / columns, k // columns / rows, 1 / columns, 1 / rows) for k in range(n)]


def cell(name: str, caption: str, labs: Sequence[Lab], *, mark: str = "", waiting: str = "") -> TileCell:
    """Lay colours out as a tile."""
    return TileCell(name, caption, tuple(zip(places(len(labs)), labs, strict=True)), mark, waiting)


def cell_of_tile(tile: TileView) -> TileCell:
    """A tile of the studio as a cell."""
    if tile.stage is not Stage.FIRED:
        mark = say(_RAW) if tile.stage is Stage.RAW else say(_MAKER)
    else:
        mark = say(_DOUBTFUL) if any(zone.known_to >= DOUBTFUL for zone in tile.zones) else ""
    return cell(tile.tile, tile.summary, [zone.lab for zone in tile.zones], mark=mark)
