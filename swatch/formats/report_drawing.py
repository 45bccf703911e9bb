"""A report on paper: headings, sentences, swatches that touch, charts with limits, bars and tables, over pages."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Protocol

from swatch.formats.drawing import GREY, INK, PALE, Pen, PrintPage, Rgb
from swatch.formats.pages_pdf import text_width
from swatch.terms.sheet import Box, Size

MARGIN = 18.0
TITLE, HEAD, BODY, SMALL = 8.0, 4.8, 3.5, 2.9
"""Sizes of letters, mm to the em."""
LEADING = 1.38
FOOT = 16.0
GAP = 3.0
MID_GREY: Rgb = (0.466, 0.466, 0.466)
"""L* 50: what swatches lie on."""
FAINT = 0.85


class Block(Protocol):
    """A part of a page, as wide as its column."""

    def height(self, wide: float) -> float:
        """How high it is, mm."""

    def draw(self, pen: Pen, left: float, top: float, wide: float) -> None:
        """Draw it from its upper left corner."""


@dataclass(frozen=True, slots=True)
class Text:
    """A sentence or more, broken into lines; ``lead`` stands before it in the margin of its own."""

    text: str
    size: float = BODY
    grey: float = INK
    after: float = 1.6
    lead: str = ""

    def lines(self, wide: float) -> list[str]:
        """The text's lines."""
        return wrapped(self.text, self.size, wide - self._indent())

    def height(self, wide: float) -> float:
        """How high it is, mm."""
        return len(self.lines(wide)) * self.size * LEADING + self.after

    def draw(self, pen: Pen, left: float, top: float, wide: float) -> None:
        """Draw it from its upper left corner."""
        if self.lead:
            pen.text(left, top + self.size, self.lead, self.size, grey=self.grey)
        for k, line in enumerate(self.lines(wide)):
            baseline = top + self.size * (1 + LEADING * k)
            pen.text(left + self._indent(), baseline, line, self.size, grey=self.grey)

    def _indent(self) -> float:
        return text_width(self.lead, self.size) + 1.5 if self.lead else 0.0


@dataclass(frozen=True, slots=True)
class Head:
    """A heading with a line under it."""

    text: str

    def height(self, wide: float) -> float:
        """How high it is, mm."""
        return 5.0 + HEAD * LEADING + 3.0

    def draw(self, pen: Pen, left: float, top: float, wide: float) -> None:
        """Draw it from its upper left corner."""
        pen.text(left, top + 5.0 + HEAD, self.text, HEAD, wide)
        pen.line(left, top + 6.6 + HEAD, left + wide, top + 6.6 + HEAD, 0.2, PALE)


