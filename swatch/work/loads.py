"""An edition's measured pieces as rows: approved ones, loads in the order they were fired, kept pieces."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from swatch.science.colour_math import FloatArray
from swatch.terms.editions import PieceReading, Role
from swatch.terms.layering import fold_name
from swatch.terms.materials import Firing

NO_FIRING = "–"


@dataclass(frozen=True)
class Piece:
    """One piece with its colours (3 × regions,), as first photographed."""

    name: str
    firing: str
    shelf: str | None
    session: str
    lots: frozenset[str]
    clays: frozenset[str]
    colours: FloatArray
    measuring: float
    """Trace of the covariance of one region's reading, mean over regions."""


@dataclass(frozen=True)
class Kept:
    """An approved piece photographed again in another session: mean colours, and readings of each region."""

    piece: Piece
    session: str
    colours: FloatArray
    readings: int


@dataclass(frozen=True)
class Gathered:
    """All that was measured of an edition; pieces that lack a region of the look are in ``left_out``."""

    regions: tuple[str, ...]
    approved: tuple[Piece, ...]
    loads: tuple[tuple[str, tuple[Piece, ...]], ...]
    kept: tuple[Kept, ...]
    left_out: tuple[str, ...]
    spots: float

    @property
    def firings_approved(self) -> tuple[str, ...]:
        """Firings of the approved pieces."""
        return tuple(dict.fromkeys(one.firing for one in self.approved))


def gather(readings: Sequence[PieceReading], firings: Sequence[Firing]) -> Gathered:
    """Sort readings of one edition: a piece's first session is its own, an approved one's later ones are kept."""
    dates = {fold_name(one.name): (one.date or "", fold_name(one.name)) for one in firings}
    pieces: dict[str, list[PieceReading]] = {}
    for reading in readings:
        pieces.setdefault(fold_name(reading.piece), []).append(reading)
    regions = _regions_of(pieces.values())
    approved, others, kept, left_out, spots = [], [], [], [], []
    for rows in pieces.values():
        rows = sorted(rows, key=lambda one: one.reading)
        sessions = list(dict.fromkeys(_session(one, rows[0]) for one in rows))
        own = _colours([one for one in rows if _session(one, rows[0]) == sessions[0]], regions)
        if own is None:
            left_out.append(rows[0].piece)
            continue
        colours, count, measuring = own
        first = rows[0]
        lots = frozenset(one.lot for one in rows if one.lot)
        clays = frozenset(one.clay_lot for one in rows if one.clay_lot)
        piece = Piece(
            first.piece, first.firing or NO_FIRING, first.shelf, sessions[0], lots, clays, colours, measuring
        )
        spots.append(count)
        if first.role is not Role.APPROVED:
            others.append(piece)
            continue
        approved.append(piece)
        for session in sessions[1:]:
            again = _colours([one for one in rows if _session(one, rows[0]) == session], regions)
            if again is not None:
                kept.append(Kept(piece, session, again[0], again[1]))
    names = sorted(
        {one.firing for one in others}, key=lambda name: dates.get(fold_name(name), ("", fold_name(name)))
    )
    loads = tuple((name, tuple(one for one in others if one.firing == name)) for name in names)
    return Gathered(
        regions, tuple(approved), loads, tuple(kept), tuple(left_out), float(np.mean(spots)) if spots else 1.0
    )


def _session(reading: PieceReading, first: PieceReading) -> str:
    """The session of a reading; photos without one are taken as one session for each firing."""
    return fold_name(reading.session) if reading.session else f"\0{fold_name(first.firing or '')}"


def _regions_of(pieces: Iterable[list[PieceReading]]) -> tuple[str, ...]:
    """Regions that most approved pieces were read in (most pieces, where none is approved)."""
    every = list(pieces)
    chosen = [rows for rows in every if rows[0].role is Role.APPROVED] or every
    seen = Counter(region for rows in chosen for region in {fold_name(one.region) for one in rows})
    spelt = {fold_name(one.region): one.region for rows in chosen for one in rows}
    return tuple(spelt[name] for name in sorted(seen) if 2 * seen[name] > len(chosen))


def _colours(rows: Sequence[PieceReading], regions: Sequence[str]) -> tuple[FloatArray, int, float] | None:
    means, counts, measuring = [], [], []
    for region in regions:
        found = [one for one in rows if fold_name(one.region) == fold_name(region)]
        if not found:
            return None
        means.append(np.mean([one.lab for one in found], axis=0))
        counts.append(len(found))
        measuring.append(float(np.mean([c.LL + c.aa + c.bb for c in (one.covariance for one in found)])))
    return np.concatenate(means), min(counts), float(np.mean(measuring))
