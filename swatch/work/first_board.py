"""The first board of a studio that has jars and no tiles: what to fire so that most is learnt of each jar."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from swatch.terms.boards import Board, BoardTile, BoardZone, Why
from swatch.terms.cone import COOLEST_POSITION, HOTTEST_POSITION, Cone
from swatch.terms.layering import Layer, Layers, fold_name
from swatch.terms.materials import Kind, Material

STEPS = (("A", 3.0), ("B", 2.0), ("C", 1.0))
"""Zones of a step tile from the top down, with the coats of its top layer (common practice, no source)."""
UNDER = 2.0
"""Coats of what lies beneath: usual for an underglaze that is to cover (common practice, no source)."""
DARK_WORDS = (
    *("black", "ink", "jet", "night", "midnight", "coal", "soot", "onyx", "navy", "dark", "deep", "espresso"),
    *("schwarz", "tinte", "nacht", "kohle", "ruß", "dunkel", "tief", "marine"),
)
"""Words in jars' names that speak of a dark colour, the darkest first within each language."""
_NUMBER = re.compile(r"^(.*?)(\d+)$")


def undercolours(materials: Sequence[Material]) -> tuple[Material, ...]:
    """Materials that others can be laid over to show how much they cover: underglazes, else slips."""
    for kind in (Kind.UNDERGLAZE, Kind.SLIP):
        if found := tuple(one for one in materials if one.kind is kind):
            return found
    return ()


def darkest(materials: Sequence[Material]) -> str:
    """The darkest underglaze: by its raw colour where that is known, else by its name, else the first; or none.

    An underglaze's raw colour tells of its fired one; a jar only listed has no colour yet, and its name must do.
    """
    found = undercolours(materials)
    if not found:
        return ""

    def how_light(one: Material) -> tuple[int, float]:
        if one.raw is not None:
            return 0, one.raw.L
        name = fold_name(one.name)
        words = [n for n, word in enumerate(DARK_WORDS) if word in name]
        return (1, float(words[0])) if words else (2, 0.0)

    return min(found, key=how_light).name


def first_board(
    materials: Sequence[Material], body: str, cone: Cone | None, name: str, over: str, taken: Iterable[str] = ()
) -> Board:
    """Plan each material as a step tile on the body, and once more over the darkest underglaze.

    Parameters
    ----------
    materials : sequence of Material
    body : str
    cone : Cone or None
    name : str
        Of the board and of the firing it goes into.
    over : str
        The underglaze beneath; none where empty.
    taken : iterable of str
        Tile names in use: numbers go on after the highest.
    """
    below: Layers = (Layer(over, UNDER),) if over else ()
    bare: Layers = ()
    planned = [(bare, one, Why.ALONE) for one in materials]
    planned += [(below, one, Why.OVER_DARKEST) for one in materials if below and _other(one, over)]
    tiles = [
        BoardTile(number, _steps(under, one.name), why)
        for number, (under, one, why) in zip(tile_names(taken, len(planned)), planned, strict=True)
    ]
    return Board(name, body, cone, tuple(tiles))


def tile_names(taken: Iterable[str], n: int) -> tuple[str, ...]:
    """The next `n` names after the highest of those taken: ``T-001``, ``T-002`` …"""
    best = ("T-", 0, 3)
    for name in taken:
        found = _NUMBER.match(name)
        if found and int(found.group(2)) >= best[1]:
            best = (found.group(1), int(found.group(2)), len(found.group(2)))
    stem, number, width = best
    return tuple(f"{stem}{number + k + 1:0{width}d}" for k in range(n))


def cone_of_programme(peak_c: float, rate_c_per_h: float, hold_min: float) -> Cone:
    """The cone, to the half, that a programme reaches; for those who fire by temperature."""
    from swatch.science.heatwork import cone_of_programme as position_of

    position = round(2 * position_of(peak_c, rate_c_per_h, hold_min)) / 2
    if position < 1.0:  # no half cones are in use there
        position = float(round(position))
    return Cone(min(max(position, COOLEST_POSITION), HOTTEST_POSITION))


def _steps(under: Layers, name: str) -> tuple[BoardZone, ...]:
    return tuple(BoardZone(zone, (*under, Layer(name, coats))) for zone, coats in STEPS)


def _other(one: Material, over: str) -> bool:
    return fold_name(one.name) != fold_name(over)
