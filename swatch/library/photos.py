"""Keeping what was read from photos: originals first, then shots, sessions and readings in one change."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Sequence
from dataclasses import asdict, fields, replace
from datetime import UTC, datetime
from pathlib import Path

from swatch.library import disk
from swatch.library.backs import put_backs
from swatch.library.editions import row_of_button, row_of_piece
from swatch.library.file import RecordsFile, mended
from swatch.library.migrations import program_version
from swatch.library.names import Names, add_row
from swatch.library.originals import Original, sha256_of, store
from swatch.library.piece_shots import numbered
from swatch.library.sessions import session_of
from swatch.library.tiles import row_of_reading
from swatch.library.ware_rows import Seen, WareRow
from swatch.library.wares import put_rows
from swatch.library.words import clean, notices_json
from swatch.terms.buttons import ButtonReading
from swatch.terms.editions import PieceReading
from swatch.terms.evidence import ZoneReading
from swatch.terms.measured import CardRead, PhotoRead, TileBack, ZoneRead

Kept = Sequence[tuple[ZoneRead, ZoneReading | PieceReading | ButtonReading]]
Turned = tuple[Path, PhotoRead, Sequence[TileBack]]
"""A photo of tiles' backs and which tile's is where in it."""


def keep_shots(
    file: RecordsFile, shots: Sequence[tuple[Path, PhotoRead, Kept]], turned: Sequence[Turned] = ()
) -> list[list[int]]:
    """Keep the readings chosen from photos taken together, as one named change.

    The originals are on the disk before the change begins, and the change is on the disk when this returns. Where
    a reading names no session, the photo's own camera, time and light tell it (``library/sessions``); photos that
    tell nothing of them belong to one, called by the first. What a reading leaves empty
    is left as it was known. A reading of a zone, stage and number that is known already supersedes the former
    one where both are of one firing; where they are of two, the new one stands beside it under the next number.
    Of photos of backs nothing is read: each tile is told where its back is to be seen, in place of an earlier
    photo of it. A back of a tile that is not on record is passed over.

    Returns
    -------
    list of list of int
        Per photo the ids of its readings, in the order given.

    Raises
    ------
    StudioProblem
        An original cannot be read, the disk is full, rows contradict each other. Nothing is kept then.
    """
    originals: list[Original] = []
    try:
        suffixes = dict(file.sql.execute("SELECT sha256, suffix FROM photo"))
        with mended(file.folder):
            for photo, _, _ in (*shots, *turned):
                original = store(file.folder, photo, suffixes)
                suffixes.setdefault(original.sha256, original.suffix)
                originals.append(original)
        n, backs = sum(len(kept) for *_, kept in shots), sum(len(one) for *_, one in turned)
        with file.change("keep-readings", n=n) if n else file.change("keep-backs", n=backs) as sql:
            made = _record(Names(sql), list(zip(shots, originals)))
            for (photo, read, outlines), original in zip(turned, originals[len(shots) :]):
                put_backs(sql, _photo(sql, photo, read, original), outlines)
            return made
    except BaseException:
        for original in originals:
            if original.new:
                disk.remove(original.path)
        raise


def kept_before(file: RecordsFile, photo: Path) -> tuple[str, int] | None:
    """Tell the day a photo was last kept, and how many readings of it stand; None where it never was.

    A photo is told by what is in it; only one of the same size as an original on record is read through.
    """
    try:
        size = photo.stat().st_size
        with file.reading() as sql:
            alike = [row[0] for row in sql.execute("SELECT sha256 FROM photo WHERE bytes = ?", (size,))]
            sha256 = sha256_of(photo) if alike else ""
            found = sql.execute(
                "SELECT max(shot.made_at), count(DISTINCT reading.id) "
                "FROM photo JOIN shot ON shot.photo_id = photo.id "
                "JOIN reading ON reading.shot_id = shot.id AND reading.superseded_by IS NULL WHERE sha256 = ?",
                (sha256,),
            ).fetchone()
    except OSError:
        return None  # whoever reads the photo tells what is wrong with it
    return (str(found[0])[:10], int(found[1])) if found and found[1] else None


def on_record(file: RecordsFile, readings: Sequence[int]) -> bool:
    """Whether all these readings are on record: an undo may have taken them away."""
    with file.reading() as sql:
        found = sql.execute(
            "SELECT count(*) FROM reading WHERE id IN (SELECT value FROM json_each(?))", (json.dumps([*readings]),)
        ).fetchone()
    return bool(found[0] == len(set(readings)))


def stated(value: ZoneReading | PieceReading | ButtonReading) -> frozenset[str]:
    """Return the fields of a reading that say something; one left at its default says nothing."""
    return frozenset(
        field.name
        for field in fields(value)
        if (got := getattr(value, field.name)) not in (None, ()) and not (field.name == "refires" and got == 0)
    )


def _record(names: Names, shots: Sequence[tuple[tuple[Path, PhotoRead, Kept], Original]]) -> list[list[int]]:
    together: str | None = None
    rows, counts = [], []
    for (photo, read, kept), original in shots:
        photo_id = _photo(names.sql, photo, read, original)
        said = next((value.session for _, value in kept if value.session is not None), None)
        session = said or session_of(names, photo_id, photo, read, together)
        if said is None:
            together = session
        shot = _shot(names, photo_id, read, names.of("session", session))
        for zone, value in kept:
            seen = Seen(
                shot,
                json.dumps(zone.polygon),
                zone.variation_de00,
                zone.used_share,
                notices_json(zone.warnings),
                json.dumps([[*map(float, one.lab), one.share] for one in zone.colours]) if zone.colours else None,
            )
            with_session = (
                value if value.session is not None or session is None else replace(value, session=session)
            )
            rows.append(_row(names, with_session, photo_id, seen))
        counts.append(len(kept))
    readings = [outcome.reading for outcome in put_rows(names, rows, measure_again=True)]
    starts = [sum(counts[:k]) for k in range(len(counts))]
    return [readings[start : start + count] for start, count in zip(starts, counts)]


def _row(names: Names, value: ZoneReading | PieceReading | ButtonReading, photo: int, seen: Seen) -> WareRow:
    if isinstance(value, ZoneReading):
        return row_of_reading(value, stated(value), seen)
    value = replace(value, reading=numbered(names, value, photo))
    if isinstance(value, PieceReading):
        return row_of_piece(value, stated(value), seen=seen)
    return row_of_button(value, stated(value), seen=seen)


def _photo(sql: sqlite3.Connection, photo: Path, read: PhotoRead, original: Original) -> int:
    found = sql.execute("SELECT id FROM photo WHERE sha256 = ?", (original.sha256,)).fetchone()
    if found:
        return int(found[0])
    name = clean(photo.name.encode(errors="replace").decode())
    width, height = read.size
    return add_row(
        sql,
        "photo",
        {
            "sha256": original.sha256,
            "suffix": original.suffix,
            "name": name,
            "bytes": original.bytes,
            "width": width,
            "height": height,
            "taken_at": None if read.taken is None else read.taken.at,
            "kept_at": _now(),
        },
    )


def _shot(names: Names, photo: int, read: PhotoRead, session: int) -> int:
    card = read.card
    evidence = {
        "card": None if card is None else {k: v for k, v in asdict(card).items() if k not in ("name", "corners")},
        "warnings": json.loads(notices_json(read.warnings)),
        "size": read.size,
    }
    return add_row(
        names.sql,
        "shot",
        {
            "photo_id": photo,
            "session_id": session,
            "card_id": None if card is None else _card(names, card),
            "corners": None if card is None else json.dumps(card.corners),
            "program": program_version(),
            "verdict": read.verdict.value,
            "evidence": json.dumps(evidence),
            "made_at": _now(),
        },
    )


def _card(names: Names, card: CardRead) -> int:
    row = names.of("card", card.name)
    if names.sql.execute("SELECT 1 FROM card_patch WHERE card_id = ?", (row,)).fetchone() is None:
        names.sql.executemany(
            "INSERT INTO card_patch (card_id, number, L, a, b) VALUES (?, ?, ?, ?, ?)",
            [(row, patch.patch, *map(float, patch.reference)) for patch in card.patches],
        )
    return row


def _now() -> str:
    return datetime.now(UTC).isoformat(timespec="seconds")
