"""Which loads open a lot of a material or of clay, and since which load nothing recorded has changed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from swatch.science.holding_causes import Lots, rate_of_changes
from swatch.terms.layering import fold_name
from swatch.terms.materials import Firing
from swatch.work.loads import Gathered


@dataclass(frozen=True)
class Opened:
    """What the records say of a load: lots it opens, the first load since a change, how often lots change.

    ``recorded`` and ``clays_recorded`` tell whether lots of the approved pieces are on record at all.
    """

    lots: tuple[str, ...]
    clays: tuple[str, ...]
    since: int
    since_lot: bool
    recorded: bool
    clays_recorded: bool
    rate: float

    @property
    def any(self) -> bool:
        """Whether it opens a lot, of whatever."""
        return bool(self.lots or self.clays)

    @property
    def told(self) -> Lots:
        """What the records say, as causes are weighed by it."""
        return Lots(self.recorded, bool(self.lots), bool(self.clays), self.rate, self.clays_recorded)


def opened_by_load(gathered: Gathered, firings: Mapping[str, Firing]) -> list[Opened]:
    """Go through the loads in order. A change is a lot not used before, another kiln, or another programme."""
    used = {fold_name(lot) for one in gathered.approved for lot in one.lots}
    clays_used = {fold_name(lot) for one in gathered.approved for lot in one.clays}
    recorded, clays_recorded = bool(used), bool(clays_used)
    found: list[Opened] = []
    since, since_lot, changes = 0, False, 0
    before: tuple[object, ...] | None = None
    for k, (name, pieces) in enumerate(gathered.loads):
        lots = _named([one.lots for one in pieces])
        clays = _named([one.clays for one in pieces])
        new = _new(lots, used) if recorded else ()
        new_clays = _new(clays, clays_used) if clays_recorded else ()
        one = firings.get(fold_name(name))
        how = None if one is None else (one.kiln, one.cone_asked, one.peak_c, one.rate_c_per_h, one.hold_min)
        rate = rate_of_changes(changes, k)
        opens = bool(new or new_clays)
        if opens or (before is not None and how is not None and how != before):
            since, since_lot = k, opens
        changes += opens
        found.append(Opened(new, new_clays, since, since_lot, recorded, clays_recorded, rate))
        used |= set(lots)
        clays_used |= set(clays)
        before = how or before
    return found


def _named(lots: Sequence[frozenset[str]]) -> dict[str, str]:
    return {fold_name(lot): lot for some in lots for lot in sorted(some)}


def _new(lots: Mapping[str, str], used: set[str]) -> tuple[str, ...]:
    return tuple(lots[folded] for folded in sorted(lots) if folded not in used)
