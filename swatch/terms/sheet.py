"""The printed photo sheet: what is asked of it, where everything lies on its paper, what its code says.

Lengths are millimetres on the paper as designed, from its upper left corner, x right, y down. A sheet printed a
little smaller is the same sheet: only its scale in a photo differs.
"""

from __future__ import annotations

import unicodedata
import zlib
from dataclasses import dataclass
from enum import StrEnum

FIRST_MARKER = 20
"""Markers 20, 21, 22, 23 stand at the upper left, upper right, lower right and lower left corner."""
MOST_TILES = 200
MARK_BITS = 24

Cells = tuple[tuple[bool, ...], ...]
"""Rows of square cells, true where black."""


class Paper(StrEnum):
    """A size of paper to print on."""

    A4 = "A4"
    LETTER = "Letter"
    A3 = "A3"


class Split(StrEnum):
    """How each tile of a sheet is parted into zones.

    ``STEPS``: three coats on the upper third, two on the middle, one on the lower; numbered by coats.
    ``CROSSED_4``, ``CROSSED_9``: two or three bands across two or three others; numbered row by row from the
    upper left.
    """

    WHOLE = "whole"
    STEPS = "steps"
    CROSSED_4 = "crossed-4"
    CROSSED_9 = "crossed-9"


@dataclass(frozen=True, slots=True)
class Size:
    """Width and height, mm."""

    wide: float
    high: float


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle along the paper's edges, mm."""

    left: float
    top: float
    wide: float
    high: float

    @property
    def right(self) -> float:
        """Its right edge."""
        return self.left + self.wide

    @property
    def low(self) -> float:
        """Its lower edge."""
        return self.top + self.high

    @property
    def centre(self) -> tuple[float, float]:
        """Its centre."""
        return self.left + self.wide / 2, self.top + self.high / 2

    def corners(self) -> tuple[tuple[float, float], ...]:
        """Upper left, upper right, lower right, lower left."""
        return ((self.left, self.top), (self.right, self.top), (self.right, self.low), (self.left, self.low))

    def grown(self, by: float) -> Box:
        """The same box with `by` more on every side."""
        return Box(self.left - by, self.top - by, self.wide + 2 * by, self.high + 2 * by)

    def meets(self, other: Box) -> bool:
        """Whether the two share any area."""
        return (
            self.left < other.right and other.left < self.right and self.top < other.low and other.top < self.low
        )


@dataclass(frozen=True, slots=True)
class SheetCode:
    """What the sheet's printed code says: enough to know where everything on it lies.

    ``tile`` and ``card`` are whole mm, as held upright and as the card is held to be read (wide, high);
    ``slots`` is how many this sheet has, ``sheet`` its number among those printed together, ``firing`` the
    `firing_mark` of what will be on it (0: none stated).
    """

    paper: Paper
    tile: tuple[int, int]
    card: tuple[int, int]
    slots: int
    sheet: int = 1
    split: Split = Split.WHOLE
    firing: int = 0


@dataclass(frozen=True, slots=True)
class SheetSeen:
    """A sheet as one photo shows it: its code, the slots without a tile, the corners (0 to 3) whose marker showed.

    Photos taken together with equal codes show the same sheet: the tiles' fronts and their backs.
    """

    code: SheetCode
    empty: tuple[int, ...]
    markers: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Slot:
    """A tile's numbered place: ``box`` is the tile's own size."""

    number: int
    box: Box


@dataclass(frozen=True, slots=True)
class SheetLayout:
    """Where everything lies on one sheet."""

    code: SheetCode
    page: Size
    markers: tuple[Box, Box, Box, Box]
    codes: tuple[Box, Box]
    card: Box
    slots: tuple[Slot, ...]
    bar: Box
    heading: Box
    advice: Box


@dataclass(frozen=True, slots=True)
class SheetPage:
    """One page to be drawn: where things lie, the cells of its markers and code, the marks of empty slots."""

    layout: SheetLayout
    marker_cells: tuple[Cells, Cells, Cells, Cells]
    code_cells: Cells
    empty_boxes: tuple[Box, ...]
    empty_cells: Cells


@dataclass(frozen=True, slots=True)
class StandPage:
    """A page of stands to cut out: each of ``pieces`` is folded at ``folds`` mm from its upper edge."""

    page: Size
    heading: Box
    pieces: tuple[Box, ...]
    folds: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class SheetWords:
    """What is printed on the sheet, in the reader's language; `{…}` are filled where it is drawn."""

    title: str
    tiles: str
    split: str
    sheet_of: str
    date: str
    firing: str
    card: str
    bar: str
    advice: tuple[str, ...]
    stand: tuple[str, ...]


def firing_mark(firing: str) -> int:
    """A number that stands for a firing's name in a sheet's code; 0 for no name.

    Compared without case and with single spaces, as names are everywhere. Two names may share a mark (one pair in
    sixteen million), so a mark proposes a firing and never decides one.
    """
    folded = " ".join(unicodedata.normalize("NFC", firing).casefold().split())
    return (zlib.crc32(folded.encode()) % ((1 << MARK_BITS) - 1)) + 1 if folded else 0
