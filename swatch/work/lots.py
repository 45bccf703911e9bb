"""Which loads open a lot, and since which load nothing recorded has changed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from swatch.science.holding_causes import rate_of_changes
from swatch.terms.layering import fold_name
from swatch.terms.materials import Firing
from swatch.work.loads import Gathered


@dataclass(frozen=True)
class Opened:
    """What the records say of a load: lots it opens, the first load since a change, how often lots change."""

    lots: tuple[str, ...]
    since: int
    since_lot: bool
    recorded: bool
    rate: float


def opened_by_load(gathered: Gathered, firings: Mapping[str, Firing]) -> list[Opened]:
    """Go through the loads in order. A change is a lot not used before, another kiln, or another programme."""
    used = {fold_name(lot) for one in gathered.approved for lot in one.lots}
    recorded = bool(used)
    found: list[Opened] = []
    since, since_lot, changes = 0, False, 0
    before: tuple[object, ...] | None = None
    for k, (name, pieces) in enumerate(gathered.loads):
        lots = {fold_name(lot): lot for one in pieces for lot in one.lots}
        new = tuple(lots[folded] for folded in sorted(lots) if folded not in used) if recorded else ()
        one = firings.get(fold_name(name))
        how = None if one is None else (one.kiln, one.cone_asked, one.peak_c, one.rate_c_per_h, one.hold_min)
        rate = rate_of_changes(changes, k)
        if new or (before is not None and how is not None and how != before):
            since, since_lot = k, bool(new)
        changes += bool(new)
        found.append(Opened(new, since, since_lot, recorded, rate))
        used |= set(lots)
        before = how or before
    return found
