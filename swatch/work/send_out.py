"""Readings out of the studio, as a file others can read."""

from __future__ import annotations

from pathlib import Path

from swatch.formats.readings_out import write_readings_text, write_tiles
from swatch.formats.tables import WithDoubt
from swatch.library.studio import Studio
from swatch.terms.problems import Where
from swatch.terms.problems.files import unknown_ending
from swatch.work.bring_in import doubts_of
from swatch.work.files import write_file

WRITERS = {".csv": write_tiles, ".txt": write_readings_text}


def send_out(folder: Path, out: Path) -> int:
    """Write every reading of the studio to `out`; its ending says how. A file that is there is replaced.

    Returns
    -------
    int
        How many readings were written.

    Raises
    ------
    StudioProblem
        ``unknown-ending``, ``file-not-written``, or the studio cannot be read.
    """
    writer = WRITERS.get(out.suffix.lower())
    if writer is None:
        raise unknown_ending(out.name, ", ".join(WRITERS)).at(Where(file=str(out)))
    studio = Studio.look(folder)
    try:
        readings = studio.evidence().readings
    finally:
        studio.close()
    doubts = doubts_of([one.lab for one in readings], [one.covariance for one in readings])
    rows = [WithDoubt(one, u) for one, u in zip(readings, doubts, strict=True)]
    write_file(out, writer(rows))
    return len(rows)
