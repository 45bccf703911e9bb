"""How the photo sheet is drawn: every length is the layout's own, in millimetres."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from swatch.formats.drawing import GREY, PALE, Pen, PrintPage, check_bar
from swatch.terms.sheet import Box, SheetLayout, SheetPage, SheetWords, StandPage

_TICK, _TICK_AWAY = 4.0, 1.0


def sheet_pages(
    pages: Sequence[SheetPage],
    words: SheetWords,
    firing: str = "",
    date: str = "",
    stands: StandPage | None = None,
) -> tuple[PrintPage, ...]:
    """Photo sheets, one a page, ready to be drawn.

    Parameters
    ----------
    pages : sequence of SheetPage
        At least one; each page has its own size.
    words : SheetWords
        What is printed on them.
    firing, date : str
        What is known of the firing and the day; a line to write on where empty.
    stands : StandPage, optional
        A last page of stands to cut out.
    """
    made = [
        PrintPage(
            page.layout.page,
            partial(_draw, page=page, words=words, firing=firing, date=date, of=(number, len(pages))),
        )
        for number, page in enumerate(pages, 1)
    ]
    if stands is not None:
        made.append(PrintPage(stands.page, partial(_draw_stands, stands=stands, words=words)))
    return tuple(made)


def _draw(pen: Pen, page: SheetPage, words: SheetWords, firing: str, date: str, of: tuple[int, int]) -> None:
    layout = page.layout
    for box, cells in zip(layout.markers, page.marker_cells, strict=True):
        pen.cells(box, cells)
    for box in layout.codes:
        pen.cells(box, page.code_cells)
    _head(pen, layout, words, firing, date, of)
    pen.frame(layout.card)
    x, y = layout.card.centre
    pen.text(x, y, words.card, 5.0, layout.card.wide - 8.0, centred=True)
    size = f"{layout.code.card[0]} × {layout.code.card[1]} mm"
    pen.text(x, y + 6.0, size, 3.5, layout.card.wide - 8.0, centred=True)
    for slot, empty in zip(layout.slots, page.empty_boxes, strict=True):
        _ticks(pen, slot.box)
        pen.text(slot.box.centre[0], slot.box.top - 2.2, str(slot.number), 5.0, slot.box.wide, centred=True)
        pen.cells(empty, page.empty_cells, PALE)
    _foot(pen, layout, words)


def _head(pen: Pen, layout: SheetLayout, words: SheetWords, firing: str, date: str, of: tuple[int, int]) -> None:
    box = layout.heading
    wide, high = layout.code.tile
    parts = [
        words.title,
        str(layout.code.paper),
        words.tiles.format(size=f"{wide} × {high} mm"),
        *([words.split] if words.split else []),
        words.sheet_of.format(number=of[0], count=of[1]),
    ]
    pen.text(box.left, box.top + 4.6, " · ".join(parts), 5.2, box.wide)
    half = min(box.wide / 2 - 3.0, 80.0)
    for k, (label, known) in enumerate(((words.date, date), (words.firing, firing))):
        x, baseline = box.left + k * (half + 6.0), box.top + 13.5
        behind = x + pen.text(x, baseline, label, 3.6) + 2.0
        if known:
            pen.text(behind, baseline, known, 3.6, x + half - behind)
        else:
            pen.line(behind, baseline + 0.8, x + half, baseline + 0.8)


def _foot(pen: Pen, layout: SheetLayout, words: SheetWords) -> None:
    bar = layout.bar
    check_bar(pen, bar, words.bar)
    step = layout.advice.high / (len(words.advice) + 0.3)
    size = min(3.2, 0.92 * step)
    for k, line in enumerate(words.advice):
        pen.text(layout.advice.left, layout.advice.top + (k + 0.85) * step, line, size, layout.advice.wide)


def _draw_stands(pen: Pen, stands: StandPage, words: SheetWords) -> None:
    box = stands.heading
    for k, line in enumerate(words.stand):
        pen.text(box.left, box.top + 4.5 + 5.0 * k, line, 3.4, box.wide)
    for piece in stands.pieces:
        pen.frame(piece, GREY)
        for fold in stands.folds:
            for dash in range(int(piece.wide / 3.0)):
                x = piece.left + 3.0 * dash
                pen.line(x, piece.top + fold, x + 1.5, piece.top + fold)


def _ticks(pen: Pen, box: Box) -> None:
    """Angles round a tile's corners; what lies between them stays white."""
    around = box.grown(_TICK_AWAY)
    for x, inward in ((around.left, 1), (around.right, -1)):
        for y, down in ((around.top, 1), (around.low, -1)):
            pen.line(x, y, x + inward * _TICK, y, grey=PALE)
            pen.line(x, y, x, y + down * _TICK, grey=PALE)
