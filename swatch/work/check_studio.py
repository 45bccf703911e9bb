"""The studio checked for damage."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from swatch.library import seal
from swatch.library.studio import Studio
from swatch.terms.problems import StudioProblem
from swatch.terms.report import Report, silent

Sealed = Literal["before", "now", "no"]


@dataclass(frozen=True)
class Checked:
    """What the check found.

    Attributes
    ----------
    problems : tuple of StudioProblem
        What is damaged; empty where nothing is.
    sealed : {"before", "now", "no"}
        Whether the records bore the seal of their last closing, were sealed by this check, or bear none: somebody
        writes them, they cannot be written, or they are damaged.
    """

    problems: tuple[StudioProblem, ...]
    sealed: Sealed


def check_studio(folder: Path, report: Report = silent) -> Checked:
    """Look at every record and read every original; give what is damaged.

    A studio that was not closed properly bears no seal, and then a figure gone wrong on the disk since cannot be
    seen. Where all else is well and nobody writes it, it is sealed, so that whatever comes later will show.

    Raises
    ------
    StudioProblem
        The studio cannot be read at all.
    """
    with Studio.look(folder) as studio:
        problems = tuple(studio.verify(deep=True, report=report))
    if problems or seal.is_put(folder):
        return Checked(problems, "before" if seal.is_put(folder) else "no")
    return Checked((), "now" if _seal(folder) else "no")


def _seal(folder: Path) -> bool:
    """Open and close the studio, which seals it; False where that cannot be done now."""
    try:
        Studio.open(folder).close()
    except StudioProblem:
        return False  # somebody writes it, or nobody may: said by the answer, and no damage
    return seal.is_put(folder)
