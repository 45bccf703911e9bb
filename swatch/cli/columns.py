"""Tables for people in a terminal: columns lined up, numbers to the right."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Sequence

_GAP = "  "


def columns_of_text(
    header: Sequence[str], rows: Sequence[Sequence[str]], numbers: Iterable[int] = ()
) -> list[str]:
    """Lay out a table, one line a row; the columns in `numbers` are set to the right."""
    right = frozenset(numbers)
    widths = [max(_width(row[i]) for row in (header, *rows)) for i in range(len(header))]
    lines = []
    for row in (header, *rows):
        cells = (_padded(cell, widths[i], to_right=i in right) for i, cell in enumerate(row))
        lines.append(_GAP.join(cells).rstrip())
    return lines


def _padded(cell: str, width: int, *, to_right: bool) -> str:
    room = " " * (width - _width(cell))
    return room + cell if to_right else cell + room


def _width(text: str) -> int:
    """Cells that a text takes on a terminal: wide characters take two, marks set on others none."""
    return sum(
        0 if unicodedata.combining(ch) else 2 if unicodedata.east_asian_width(ch) in "WF" else 1 for ch in text
    )
