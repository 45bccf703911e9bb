"""Printed pages as a PDF, true to scale."""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import Any

from swatch.formats.drawing import GREY, INK, PALE, PrintPage, Rgb
from swatch.resources import resource
from swatch.terms.sheet import Box, Cells, Size

_FONT = "sheet"
_POINTS_PER_MM = 72.0 / 25.4


def pages_pdf(pages: Sequence[PrintPage], title: str) -> bytes:
    """Draw pages, each of its own size; the same pages give the same bytes."""
    from reportlab.pdfgen.canvas import Canvas

    _with_font()
    out = io.BytesIO()
    canvas = Canvas(out, invariant=1)
    canvas.setTitle(title)
    # A viewer that heeds this proposes no "fit to page" when it prints.
    canvas.setViewerPreference("PrintScaling", "None")
    for page in pages:
        page.draw(_Pen(canvas, page.size))
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def text_width(text: str, size: float) -> float:
    """Width of a text as it will be printed, mm, so that lines can be broken before there is a page."""
    from reportlab.pdfbase.pdfmetrics import stringWidth

    _with_font()
    return float(stringWidth(text, _FONT, size))


def _with_font() -> None:
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    if _FONT not in pdfmetrics.getRegisteredFontNames():
        pdfmetrics.registerFont(TTFont(_FONT, str(resource("fonts", "SourceSans3.ttf"))))


class _Pen:
    """Draws in mm from the paper's upper left corner."""

    def __init__(self, canvas: Any, page: Size) -> None:
        self._canvas, self._high = canvas, page.high
        canvas.setPageSize((page.wide * _POINTS_PER_MM, page.high * _POINTS_PER_MM))
        canvas.scale(_POINTS_PER_MM, _POINTS_PER_MM)

    def cells(self, box: Box, cells: Cells, grey: float = INK) -> None:
        """Fill the dark cells of a grid that fills `box`, as one path, so that no seams show between them."""
        wide, high = box.wide / len(cells[0]), box.high / len(cells)
        path = self._canvas.beginPath()
        for row, line in enumerate(cells):
            for k, dark in enumerate(line):
                if dark:
                    path.rect(box.left + k * wide, self._high - box.top - (row + 1) * high, wide, high)
        self._canvas.setFillGray(grey)
        self._canvas.drawPath(path, stroke=0, fill=1, fillMode=1)

    def line(self, x1: float, y1: float, x2: float, y2: float, width: float = 0.2, grey: float = GREY) -> None:
        """Draw a line."""
        self._canvas.setStrokeGray(grey)
        self._canvas.setLineWidth(width)
        self._canvas.line(x1, self._high - y1, x2, self._high - y2)

    def frame(self, box: Box, grey: float = PALE) -> None:
        """Draw a rectangle's outline."""
        self._canvas.setStrokeGray(grey)
        self._canvas.setLineWidth(0.2)
        self._canvas.rect(box.left, self._high - box.low, box.wide, box.high, stroke=1, fill=0)

    def fill(self, box: Box, grey: float = INK) -> None:
        """Fill a rectangle."""
        self._canvas.setFillGray(grey)
        self._canvas.rect(box.left, self._high - box.low, box.wide, box.high, stroke=0, fill=1)

    def patch(self, box: Box, rgb: Rgb) -> None:
        """Fill a rectangle with a colour, without an edge of its own."""
        self._canvas.setFillColorRGB(*rgb)
        self._canvas.rect(box.left, self._high - box.low, box.wide, box.high, stroke=0, fill=1)

    def curve(self, points: Sequence[tuple[float, float]], width: float = 0.4, grey: float = INK) -> None:
        """Draw a line through points."""
        path = self._canvas.beginPath()
        for k, (x, y) in enumerate(points):
            (path.lineTo if k else path.moveTo)(x, self._high - y)
        self._canvas.setStrokeGray(grey)
        self._canvas.setLineWidth(width)
        self._canvas.setLineJoin(1)
        self._canvas.drawPath(path, stroke=1, fill=0)

    def dot(self, x: float, y: float, radius: float, grey: float = INK) -> None:
        """Draw a filled dot."""
        self._canvas.setFillGray(grey)
        self._canvas.circle(x, self._high - y, radius, stroke=0, fill=1)

    def width(self, text: str, size: float) -> float:
        """Width of a text, mm."""
        return float(self._canvas.stringWidth(text, _FONT, size)) if text else 0.0

    def text(
        self,
        x: float,
        baseline: float,
        text: str,
        size: float,
        most: float = 1e9,
        centred: bool = False,
        grey: float = INK,
    ) -> float:
        """Write a text, smaller where it would be wider than `most`; gives its width."""
        width = self.width(text, size)
        if width > most:
            size, width = size * most / width, most
        written = self._canvas.beginText(x - width / 2 if centred else x, self._high - baseline)
        written.setFont(_FONT, size)
        # The font's default weight is thin; a stroke brings it to that of printed text.
        written.setTextRenderMode(2)
        self._canvas.setStrokeGray(grey)
        self._canvas.setFillGray(grey)
        self._canvas.setLineWidth(0.034 * size)
        written.textOut(text)
        self._canvas.drawText(written)
        return width
