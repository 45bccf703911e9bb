"""What on the shelf will not last for the pieces that are planned."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from swatch.terms.editions import EditionRegion, Weighing
from swatch.terms.layering import fold_name
from swatch.terms.materials import Material
from swatch.work.consumption import Consumption


@dataclass(frozen=True, slots=True)
class Short:
    """A material that runs out: pieces it still makes, a range of 80 %, and pieces planned."""

    material: str
    edition: str
    pieces: tuple[int, int]
    planned: int


def running_short(
    regions: Sequence[EditionRegion], weighings: Sequence[Weighing], stock: Sequence[Material]
) -> tuple[Short, ...]:
    """Materials whose low end is below what is planned, the shortest first; none where no weighing tells."""
    consumption = Consumption(weighings)
    left = {fold_name(one.name): one for one in stock}
    found: dict[tuple[str, str], Short] = {}
    for region in regions:
        if not region.planned or not region.area_dm2:
            continue
        for layer in region.layers:
            material = left.get(fold_name(layer.material))
            pieces = consumption.pieces((layer,), (material,), region.area_dm2) if material is not None else None
            key = fold_name(layer.material), region.edition
            if material is None or pieces is None or pieces[0] >= region.planned:
                continue
            if key not in found or pieces < found[key].pieces:
                found[key] = Short(material.name, region.edition, pieces, region.planned)
    return tuple(sorted(found.values(), key=lambda one: one.pieces[0] / one.planned))
