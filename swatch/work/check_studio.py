"""The studio checked for damage."""

from __future__ import annotations

from pathlib import Path

from swatch.library.studio import Studio
from swatch.terms.problems import StudioProblem


def check_studio(folder: Path) -> tuple[StudioProblem, ...]:
    """Look at every record and read every original; give what is damaged.

    Raises
    ------
    StudioProblem
        The studio cannot be read at all.
    """
    with Studio.look(folder) as studio:
        return tuple(studio.verify(deep=True))
