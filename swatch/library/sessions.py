"""Photo sessions: photos of one camera, close together in one light, share an offset that learning takes out."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

from swatch.library.names import Names
from swatch.terms.layering import fold_name
from swatch.terms.measured import PhotoRead

CLOSE = timedelta(minutes=45)
"""Photos no farther apart than this, one after the other, are of one session (common practice, no source)."""
ALIKE_WARMTH = 0.15
"""Ln of red over blue within which two photos are of one light; a phone's white balance moves it by less."""


def session_of(names: Names, photo: int, path: Path, read: PhotoRead, together: str | None) -> str:
    """Name the session of a photo.

    It is the one this photo had before; else the one of the same camera, taken close to it in the same light; else
    `together`, that of the photos it is kept with, unless those tell of another camera, time or light; else a new
    one, called by the photo.
    """
    row = names.sql.execute(
        "SELECT session.name FROM shot JOIN session ON session.id = session_id WHERE photo_id = ? "
        "ORDER BY shot.id LIMIT 1",
        (photo,),
    ).fetchone()
    if row:
        return str(row[0])
    taken = read.taken
    if taken is None or taken.camera is None or taken.at is None:
        return together or _new(names, path)
    found = _close_by(names, taken.camera, taken.at, read.warmth)
    if found is not None:
        return found
    joins = together is not None and not _tells(names, together)
    name = together if together is not None and joins else _new(names, path)
    lamp = None if read.warmth is None else f"{read.warmth:.3f}"
    row_id = names.of("session", name)
    names.sql.execute("UPDATE session SET camera = ?, lamp = ? WHERE id = ?", (taken.camera, lamp, row_id))
    return name


def _close_by(names: Names, camera: str, at: str, warmth: float | None) -> str | None:
    when = datetime.fromisoformat(at)
    early, late = ((when + step).isoformat() for step in (-CLOSE, CLOSE))
    rows = names.sql.execute(
        "SELECT session.name, session.lamp FROM session JOIN shot ON shot.session_id = session.id "
        "JOIN photo ON photo.id = shot.photo_id WHERE session.camera = ? AND photo.taken_at BETWEEN ? AND ? "
        "ORDER BY shot.id DESC LIMIT 50",
        (camera, early, late),
    )
    for name, lamp in rows:
        if warmth is None or lamp is None or abs(float(lamp) - warmth) <= ALIKE_WARMTH:
            return str(name)
    return None


def _tells(names: Names, session: str) -> bool:
    """Whether it is known of a session which camera it is of."""
    row = names.sql.execute("SELECT camera FROM session WHERE folded = ?", (fold_name(session),)).fetchone()
    return row is not None and row[0] is not None


def _new(names: Names, path: Path) -> str:
    base = path.stem.encode(errors="replace").decode().replace("\0", "").strip() or "photo"
    name, n = base, 1
    while names.find("session", fold_name(name)) is not None:
        n += 1
        name = f"{base} ({n})"
    return name
