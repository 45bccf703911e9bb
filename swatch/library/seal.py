"""A hash of the records as they were last closed: SQLite itself does not notice a figure gone wrong on the disk.

The seal is broken before a studio is written and put again when it is closed, so a studio that was not closed
has none; then only what `verify` finds can be known.
"""

from __future__ import annotations

import json
from pathlib import Path

from swatch.library import disk
from swatch.library.originals import sha256_of
from swatch.terms.problems.studio import studio_damaged

SEAL_NAME = "studio.seal"
_RECORDS = "studio.sqlite"


def check(folder: Path) -> None:
    """Hold the records against their seal, where there is one.

    Raises
    ------
    StudioProblem
        ``studio-damaged``.
    """
    path = folder / SEAL_NAME
    if not path.is_file():
        return
    try:
        said = str(json.loads(path.read_bytes())["sha256"])
    except (ValueError, KeyError, TypeError):
        raise studio_damaged(str(folder), f"{SEAL_NAME} cannot be read") from None
    if sha256_of(folder / _RECORDS) != said:
        raise studio_damaged(str(folder), f"{_RECORDS} is not what it was when it was last closed")


def is_put(folder: Path) -> bool:
    """Tell whether the records bear a seal."""
    return (folder / SEAL_NAME).is_file()


def break_open(folder: Path) -> None:
    """Take the seal away, for the records are about to be written."""
    path = folder / SEAL_NAME
    if path.exists():
        disk.remove(path)
        disk.flush_folder(folder)


def put(folder: Path) -> None:
    """Seal the records as they are."""
    disk.write_whole(folder / SEAL_NAME, json.dumps({"sha256": sha256_of(folder / _RECORDS)}).encode())


def leave_off(folder: Path) -> None:
    """Take away what there is of a seal that could not be put."""
    for name in (SEAL_NAME, SEAL_NAME + disk.TEMPORARY):
        disk.remove(folder / name)
