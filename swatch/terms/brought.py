"""What bringing files into the studio came to, file by file."""

from __future__ import annotations

from dataclasses import dataclass

from swatch.terms.editions import Counts
from swatch.terms.problems.base import Notice, StudioProblem


@dataclass(frozen=True, slots=True)
class FileIn:
    """One file: `table` is its kind (``tiles``), `counts` is None where the file was refused as a whole."""

    table: str
    path: str
    counts: Counts | None
    notices: tuple[Notice, ...] = ()
    problems: tuple[StudioProblem, ...] = ()


@dataclass(frozen=True, slots=True)
class BroughtIn:
    """All files, in the order they were taken up."""

    files: tuple[FileIn, ...]

    @property
    def used(self) -> bool:
        """Whether anything of it could be used."""
        return any(one.counts is not None for one in self.files)
