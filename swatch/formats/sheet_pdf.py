"""The photo sheet as a PDF, true to scale: every length is the layout's own, in millimetres."""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import Any

from swatch.resources import resource
from swatch.terms.sheet import Box, Cells, SheetLayout, SheetPage, SheetWords, Size, StandPage

_FONT = "sheet"
_INK, _GREY, _PALE = 0.0, 0.35, 0.6
_TICK, _TICK_AWAY = 4.0, 1.0
_POINTS_PER_MM = 72.0 / 25.4


def sheet_pdf(
    pages: Sequence[SheetPage],
    words: SheetWords,
    firing: str = "",
    date: str = "",
    stands: StandPage | None = None,
) -> bytes:
    """Draw photo sheets, one a page.

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

    Returns
    -------
    bytes
        The file. The same sheet gives the same bytes.
    """
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont
    from reportlab.pdfgen.canvas import Canvas

    if _FONT not in pdfmetrics.getRegisteredFontNames():
        pdfmetrics.registerFont(TTFont(_FONT, str(resource("fonts", "SourceSans3.ttf"))))
    out = io.BytesIO()
    canvas = Canvas(out, invariant=1)
    canvas.setTitle(words.title)
    # A viewer that heeds this proposes no "fit to page" when it prints.
    canvas.setViewerPreference("PrintScaling", "None")
    for number, page in enumerate(pages, 1):
        pen = _Pen(canvas, page.layout.page)
        _draw(pen, page, words, firing, date, (number, len(pages)))
        canvas.showPage()
    if stands is not None:
        _draw_stands(_Pen(canvas, stands.page), stands, words)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


class _Pen:
    """Draws in mm from the paper's upper left corner."""

    def __init__(self, canvas: Any, page: Size) -> None:
        self._canvas, self._high = canvas, page.high
        canvas.setPageSize((page.wide * _POINTS_PER_MM, page.high * _POINTS_PER_MM))
        canvas.scale(_POINTS_PER_MM, _POINTS_PER_MM)

    def cells(self, box: Box, cells: Cells, grey: float = _INK) -> None:
        """Fill the dark cells of a grid that fills `box`, as one path, so that no seams show between them."""
        wide, high = box.wide / len(cells[0]), box.high / len(cells)
        path = self._canvas.beginPath()
        for row, line in enumerate(cells):
            for k, dark in enumerate(line):
                if dark:
                    path.rect(box.left + k * wide, self._high - box.top - (row + 1) * high, wide, high)
        self._canvas.setFillGray(grey)
        self._canvas.drawPath(path, stroke=0, fill=1, fillMode=1)

    def line(self, x1: float, y1: float, x2: float, y2: float, width: float = 0.2, grey: float = _GREY) -> None:
        """Draw a line."""
        self._canvas.setStrokeGray(grey)
        self._canvas.setLineWidth(width)
        self._canvas.line(x1, self._high - y1, x2, self._high - y2)

    def frame(self, box: Box, grey: float = _PALE) -> None:
        """Draw a rectangle's outline."""
        self._canvas.setStrokeGray(grey)
        self._canvas.setLineWidth(0.2)
        self._canvas.rect(box.left, self._high - box.low, box.wide, box.high, stroke=1, fill=0)

    def fill(self, box: Box, grey: float = _INK) -> None:
        """Fill a rectangle."""
        self._canvas.setFillGray(grey)
        self._canvas.rect(box.left, self._high - box.low, box.wide, box.high, stroke=0, fill=1)

    def width(self, text: str, size: float) -> float:
        """Width of a text, mm."""
        return float(self._canvas.stringWidth(text, _FONT, size)) if text else 0.0

    def text(
        self, x: float, baseline: float, text: str, size: float, most: float = 1e9, centred: bool = False
    ) -> float:
        """Write a text, smaller where it would be wider than `most`; gives its width."""
        width = self.width(text, size)
        if width > most:
            size, width = size * most / width, most
        written = self._canvas.beginText(x - width / 2 if centred else x, self._high - baseline)
        written.setFont(_FONT, size)
        # The font's default weight is thin; a stroke brings it to that of printed text.
        written.setTextRenderMode(2)
        self._canvas.setStrokeGray(_INK)
        self._canvas.setFillGray(_INK)
        self._canvas.setLineWidth(0.034 * size)
        written.textOut(text)
        self._canvas.drawText(written)
        return width


def _draw(pen: _Pen, page: SheetPage, words: SheetWords, firing: str, date: str, of: tuple[int, int]) -> None:
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
        pen.cells(empty, page.empty_cells, _PALE)
    _foot(pen, layout, words)


def _head(pen: _Pen, layout: SheetLayout, words: SheetWords, firing: str, date: str, of: tuple[int, int]) -> None:
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


def _foot(pen: _Pen, layout: SheetLayout, words: SheetWords) -> None:
    bar = layout.bar
    pen.fill(bar)
    for k in range(11):
        x = bar.left + k * bar.wide / 10
        pen.line(x, bar.top - (1.5 if k % 5 == 0 else 0.8), x, bar.top, grey=_INK)
    pen.text(bar.left + bar.wide / 2, bar.top - 2.0, words.bar, 2.8, bar.wide - 8.0, centred=True)
    step = layout.advice.high / (len(words.advice) + 0.3)
    size = min(3.2, 0.92 * step)
    for k, line in enumerate(words.advice):
        pen.text(layout.advice.left, layout.advice.top + (k + 0.85) * step, line, size, layout.advice.wide)


def _draw_stands(pen: _Pen, stands: StandPage, words: SheetWords) -> None:
    box = stands.heading
    for k, line in enumerate(words.stand):
        pen.text(box.left, box.top + 4.5 + 5.0 * k, line, 3.4, box.wide)
    for piece in stands.pieces:
        pen.frame(piece, _GREY)
        for fold in stands.folds:
            for dash in range(int(piece.wide / 3.0)):
                x = piece.left + 3.0 * dash
                pen.line(x, piece.top + fold, x + 1.5, piece.top + fold)


def _ticks(pen: _Pen, box: Box) -> None:
    """Angles round a tile's corners; what lies between them stays white."""
    around = box.grown(_TICK_AWAY)
    for x, inward in ((around.left, 1), (around.right, -1)):
        for y, down in ((around.top, 1), (around.low, -1)):
            pen.line(x, y, x + inward * _TICK, y, grey=_PALE)
            pen.line(x, y, x, y + down * _TICK, grey=_PALE)
