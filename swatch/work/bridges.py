"""Lots that came into use after the look was approved, and the bridge tile that tells whether they hold it."""

from __future__ import annotations

from collections.abc import Sequence

from swatch.terms.editions import EditionRegion, PieceReading, Role, Weighing
from swatch.terms.evidence import Evidence, Stage
from swatch.terms.layering import fold_name
from swatch.terms.material_plan import BridgeTile
from swatch.terms.materials import Jar
from swatch.work.replace_plan import coats_of


def bridges_of(
    regions: Sequence[EditionRegion],
    jars: Sequence[Jar],
    weighings: Sequence[Weighing],
    pieces: Sequence[PieceReading],
    evidence: Evidence,
) -> tuple[BridgeTile, ...]:
    """A bridge tile for each material of an edition whose newest lot in use no fired tile has shown yet.

    A lot is in use from the day its first jar was opened or something was first weighed out of it. New is what
    came into use after the last approved firing; without one, each lot after a material's first.
    """
    approved = _last_approved(regions[0].edition, pieces, evidence)
    shown = {fold_name(one.lot) for one in evidence.readings if one.lot and one.stage is Stage.FIRED}
    shown |= {fold_name(one.lot) for one in pieces if one.lot}
    found: list[BridgeTile] = []
    for region in regions:
        for layer in region.layers:
            used = _in_use(layer.material, jars, weighings)
            if len(used) < 2:
                continue
            (_, old), (opened, new) = used[-2], used[-1]
            since = opened > approved if approved else True
            known = fold_name(new) in shown
            done = any(fold_name(one.material) == fold_name(layer.material) for one in found)
            if since and not known and not done:
                widest = max(
                    (one for one in regions if coats_of(one.layers, layer.material)),
                    key=lambda one: one.area_dm2 or 0.0,
                )
                found.append(BridgeTile(layer.material, old, new, widest.region, widest.layers, opened))
    return tuple(found)


def _in_use(material: str, jars: Sequence[Jar], weighings: Sequence[Weighing]) -> list[tuple[str, str]]:
    """Lots of a material with the day each came into use, in that order."""
    first: dict[str, tuple[str, str]] = {}
    told = [(one.opened, one.lot) for one in jars if _same(one.material, material)]
    told += [(one.at[:10], one.lot) for one in weighings if _same(one.material, material)]
    for day, lot in told:
        if day and lot and (fold_name(lot) not in first or day < first[fold_name(lot)][0]):
            first[fold_name(lot)] = (day, lot)
    return sorted(first.values())


def _last_approved(edition: str, pieces: Sequence[PieceReading], evidence: Evidence) -> str | None:
    dates = {fold_name(one.name): one.date for one in evidence.firings if one.date}
    days = [
        dates.get(fold_name(one.firing or ""))
        for one in pieces
        if _same(one.edition, edition) and one.role is Role.APPROVED
    ]
    return max((day for day in days if day), default=None)


def _same(one: str, other: str) -> bool:
    return fold_name(one) == fold_name(other)
