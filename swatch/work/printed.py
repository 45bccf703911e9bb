"""What the studio prints: the first board's tiles, what to get before, and photo sheets that know the board."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from swatch.formats.board_drawing import PaperList, list_pages
from swatch.formats.drawing import PrintPage
from swatch.terms.problems import Where
from swatch.terms.problems.files import unknown_ending
from swatch.terms.report import Report, silent
from swatch.terms.sheet import Paper, SheetWords, Size, Split
from swatch.work.files import write_file


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is to be printed: the lists, and photo sheets for ``tiles`` tiles (0: none) of a firing."""

    title: str
    lists: tuple[PaperList, ...]
    words: SheetWords
    paper: Paper = Paper.A4
    tiles: int | None = 0
    tile: Size | None = None
    split: Split = Split.WHOLE
    firing: str = ""


def draw_pages(wanted: Wanted, report: Report = silent) -> tuple[PrintPage, ...]:
    """Everything wanted as pages, ready to be drawn with any pen.

    Raises
    ------
    StudioProblem
        ``sheet-no-room``.
    """
    from swatch.science.sheet_layout import PAPERS
    from swatch.work.sheet import SheetRequest, draw_sheet

    size = PAPERS[wanted.paper]
    pages = [page for listed in wanted.lists for page in list_pages(listed, size)]
    if wanted.tiles != 0:
        request = SheetRequest(
            wanted.words, wanted.paper, wanted.tiles, wanted.tile, split=wanted.split, firing=wanted.firing
        )
        pages += draw_sheet(replace(request, stands=False), report).pages
    return tuple(pages)


def write_pages(pages: tuple[PrintPage, ...], title: str, out: Path) -> Path:
    """Write pages as a PDF, true to scale; a file that is there is replaced.

    Raises
    ------
    StudioProblem
        ``unknown-ending`` or ``file-not-written``.
    """
    from swatch.formats.pages_pdf import pages_pdf

    if out.suffix.lower() != ".pdf":
        raise unknown_ending(out.name, ".pdf").at(Where(file=str(out)))
    write_file(out, pages_pdf(pages, title))
    return out
