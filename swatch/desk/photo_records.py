"""What the studio's folder holds of a photo in hand: its picture to look at, and whether it is kept."""

from __future__ import annotations

import hashlib
from pathlib import Path
from typing import TYPE_CHECKING

from swatch.desk.photo_work import PhotoWork, State
from swatch.terms.problems.studio import disk_failed

if TYPE_CHECKING:
    from swatch.library.studio import Studio


def stem_of(photo: Path) -> str:
    """What files made of a photo are called."""
    return hashlib.sha256(str(photo).encode()).hexdigest()[:24]


def preview_file(studio: Studio, photo: Path) -> Path:
    """Where the picture of a photo is put.

    Raises
    ------
    StudioProblem
        The folder for it cannot be made.
    """
    out = studio.cache / "previews" / f"{stem_of(photo)}.jpg"
    try:
        out.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise disk_failed(str(out.parent), error.strerror or "") from error
    return out


def state_on_record(studio: Studio, work: PhotoWork) -> State:
    """How far a photo is after the records changed: an undo takes what was kept away, a redo brings it back."""
    from swatch.library.photos import on_record

    if not work.readings or work.state not in (State.KEPT, State.READ):
        return work.state
    if not on_record(studio.file, work.readings):
        return State.READ
    return State.KEPT if work.kept == work.zones else work.state
