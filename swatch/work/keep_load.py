"""Photos of a load read and kept as pieces of an edition, or as witness buttons: the command line's way."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from swatch.formats.zones_file import read_zones
from swatch.library.studio import Studio
from swatch.terms.layering import fold_name
from swatch.terms.measured import PhotoRead, PiecesWanted, Point, ZoneShape
from swatch.terms.problems import StudioProblem, Where
from swatch.terms.problems.holding import unknown_edition
from swatch.terms.problems.pieces import firing_not_known, not_an_approved_piece, regions_not_placed
from swatch.terms.report import Report, silent
from swatch.work.files import read_file
from swatch.work.load_entries import LoadEntry, LoadRecords, entries_for, readings_of
from swatch.work.measure import BUILT_IN_CARD, card_of
from swatch.work.workers import Workers


@dataclass(frozen=True, slots=True)
class LoadRequest:
    """Photos of one load; ``edition`` None: they show witness buttons. ``kept`` lies beside the card."""

    photos: tuple[str, ...]
    edition: str | None
    firing: str
    kept: str | None = None
    shelves: tuple[str, ...] = ()
    pattern: str | None = None
    card: str = BUILT_IN_CARD
    corners: tuple[Point, Point, Point, Point] | None = None


@dataclass(frozen=True, slots=True)
class LoadKept:
    """What was read and kept of each photo, and why others were not."""

    photos: tuple[PhotoRead, ...]
    entries: tuple[tuple[LoadEntry, ...], ...]
    readings: int
    problems: tuple[StudioProblem, ...]


def read_pieces(
    photos: Sequence[str],
    wanted: PiecesWanted,
    card: str = BUILT_IN_CARD,
    corners: tuple[Point, Point, Point, Point] | None = None,
    report: Report = silent,
) -> tuple[list[PhotoRead], list[StudioProblem]]:
    """Read photos of pieces in turn: regions outlined on a piece of the first are found on all others."""
    table = card_of(card)
    reads, problems = [], []
    with Workers(1) as hands:
        for k, photo in enumerate(photos):
            report(k, len(photos), "photos")
            asked = {
                "photo": photo,
                "card": [table.name, table.rows, table.columns, table.lab],
                "wanted": wanted,
                "corners": corners,
            }
            try:
                read: PhotoRead = hands.run("pieces", asked, silent)
            except StudioProblem as problem:
                problems.append(problem.at(Where(photo=photo)))
                continue
            reads.append(read)
            if read.form is not None:
                wanted = PiecesWanted(wanted.name, read.form)
    return reads, problems


def pattern_in(path: str) -> tuple[ZoneShape, ...]:
    """The regions outlined on one piece, from a zones file."""
    return read_zones(read_file(path), path)


def keep_load(folder: Path, request: LoadRequest, report: Report = silent) -> LoadKept:
    """Read a load's photos and keep their readings, as one named change.

    Raises
    ------
    StudioProblem
        ``unknown-edition``, ``firing-not-known``, ``not-an-approved-piece``, ``regions-not-placed``, or the studio
        cannot be written.
    """
    with Studio.open(folder) as studio:
        records = _records(studio, request)
        known = next((one for one in studio.forms() if fold_name(one.name) == fold_name(records.form)), None)
        if request.pattern is None and known is None:
            raise regions_not_placed(records.form)
        pattern = pattern_in(request.pattern) if request.pattern else ()
        wanted = PiecesWanted(records.form, None if pattern else known, pattern)
        reads, problems = read_pieces(request.photos, wanted, request.card, request.corners, report)
        shots, entries = [], []
        for read in reads:
            mine = entries_for(read, records, request.firing, request.kept, request.shelves)
            kept = readings_of(read, mine, records, request.firing)
            entries.append(mine)
            if kept:
                shots.append((Path(read.photo), read, kept))
                records = _with(records, kept)
        form = next((read.form for read in reads if read.form is not None and read.zones), None)
        if shots and form is not None and form != known:
            studio.put_form(form)
        ids = studio.keep_shots(shots) if shots else []
    return LoadKept(tuple(reads), tuple(entries), sum(map(len, ids)), tuple(problems))


def _records(studio: Studio, request: LoadRequest) -> LoadRecords:
    edition = request.edition
    if edition is not None:
        names = tuple(dict.fromkeys(one.edition for one in studio.editions()))
        edition = next((name for name in names if fold_name(name) == fold_name(edition)), None)
        if edition is None:
            raise unknown_edition(str(request.edition), ", ".join(names) or "–")
    if all(fold_name(one.name) != fold_name(request.firing) for one in studio.firings()):
        raise firing_not_known(request.firing)
    records = LoadRecords(edition, studio.pieces(), studio.buttons())
    approved = records.approved()
    if request.kept is not None and fold_name(request.kept) not in {fold_name(name) for name in approved}:
        raise not_an_approved_piece(request.kept, ", ".join(approved) or "–")
    return records


def _with(records: LoadRecords, kept: Sequence[tuple[object, object]]) -> LoadRecords:
    """The records as they will be: names of a first photo are taken in the next."""
    from swatch.terms.buttons import ButtonReading
    from swatch.terms.editions import PieceReading

    new = [value for _, value in kept]
    pieces = [one for one in new if isinstance(one, PieceReading)]
    buttons = [one for one in new if isinstance(one, ButtonReading)]
    return LoadRecords(records.edition, (*records.pieces, *pieces), (*records.buttons, *buttons))
