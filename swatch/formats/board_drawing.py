"""A board and its shopping list on paper: what to fire, tile by tile, to be ticked off at the bench."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

from swatch.formats.drawing import GREY, INK, PALE, Pen, PrintPage, check_bar
from swatch.terms.sheet import Box, Size

MARGIN = 15.0
HEAD, ROW, FOOT_LINE = 30.0, 9.0, 4.6
BAR = 100.0
BOX = 4.0
_NUMBER, _GLYPH, _NAME = 9.0, 32.0, 42.0
"""Left edges of a row's parts from the margin, mm."""


@dataclass(frozen=True, slots=True)
class PaperRow:
    """One thing to tick off: what is written large, beside it, at the right; ``bands`` are a step tile's coats."""

    number: str
    name: str
    beside: str = ""
    bands: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PaperList:
    """A list over as many pages as it needs; ``page_of`` has ``{number}`` and ``{count}``."""

    title: str
    under: tuple[str, ...]
    rows: tuple[PaperRow, ...]
    foot: tuple[str, ...]
    page_of: str
    bar: str


def list_pages(listed: PaperList, paper: Size) -> tuple[PrintPage, ...]:
    """Part a list into pages; foot, cautions and check bar stand on each."""
    room = paper.high - 2 * MARGIN - HEAD - _foot_height(listed)
    fits = max(1, int(room // ROW))
    parts = [listed.rows[k : k + fits] for k in range(0, max(1, len(listed.rows)), fits)]
    return tuple(
        PrintPage(paper, partial(_draw, listed=listed, rows=rows, paper=paper, of=(number, len(parts))))
        for number, rows in enumerate(parts, 1)
    )


def _foot_height(listed: PaperList) -> float:
    return 10.0 + FOOT_LINE * len(listed.foot)


def _draw(pen: Pen, listed: PaperList, rows: tuple[PaperRow, ...], paper: Size, of: tuple[int, int]) -> None:
    wide = paper.wide - 2 * MARGIN
    page = listed.page_of.format(number=of[0], count=of[1])
    right = paper.wide - MARGIN - pen.width(page, 3.4)
    pen.text(MARGIN, MARGIN + 6.5, listed.title, 7.5, right - MARGIN - 6.0)
    pen.text(right, MARGIN + 6.5, page, 3.4)
    for k, line in enumerate(listed.under):
        pen.text(MARGIN, MARGIN + 14.0 + 5.0 * k, line, 3.8, wide)
    top = MARGIN + HEAD
    pen.line(MARGIN, top, paper.wide - MARGIN, top, 0.3, INK)
    for row in rows:
        _row(pen, row, top, paper)
        top += ROW
    foot = paper.high - MARGIN - _foot_height(listed)
    for k, line in enumerate(listed.foot):
        pen.text(MARGIN, foot + FOOT_LINE * (k + 1), line, 3.3, wide)
    check_bar(pen, Box(MARGIN, paper.high - MARGIN - 2.0, BAR, 2.0), listed.bar)


def _row(pen: Pen, row: PaperRow, top: float, paper: Size) -> None:
    pen.frame(Box(MARGIN, top + (ROW - BOX) / 2, BOX, BOX), GREY)
    middle = top + ROW / 2
    name, room = MARGIN + _NUMBER, paper.wide - 2 * MARGIN - _NUMBER
    if row.number:
        pen.text(name, middle + 1.7, row.number, 5.0, _GLYPH - _NUMBER - 3.0)
        name, room = MARGIN + _NAME, paper.wide - 2 * MARGIN - _NAME
    if row.bands:
        _tile(pen, Box(MARGIN + _GLYPH, top + 0.6, 6.0, ROW - 1.2), row.bands)
    if row.beside:
        pen.text(name, middle - 0.4, row.name, 4.2, room)
        pen.text(name, middle + 3.4, row.beside, 3.2, room)
    else:
        pen.text(name, middle + 1.5, row.name, 4.2, room)
    pen.line(MARGIN, top + ROW, paper.wide - MARGIN, top + ROW, 0.15, PALE)


def _tile(pen: Pen, box: Box, bands: tuple[str, ...]) -> None:
    """A step tile in small: its bands with their coats, the thickest darkest."""
    high = box.high / len(bands)
    for k, coats in enumerate(bands):
        band = Box(box.left, box.top + k * high, box.wide, high)
        pen.frame(band, GREY)
        pen.text(band.centre[0], band.low - 0.5, coats, 2.3, centred=True)