@dataclass(frozen=True, slots=True)
class Pair:
    """Two colours that touch, with their name and a few lines beneath."""

    name: str
    left: Rgb
    right: Rgb
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Pairs:
    """Pairs side by side on mid grey; ``sides`` names what stands left and right in each."""

    pairs: tuple[Pair, ...]
    sides: tuple[str, str]
    most: int = 4

    def height(self, wide: float) -> float:
        """How high it is, mm."""
        rows = -(-len(self.pairs) // self._columns())
        return rows * self._row() + 1.0

    def draw(self, pen: Pen, left: float, top: float, wide: float) -> None:
        """Draw it from its upper left corner."""
        columns = self._columns()
        one = (wide - GAP * (columns - 1)) / columns
        for k, pair in enumerate(self.pairs):
            x, y = left + (k % columns) * (one + GAP), top + (k // columns) * self._row()
            ground = Box(x, y, one, 26.0)
            pen.patch(ground, MID_GREY)
            half = (one - 8.0) / 2
            pen.patch(Box(x + 4.0, y + 4.0, half, 18.0), pair.left)
            pen.patch(Box(x + 4.0 + half, y + 4.0, half, 18.0), pair.right)
            pen.text(x + 4.0 + half / 2, y + 3.0, self.sides[0], 2.4, half, centred=True, grey=1.0)
            pen.text(x + 4.0 + 1.5 * half, y + 3.0, self.sides[1], 2.4, half, centred=True, grey=1.0)
            pen.text(x, y + 30.6, pair.name, BODY, one)
            for n, line in enumerate(pair.lines):
                pen.text(x, y + 34.8 + 4.0 * n, line, SMALL, one, grey=GREY)

    def _columns(self) -> int:
        return max(2, min(self.most, len(self.pairs)))

    def _row(self) -> float:
        return 33.5 + 4.0 * max((len(pair.lines) for pair in self.pairs), default=0)


@dataclass(frozen=True, slots=True)
class Chart:
    """Points over firings with their limits; a point outside is drawn large and named."""

    title: str
    labels: tuple[str, ...]
    points: tuple[float, ...]
    middle: float
    lower: float
    upper: float


@dataclass(frozen=True, slots=True)
class Charts:
    """Charts beside each other, in rows of ``columns``."""

    charts: tuple[Chart, ...]
    columns: int = 3
    high: float = 34.0

    def height(self, wide: float) -> float:
        """How high it is, mm."""
        return -(-len(self.charts) // self.columns) * (self.high + GAP)

    def draw(self, pen: Pen, left: float, top: float, wide: float) -> None:
        """Draw it from its upper left corner."""
        one = (wide - 6.0 * (self.columns - 1)) / self.columns
        for k, chart in enumerate(self.charts):
            x, y = left + (k % self.columns) * (one + 6.0), top + (k // self.columns) * (self.high + GAP)
            _draw_chart(pen, chart, Box(x, y, one, self.high))


@dataclass(frozen=True, slots=True)
class Grid:
    """Short texts in columns, read line by line."""

    cells: tuple[str, ...]
    columns: int = 6

    def height(self, wide: float) -> float:
        """How high it is, mm."""
        return -(-len(self.cells) // self.columns) * 5.0 + 1.5

    def draw(self, pen: Pen, left: float, top: float, wide: float) -> None:
        """Draw it from its upper left corner."""
        one = wide / self.columns
        for k, cell in enumerate(self.cells):
            x, y = left + (k % self.columns) * one, top + (k // self.columns) * 5.0
            pen.text(x, y + 3.6, cell, SMALL, one - 3.0)


@dataclass(frozen=True, slots=True)
class Bars:
    """Lengths to compare, each with its name and value."""

    rows: tuple[tuple[str, float, str], ...]
    name_wide: float = 46.0

    def height(self, wide: float) -> float:
        """How high it is, mm."""
        return 6.0 * len(self.rows) + 1.0

    def draw(self, pen: Pen, left: float, top: float, wide: float) -> None:
        """Draw it from its upper left corner."""
        most = max((value for _, value, _ in self.rows), default=0.0) or 1.0
        room = wide - self.name_wide - 40.0
        for k, (name, value, said) in enumerate(self.rows):
            y = top + 6.0 * k
            pen.text(left, y + 4.2, name, BODY, self.name_wide - 2.0)
            pen.fill(Box(left + self.name_wide, y + 1.3, max(room * value / most, 0.3), 3.6), 0.55)
            pen.text(left + self.name_wide + room * value / most + 2.0, y + 4.2, said, SMALL, 38.0, grey=GREY)


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a table; its cells are broken into lines."""

    cells: tuple[str, ...]
    shares: tuple[float, ...]
    right: frozenset[int]
    head: bool = False

    def height(self, wide: float) -> float:
        """How high it is, mm."""
        return max(len(lines) for lines in self._lines(wide)) * SMALL * LEADING + (1.6 if self.head else 2.0)

    def draw(self, pen: Pen, left: float, top: float, wide: float) -> None:
        """Draw it from its upper left corner."""
        x = left
        for k, lines in enumerate(self._lines(wide)):
            one = self.shares[k] * wide
            for n, line in enumerate(lines):
                baseline = top + 0.8 + SMALL * (1 + LEADING * n)
                at = x + one - 3.0 - text_width(line, SMALL) if k in self.right else x
                pen.text(at, baseline, line, SMALL, grey=GREY if self.head else INK)
            x += one
        low = top + self.height(wide)
        pen.line(left, low, left + wide, low, 0.25 if self.head else 0.1, INK if self.head else PALE)

    def _lines(self, wide: float) -> list[list[str]]:
        return [
            wrapped(cell, SMALL, share * wide - 3.0) for cell, share in zip(self.cells, self.shares, strict=True)
        ]


@dataclass(frozen=True, slots=True)
class Space:
    """Room between parts."""

    high: float = 3.0

    def height(self, wide: float) -> float:
        """How high it is, mm."""
        return self.high

    def draw(self, pen: Pen, left: float, top: float, wide: float) -> None:
        """Nothing is drawn."""


def table(
    header: Sequence[str], rows: Iterable[Sequence[str]], shares: Sequence[float], right: Iterable[int] = ()
) -> list[Block]:
    """A table, a block a row, so that it may go on over pages; ``shares`` are the columns' shares of the width."""
    total, numbers = sum(shares), frozenset(right)
    parts = tuple(share / total for share in shares)
    return [
        Row(tuple(header), parts, numbers, head=True),
        *(Row(tuple(row), parts, numbers) for row in rows),
    ]


@dataclass(frozen=True, slots=True)
class ReportPaper:
    """A report: its title, what stands under it, its blocks, and what stands at the foot of each page."""

    title: str
    under: str
    blocks: tuple[Block, ...]
    foot: tuple[str, ...]
    page_of: str


def report_pages(report: ReportPaper, paper: Size) -> tuple[PrintPage, ...]:
    """Part a report into pages; a heading stays with what follows it."""
    wide, room = paper.wide - 2 * MARGIN, paper.high - 2 * MARGIN - FOOT
    first = TITLE * LEADING + BODY * LEADING + 4.0
    pages: list[list[tuple[float, Block]]] = [[]]
    at = first
    for k, block in enumerate(report.blocks):
        high = block.height(wide)
        keep = high
        if isinstance(block, Head):
            following = report.blocks[k + 1 : k + 4] if k + 1 < len(report.blocks) else ()
            keep += sum(one.height(wide) for one in following[:1])
            keep += sum(one.height(wide) for one in following[1:] if isinstance(one, Row))
        if at + keep > room and pages[-1]:
            pages.append([])
            at = 0.0
        pages[-1].append((at, block))
        at += high
    return tuple(
        PrintPage(paper, partial(_draw_page, report=report, blocks=tuple(blocks), paper=paper, of=(n, len(pages))))
        for n, blocks in enumerate(pages, 1)
    )


def _draw_page(
    pen: Pen, report: ReportPaper, blocks: tuple[tuple[float, Block], ...], paper: Size, of: tuple[int, int]
) -> None:
    wide = paper.wide - 2 * MARGIN
    if of[0] == 1:
        pen.text(MARGIN, MARGIN + TITLE * 0.85, report.title, TITLE, wide)
        pen.text(MARGIN, MARGIN + TITLE * LEADING + BODY, report.under, BODY, wide, grey=GREY)
    for at, block in blocks:
        block.draw(pen, MARGIN, MARGIN + at, wide)
    top = paper.high - MARGIN - 4.0 * len(report.foot)
    pen.line(MARGIN, top - 1.5, paper.wide - MARGIN, top - 1.5, 0.1, PALE)
    page = report.page_of.format(number=of[0], count=of[1])
    right = paper.wide - MARGIN - pen.width(page, SMALL)
    for k, line in enumerate(report.foot):
        most = wide if k + 1 < len(report.foot) else right - MARGIN - 4.0
        pen.text(MARGIN, top + 4.0 * (k + 1) - 0.8, line, SMALL, most, grey=GREY)
    pen.text(right, paper.high - MARGIN - 0.8, page, SMALL, grey=GREY)


def _draw_chart(pen: Pen, chart: Chart, box: Box) -> None:
    pen.text(box.left, box.top + SMALL, chart.title, SMALL, box.wide, grey=INK)
    inner = Box(box.left + 9.0, box.top + 7.0, box.wide - 11.0, box.high - 12.5)
    ends = [*chart.points, chart.lower, chart.upper]
    low, high = min(ends), max(ends)
    pad = 0.08 * (high - low or 1.0)
    low, high = low - pad, high + pad

    def y(value: float) -> float:
        return inner.low - (value - low) / (high - low) * inner.high

    band = Box(inner.left, y(chart.upper), inner.wide, y(chart.lower) - y(chart.upper))
    pen.fill(band, 0.94)
    for value, grey in ((chart.upper, GREY), (chart.lower, GREY), (chart.middle, PALE)):
        pen.line(inner.left, y(value), inner.right, y(value), 0.15, grey)
        pen.text(box.left, y(value) + 0.9, _signed(value), 2.4, 8.0, grey=GREY)
    count = len(chart.points)
    step = inner.wide / max(count, 1)
    at = [(inner.left + step * (k + 0.5), y(value)) for k, value in enumerate(chart.points)]
    if count > 1:
        pen.curve(at, 0.3, GREY)
    every = -(-count // max(1, int(inner.wide // 11.0)))
    for k, ((x, top), value) in enumerate(zip(at, chart.points, strict=True)):
        outside = not chart.lower <= value <= chart.upper
        pen.dot(x, top, 1.3 if outside else 0.75, INK)
        if outside:
            pen.text(x, top - 2.0, _signed(value), 2.6, centred=True)
        if k % every == 0 or k + 1 == count:
            pen.text(x, inner.low + 3.2, chart.labels[k], 2.4, step * every, centred=True, grey=GREY)


def _signed(value: float) -> str:
    text = f"{value:+.1f}".replace("-", "−")
    return "0" if text in ("+0.0", "−0.0") else text


def wrapped(text: str, size: float, wide: float) -> list[str]:
    """Break a text into lines; a word longer than a line stands alone and is made smaller when it is written."""
    lines: list[str] = []
    now = ""
    for word in text.split():
        longer = f"{now} {word}" if now else word
        if now and text_width(longer, size) > wide:
            lines.append(now)
            now = word
        else:
            now = longer
    return [*lines, now] if now or not lines else lines
