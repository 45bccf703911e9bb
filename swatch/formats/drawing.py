"""What a printed page is drawn with: one pen for the PDF, the preview on screen and the printer.

Lengths are millimetres from the paper's upper left corner; a page drawn with any pen is the same page.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Protocol

from swatch.terms.sheet import Box, Cells, Size

INK, GREY, PALE = 0.0, 0.35, 0.6
"""Greys: 0 black, 1 white."""

Rgb = tuple[float, float, float]
"""sRGB, 0 to 1."""


class Pen(Protocol):
    """Draws in mm from the paper's upper left corner."""

    def cells(self, box: Box, cells: Cells, grey: float = INK) -> None:
        """Fill the dark cells of a grid that fills `box`, without seams between them."""

    def line(self, x1: float, y1: float, x2: float, y2: float, width: float = 0.2, grey: float = GREY) -> None:
        """Draw a line."""

    def frame(self, box: Box, grey: float = PALE) -> None:
        """Draw a rectangle's outline."""

    def fill(self, box: Box, grey: float = INK) -> None:
        """Fill a rectangle."""

    def patch(self, box: Box, rgb: Rgb) -> None:
        """Fill a rectangle with a colour, without an edge of its own."""

    def curve(self, points: Sequence[tuple[float, float]], width: float = 0.4, grey: float = INK) -> None:
        """Draw a line through points."""

    def dot(self, x: float, y: float, radius: float, grey: float = INK) -> None:
        """Draw a filled dot."""

    def width(self, text: str, size: float) -> float:
        """Width of a text, mm."""

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


@dataclass(frozen=True, slots=True)
class PrintPage:
    """One page: its size, and how it is drawn."""

    size: Size
    draw: Callable[[Pen], None]


def check_bar(pen: Pen, bar: Box, words: str) -> None:
    """Draw the bar that is measured after printing, with a tick at every tenth."""
    pen.fill(bar)
    for k in range(11):
        x = bar.left + k * bar.wide / 10
        pen.line(x, bar.top - (1.5 if k % 5 == 0 else 0.8), x, bar.top, grey=INK)
    pen.text(bar.left + bar.wide / 2, bar.top - 2.0, words, 2.8, bar.wide - 8.0, centred=True)
