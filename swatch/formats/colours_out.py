"""Outlines of the colours that jars can make, as a table: one row for each corner and each own tile."""

from __future__ import annotations

from collections.abc import Iterator

from swatch.formats.csv_text import write_sheet
from swatch.terms.colours import JarColours, LightnessBand, Ring
from swatch.terms.layering import format_layers

COLUMNS = ("L_from", "L_to", "of", "outline", "corner", "L", "a", "b", "tile", "zone", "layers")
"""``of`` is ``predicted`` or ``measured`` for corners of an outline, in order; ``tile`` for a fired colour."""


def write_colours(answer: JarColours) -> bytes:
    """Write the outlines of all bands and the tiles in them."""
    return write_sheet(COLUMNS, (row for band in answer.bands for row in _rows(band)))


def _rows(band: LightnessBand) -> Iterator[tuple[str, ...]]:
    ends = tuple(f"{end:g}" for end in band.lightness)
    yield from _corners(ends, "predicted", band.predicted)
    yield from _corners(ends, "measured", band.measured)
    for one in band.tiles:
        lab = (f"{part:.2f}" for part in one.lab)
        yield (*ends, "tile", "", "", *lab, one.tile, one.zone, format_layers(one.layers))


def _corners(ends: tuple[str, ...], of: str, rings: tuple[Ring, ...]) -> Iterator[tuple[str, ...]]:
    for number, ring in enumerate(rings, 1):
        for corner, (a, b) in enumerate(ring, 1):
            yield (*ends, of, str(number), str(corner), "", f"{a:g}", f"{b:g}", "", "", "")
