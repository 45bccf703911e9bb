"""What is written down of the pieces in a photo of a load, and the readings that come of it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from swatch.terms.buttons import ButtonReading
from swatch.terms.editions import PieceReading, Role
from swatch.terms.layering import fold_name
from swatch.terms.measured import PhotoRead, ZoneRead

BUTTONS = "witness button"
"""The name of the form of witness buttons, which are of no edition."""
_LAST_NUMBER = re.compile(r"^(.*?)(\d+)$")


@dataclass(frozen=True, slots=True)
class LoadEntry:
    """One piece in the photo: ``seen`` is its number there; ``kept``: the approved one, or the kept button."""

    seen: str
    name: str
    kept: bool = False
    shelf: str | None = None
    approve: bool = False


@dataclass(frozen=True)
class LoadRecords:
    """What the studio knows already of an edition's pieces, or of its buttons where ``edition`` is None."""

    edition: str | None
    pieces: Sequence[PieceReading] = ()
    buttons: Sequence[ButtonReading] = ()
    by_name: Mapping[str, PieceReading | ButtonReading] = field(init=False)

    def __post_init__(self) -> None:
        found: dict[str, PieceReading | ButtonReading] = {}
        for one in self._mine():
            found.setdefault(fold_name(_name(one)), one)
        object.__setattr__(self, "by_name", found)

    @property
    def form(self) -> str:
        """The name of the form."""
        return self.edition or BUTTONS

    def approved(self) -> tuple[str, ...]:
        """Approved pieces, or kept buttons; those photographed most often first: it is the one at hand."""
        readings: dict[str, int] = {}
        for one in self._mine():
            wanted = one.kept if isinstance(one, ButtonReading) else one.role is Role.APPROVED
            if wanted:
                name = _name(one)
                readings[name] = max(readings.get(name, 0), one.reading)
        return tuple(sorted(readings, key=lambda name: (-readings[name], name)))

    def new_names(self, count: int, firing: str, shelves: Sequence[str | None]) -> list[str]:
        """Names of so many pieces: on from the last number; buttons are called by firing and shelf."""
        taken = set(self.by_name)
        if self.edition is None:
            names = []
            for k in range(count):
                shelf = shelves[k] if k < len(shelves) else None
                base = f"{firing} {shelf or k + 1}"
                name, n = base, 1
                while fold_name(name) in taken:
                    n += 1
                    name = f"{base} {n}"
                taken.add(fold_name(name))
                names.append(name)
            return names
        stem, last, digits = _last(_name(one) for one in self._mine())
        return [f"{stem}{last + k + 1:0{digits}d}" for k in range(count)]

    def _mine(self) -> Iterable[PieceReading | ButtonReading]:
        if self.edition is None:
            return self.buttons
        return (one for one in self.pieces if fold_name(one.edition) == fold_name(self.edition or ""))


def entries_for(
    read: PhotoRead, records: LoadRecords, firing: str, kept: str | None, shelves: Sequence[str] = ()
) -> tuple[LoadEntry, ...]:
    """Entries as proposed: the piece beside the card is `kept`, the others are new and fill the shelves in order.

    Pieces are in reading order, which is the order they were taken from the kiln in; shelves are dealt out evenly.
    """
    others = [one for one in read.pieces if not (kept and one.beside_card)]
    where = deal(shelves, len(others))
    names = records.new_names(len(others), firing, where)
    new = {
        one.piece: LoadEntry(one.piece, name, shelf=shelf)
        for one, name, shelf in zip(others, names, where, strict=True)
    }
    return tuple(new.get(one.piece) or LoadEntry(one.piece, kept or "", kept=True) for one in read.pieces)


def pairs_beside(read: PhotoRead) -> list[tuple[str, str]]:
    """Every region of every piece with the same region of the piece beside the card."""
    beside = next((one.piece for one in read.pieces if one.beside_card), None)
    names = {zone.zone for zone in read.zones}
    pairs = []
    for zone in read.zones:
        piece, _, region = zone.zone.partition(" ")
        other = f"{beside} {region}"
        if beside is not None and piece != beside and other in names:
            pairs.append((zone.zone, other))
    return pairs


def deal(shelves: Sequence[str], count: int) -> list[str | None]:
    """Shelves of so many pieces, as evenly as can be and in order; None for each where no shelf is known."""
    if not shelves:
        return [None] * count
    return [shelves[k * len(shelves) // count] for k in range(count)]


def readings_of(
    read: PhotoRead, entries: Sequence[LoadEntry], records: LoadRecords, firing: str
) -> list[tuple[ZoneRead, PieceReading | ButtonReading]]:
    """The readings to keep; an approved piece keeps the firing it came from."""
    by_seen = {one.seen: one for one in entries}
    kept: list[tuple[ZoneRead, PieceReading | ButtonReading]] = []
    for zone in read.zones:
        seen, _, region = zone.zone.partition(" ")
        entry = by_seen.get(seen)
        if entry is None or not entry.name or not region:
            continue
        make = _piece if records.edition is not None else _button
        kept.append((zone, make(zone, entry, region, records, firing)))
    return kept


def _piece(zone: ZoneRead, entry: LoadEntry, region: str, records: LoadRecords, firing: str) -> PieceReading:
    known = records.by_name.get(fold_name(entry.name))
    before = known if isinstance(known, PieceReading) else None
    approved = entry.kept or entry.approve
    role = before.role if before is not None and not entry.approve else Role.APPROVED if approved else Role.PIECE
    at_home = before is None or not entry.kept
    return PieceReading(
        edition=records.edition or "",
        piece=entry.name,
        region=region,
        lab=zone.lab,
        covariance=zone.covariance,
        firing=firing if at_home else before.firing if before else None,
        shelf=entry.shelf if at_home else before.shelf if before else None,
        role=role,
    )


def _button(zone: ZoneRead, entry: LoadEntry, stripe: str, records: LoadRecords, firing: str) -> ButtonReading:
    like = next((one for one in records.buttons if fold_name(one.stripe) == fold_name(stripe)), None)
    known = records.by_name.get(fold_name(entry.name))
    before = known if isinstance(known, ButtonReading) else None
    return ButtonReading(
        button=entry.name,
        stripe=stripe,
        lab=zone.lab,
        covariance=zone.covariance,
        body=like.body if like else None,
        layers=like.layers if like else (),
        firing=before.firing if entry.kept and before else None if entry.kept else firing,
        shelf=before.shelf if entry.kept and before else entry.shelf,
        kept=True if entry.kept else None,
    )


def _name(one: PieceReading | ButtonReading) -> str:
    return one.piece if isinstance(one, PieceReading) else one.button


def _last(names: Iterable[str]) -> tuple[str, int, int]:
    best: tuple[str, int, int] | None = None
    for name in names:
        found = _LAST_NUMBER.match(name)
        if found and (best is None or int(found.group(2)) >= best[1]):
            best = found.group(1), int(found.group(2)), len(found.group(2))
    return best or ("P", 0, 2)
