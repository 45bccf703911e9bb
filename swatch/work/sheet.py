"""The printed photo sheet: laid out for the studio's tiles, drawn, written."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from swatch.formats.drawing import PrintPage
from swatch.terms.problems import Where
from swatch.terms.problems.files import unknown_ending
from swatch.terms.report import Report, silent
from swatch.terms.sheet import FIRST_MARKER, Paper, SheetLayout, SheetPage, SheetWords, Size, Split, firing_mark
from swatch.work.files import write_file


@dataclass(frozen=True, slots=True)
class SheetRequest:
    """What sheet is wanted: ``tiles`` as many as fit on one where None; sizes None for the usual ones."""

    words: SheetWords
    paper: Paper = Paper.A4
    tiles: int | None = None
    tile: Size | None = None
    card: Size | None = None
    split: Split = Split.WHOLE
    firing: str = ""
    date: str = ""
    stands: bool = False


@dataclass(frozen=True, slots=True)
class SheetMade:
    """The file's bytes, and what is on its pages."""

    pdf: bytes
    layouts: tuple[SheetLayout, ...]


@dataclass(frozen=True, slots=True)
class SheetDrawn:
    """The pages ready to be drawn, and what is on them."""

    pages: tuple[PrintPage, ...]
    layouts: tuple[SheetLayout, ...]


def make_sheet(request: SheetRequest, report: Report = silent) -> SheetMade:
    """Draw the sheets that hold the tiles asked for.

    Raises
    ------
    StudioProblem
        ``sheet-no-room``: no tile of that size fits beside the card on that paper.
    """
    from swatch.formats.pages_pdf import pages_pdf

    drawn = draw_sheet(request, report)
    return SheetMade(pages_pdf(drawn.pages, request.words.title), drawn.layouts)


def draw_sheet(request: SheetRequest, report: Report = silent) -> SheetDrawn:
    """Lay the sheets out that hold the tiles asked for, ready to be drawn with any pen.

    Raises
    ------
    StudioProblem
        ``sheet-no-room``.
    """
    from swatch.formats.sheet_drawing import sheet_pages
    from swatch.science.sheet_code import cells_of
    from swatch.science.sheet_layout import (
        DEFAULT_CARD,
        DEFAULT_TILE,
        EMPTY_MARK,
        empty_mark,
        lay_out,
        sheets_for,
        stand_page,
    )
    from swatch.science.sheet_markers import marker_cells

    report(0, 2, "laying out")
    codes = sheets_for(
        request.paper,
        request.tile or DEFAULT_TILE,
        request.card or DEFAULT_CARD,
        request.tiles,
        request.split,
        firing_mark(request.firing),
    )
    layouts = tuple(lay_out(code) for code in codes)
    one, two, three, four = (marker_cells(FIRST_MARKER + k) for k in range(4))
    pages = [
        SheetPage(
            layout,
            (one, two, three, four),
            cells_of(layout.code),
            tuple(empty_mark(slot) for slot in layout.slots),
            EMPTY_MARK,
        )
        for layout in layouts
    ]
    report(1, 2, "drawing")
    stands = stand_page(request.paper, request.tile or DEFAULT_TILE) if request.stands else None
    return SheetDrawn(sheet_pages(pages, request.words, request.firing, request.date, stands), layouts)


def write_sheet(request: SheetRequest, out: Path, report: Report = silent) -> SheetMade:
    """Write the sheets as a PDF; a file that is there is replaced.

    Raises
    ------
    StudioProblem
        ``unknown-ending``, ``sheet-no-room`` or ``file-not-written``.
    """
    if out.suffix.lower() != ".pdf":
        raise unknown_ending(out.name, ".pdf").at(Where(file=str(out)))
    made = make_sheet(request, report)
    write_file(out, made.pdf)
    return made
