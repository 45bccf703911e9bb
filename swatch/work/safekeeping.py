"""The whole studio out into one file, and back."""

from __future__ import annotations

from pathlib import Path

from swatch.library import backup
from swatch.library.studio import Studio
from swatch.terms.problems import Where
from swatch.terms.problems.work import file_missing, not_a_file
from swatch.terms.report import Report, silent


def save(folder: Path, out: Path, report: Report = silent) -> int:
    """Write the studio in `folder`, records and originals, into one ZIP file; gives its size in bytes.

    Works while another process writes the studio. The file is there whole or not at all.

    Raises
    ------
    StudioProblem
        The studio cannot be read, one of its originals is damaged, or the file cannot be written.
    """
    with Studio.look(folder) as studio:
        return studio.backup(out, report)


def bring_back(source: Path, into: Path, report: Report = silent) -> None:
    """Make a studio from such a file in a folder that is absent or empty.

    Raises
    ------
    StudioProblem
        ``file-missing``, ``not-a-file``, ``not-a-backup``, ``restore-needs-empty-folder``, or the disk's own.
    """
    if not source.exists():
        raise file_missing().at(Where(file=str(source)))
    if not source.is_file():
        raise not_a_file().at(Where(file=str(source)))
    backup.restore(source, into, report)
