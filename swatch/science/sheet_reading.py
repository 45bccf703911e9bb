"""From a photo of the photo sheet to its zones, named by slot, and to the card on it: what `measuring` uses."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from swatch.science.card import Card
from swatch.science.colour_math import FloatArray
from swatch.science.flat_field import Sheet
from swatch.science.locate import SURE_SCORE, Place, find_chart
from swatch.science.picture import Picture
from swatch.science.sheet_finding import SheetPlace, find_sheet_place
from swatch.science.sheet_paper import BarePaper
from swatch.science.tile_outlines import TileOnSheet, find_tiles, split_of, zone_outlines
from swatch.terms.measured import ZoneShape
from swatch.terms.problems import Notice
from swatch.terms.sheet import SheetCode, SheetSeen, Split

_NARROWEST = 60
"""Pixels of the card's place below which no chart is sought in it."""


@dataclass(frozen=True, slots=True)
class SheetFound:
    """A photo sheet in a photo: where it lies, its tiles, a zone for each part of each, its bare paper."""

    place: SheetPlace
    tiles: tuple[TileOnSheet, ...]
    zones: tuple[ZoneShape, ...]
    paper: Sheet

    @property
    def code(self) -> SheetCode:
        """Which sheet it is; two photos with the same code show the same sheet, front and back."""
        return self.place.layout.code

    @property
    def seen(self) -> SheetSeen:
        """What is told of it beside its zones."""
        return SheetSeen(self.code, self.empty, self.place.markers)

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
        if not self.zones:
            return (Notice("sheet-no-tiles"),)
        unsure = [str(tile.slot.number) for tile in self.tiles if tile.outline is not None and not tile.seen]
        return (Notice("tile-edges-unsure", {"slots": ", ".join(unsure)}),) if unsure else ()


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
    paper = BarePaper(picture, place)
    tiles = find_tiles(place, paper)
    zones = []
    for tile in tiles:
        if tile.outline is None:
            continue
        for name, corners in zone_outlines(tile.outline, split_of(tile.slot, place.layout.code.split, splits)):
            polygon = tuple((float(x), float(y)) for x, y in place.points(corners))
            zones.append(ZoneShape(f"{tile.slot.number}{name}", polygon))
    return SheetFound(place, tiles, tuple(zones), paper.sheet)


def find_chart_on(picture: Picture, card: Card, found: SheetFound | None) -> Place | None:
    """Find the 24-patch chart, first at its place on the sheet, where it is larger than in the whole photo."""
    if found is None:
        return find_chart(picture, card)
    near = _find_chart_within(picture, card, found.card_outline)
    if near is not None and near.score >= SURE_SCORE:
        return near
    anywhere = find_chart(picture, card)
    places = [place for place in (near, anywhere) if place is not None]
    return max(places, key=lambda place: place.score, default=None)


def _find_chart_within(picture: Picture, card: Card, outline: FloatArray) -> Place | None:
    spare = 0.1 * np.ptp(outline, axis=0)
    low = np.maximum(np.floor(outline.min(axis=0) - spare), 0).astype(int)
    high = np.minimum(np.ceil(outline.max(axis=0) + spare), picture.size).astype(int)
    if (high - low < _NARROWEST).any():
        return None
    part = replace(picture, pixels=np.ascontiguousarray(picture.pixels[low[1] : high[1], low[0] : high[0]]))
    place = find_chart(part, card)
    if place is None:
        return None
    moved = np.array([[1.0, 0.0, low[0]], [0.0, 1.0, low[1]], [0.0, 0.0, 1.0]]) @ place.to_photo
    return replace(place, to_photo=moved / moved[2, 2])
