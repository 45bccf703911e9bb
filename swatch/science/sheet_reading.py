"""From a photo of the photo sheet to its zones, named by slot: the joint through which `measuring` uses it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from swatch.science.colour_math import FloatArray
from swatch.science.picture import Picture
from swatch.science.sheet_finding import SheetPlace, find_sheet_place
from swatch.science.sheet_layout import printed
from swatch.science.tile_outlines import TileOnSheet, find_tiles, split_of, zone_outlines
from swatch.terms.measured import ZoneShape
from swatch.terms.problems import Notice
from swatch.terms.sheet import SheetCode, Split


@dataclass(frozen=True, slots=True)
class SheetFound:
    """A photo sheet in a photo: where it lies, the tiles on it, and a zone for each part of each tile."""

    place: SheetPlace
    tiles: tuple[TileOnSheet, ...]
    zones: tuple[ZoneShape, ...]

    @property
    def code(self) -> SheetCode:
        """Which sheet it is; two photos with the same code show the same sheet, front and back."""
        return self.place.layout.code

    @property
    def card_outline(self) -> FloatArray:
        """Pixels of the corners of the card's place: (4, 2)."""
        return self.place.outline(self.place.layout.card)

    @property
    def empty(self) -> tuple[int, ...]:
        """Numbers of the slots without a tile."""
        return tuple(tile.slot.number for tile in self.tiles if tile.outline is None)

    @property
    def notices(self) -> tuple[Notice, ...]:
        """What the potter should look at."""
        unsure = [str(tile.slot.number) for tile in self.tiles if tile.outline is not None and not tile.seen]
        return (Notice("tile-edges-unsure", {"slots": ", ".join(unsure)}),) if unsure else ()

    def covered(self) -> list[FloatArray]:
        """Outlines in pixels of all on the sheet that is not bare white paper."""
        return [self.place.outline(box) for box in printed(self.place.layout)]


def zones_from_sheet(picture: Picture, splits: Mapping[int, Split] | None = None) -> SheetFound | None:
    """Find the photo sheet in a photo and a zone for each of its tiles.

    Parameters
    ----------
    splits : mapping, optional
        How the tile in a slot is parted, by the slot's number, where it is not as the sheet's code says.

    Returns
    -------
    SheetFound or None
        Zones are named ``1``, ``2``, …, parts of a tile ``1.1``, ``1.2``, …; None where no sheet is seen.

    Raises
    ------
    StudioProblem
        ``sheet-mirrored``.
    """
    place = find_sheet_place(picture)
    if place is None:
        return None
    tiles = find_tiles(picture, place)
    zones = []
    for tile in tiles:
        if tile.outline is None:
            continue
        for name, corners in zone_outlines(tile.outline, split_of(tile.slot, place.layout.code.split, splits)):
            polygon = tuple((float(x), float(y)) for x, y in place.points(corners))
            zones.append(ZoneShape(f"{tile.slot.number}{name}", polygon))
    return SheetFound(place, tiles, tuple(zones))
