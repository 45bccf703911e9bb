"""Where everything lies on a photo sheet, in mm of the paper: markers, code, card, slots, check bar.

The layout follows from what the sheet's code says alone, so that a photo of the sheet tells it again.
"""

from __future__ import annotations

from collections.abc import Iterator

from swatch.science.sheet_code import COLUMNS, ROWS
from swatch.terms.problems.photo import sheet_no_room
from swatch.terms.sheet import Box, Paper, SheetCode, SheetLayout, Size, Slot, Split, StandPage

PAPERS = {Paper.A4: Size(210.0, 297.0), Paper.LETTER: Size(215.9, 279.4), Paper.A3: Size(297.0, 420.0)}
"""Upright; A4 and A3 by ISO 216, Letter 8.5 × 11 inches (ANSI/ASME Y14.1)."""
DEFAULT_TILE = Size(50.0, 100.0)
DEFAULT_CARD = Size(125.0, 90.0)
"""Holds the small 24-patch charts that fit into a hand; a larger one is stated."""
TILE_SIDES, CARD_SIDES = (20.0, 200.0), (40.0, 300.0)
EDGE = 8.0
"""Kept white round the page: printers leave 3 to 6 mm unprinted (common practice, no source)."""
MARKER, QUIET = 14.0, 4.0
CODE_CELL = 2.0
STRIP = 18.0
"""Height of the strips along the upper and lower edge that hold markers, words and code."""
GAP, WIDEST_GAP = 8.0, 14.0
"""White paper between tiles: room for one laid askew or larger for a sheet printed small, and for the light."""
LABEL = 7.0
"""Room above a slot for its number."""
BETWEEN = 5.0
"""White paper between a row of tiles and the numbers of the row below."""
EMPTY_CELLS = 4
"""The mark in the middle of a slot, which a tile covers, has 4 × 4 cells."""
BAR = 100.0
STAND_SIDE, STAND_FACES, STAND_TAB = 12.0, 3, 8.0
EMPTY_MARK = (
    (True, False, True, False),
    (False, True, False, True),
    (True, True, False, False),
    (False, False, True, True),
)


def lay_out(code: SheetCode) -> SheetLayout:
    """Lay out the sheet that a code speaks of.

    Raises
    ------
    StudioProblem
        ``sheet-no-room``: card and one tile do not fit on that paper, or fewer tiles do than the code says.
    """
    page, card, boxes = _fullest(code)
    if not boxes or code.slots > len(boxes):
        raise sheet_no_room(str(code.paper), fits=len(boxes))
    first = (code.sheet - 1) * len(boxes) + 1
    codes = code_boxes(page)
    low = page.high - EDGE
    inner = EDGE + MARKER + QUIET
    heading = Box(inner, EDGE, codes[0].left - QUIET - inner, STRIP)
    foot = Box(codes[1].right + QUIET, low - STRIP, page.wide - inner - codes[1].right - QUIET, STRIP)
    beside = foot.wide >= BAR + 120.0
    bar = Box(foot.left, foot.top + (9.0 if beside else 4.0), BAR, 2.0)
    advice = (
        Box(foot.left + BAR + 10.0, foot.top, foot.wide - BAR - 10.0, STRIP)
        if beside
        else Box(foot.left, bar.low + 1.0, foot.wide, foot.low - bar.low - 1.0)
    )
    return SheetLayout(
        code=code,
        page=page,
        markers=marker_boxes(page),
        codes=codes,
        card=card,
        slots=tuple(Slot(first + k, box) for k, box in enumerate(boxes[: code.slots])),
        bar=bar,
        heading=heading,
        advice=advice,
    )


def marker_boxes(page: Size) -> tuple[Box, Box, Box, Box]:
    """The four markers of a page: upper left, upper right, lower right, lower left."""
    right, low = page.wide - EDGE - MARKER, page.high - EDGE - MARKER
    one, two, three, four = (
        Box(x, y, MARKER, MARKER) for x, y in ((EDGE, EDGE), (right, EDGE), (right, low), (EDGE, low))
    )
    return one, two, three, four


def code_boxes(page: Size) -> tuple[Box, Box]:
    """The two copies of a page's code, at opposite corners, so that one hand or one glare hides only one."""
    wide, high = COLUMNS * CODE_CELL, ROWS * CODE_CELL
    inner = EDGE + MARKER + QUIET
    return (
        Box(page.wide - inner - wide, EDGE, wide, high),
        Box(inner, page.high - EDGE - high, wide, high),
    )


def pages() -> Iterator[tuple[Paper, Size]]:
    """Every page a sheet can be, standing and lying."""
    for paper, standing in PAPERS.items():
        yield paper, standing
        yield paper, Size(standing.high, standing.wide)


def layout_of(code: SheetCode) -> SheetLayout | None:
    """The sheet that a code read from a photo speaks of; None where no sheet of ours is such a one."""
    sides = all(TILE_SIDES[0] <= side <= TILE_SIDES[1] for side in code.tile)
    if not sides or not all(CARD_SIDES[0] <= side <= CARD_SIDES[1] for side in code.card):
        return None
    fits = most_slots(code.paper, Size(*code.tile), Size(*code.card))
    return lay_out(code) if code.slots <= fits else None


def most_slots(paper: Paper, tile: Size, card: Size) -> int:
    """How many tiles of that size fit on one sheet beside the card."""
    return len(_fullest(_plain(paper, tile, card))[2])


def sheets_for(
    paper: Paper, tile: Size, card: Size, tiles: int | None, split: Split = Split.WHOLE, firing: int = 0
) -> tuple[SheetCode, ...]:
    """Codes of the sheets that hold `tiles` tiles, one full sheet where None; sizes are taken in whole mm.

    Raises
    ------
    StudioProblem
        ``sheet-no-room``: not even one fits.
    """
    fits = most_slots(paper, tile, card)
    if not fits:
        raise sheet_no_room(str(paper), fits=0)
    plain = _plain(paper, tile, card)
    left = fits if tiles is None else tiles
    codes: list[SheetCode] = []
    while left > 0:
        codes.append(
            SheetCode(paper, plain.tile, plain.card, min(fits, left), len(codes) + 1, split, firing),
        )
        left -= fits
    return tuple(codes)


def stand_page(paper: Paper, tile: Size) -> StandPage:
    """Paper prisms to cut out and fold, two for each tile that does not lie flat; as many as fit on a page.

    Low, since a tile above the sheet is seen displaced in its slot, the more the further from the middle.
    """
    page = PAPERS[paper]
    wide = max(STAND_SIDE, tile.wide - 10.0)
    high = STAND_FACES * STAND_SIDE + STAND_TAB
    top = EDGE + STRIP
    columns = int((page.wide - 2 * EDGE + BETWEEN) // (wide + BETWEEN))
    rows = int((page.high - top - EDGE + BETWEEN) // (high + BETWEEN))
    pieces = tuple(
        Box(EDGE + column * (wide + BETWEEN), top + row * (high + BETWEEN), wide, high)
        for row in range(rows)
        for column in range(columns)
    )
    folds = tuple(STAND_SIDE * face for face in range(1, STAND_FACES + 1))
    return StandPage(page, Box(EDGE, EDGE, page.wide - 2 * EDGE, STRIP), pieces, folds)


def empty_mark(slot: Slot) -> Box:
    """The mark in the middle of a slot; where it is seen, no tile lies."""
    side = min(12.0, 0.4 * min(slot.box.wide, slot.box.high))
    x, y = slot.box.centre
    return Box(x - side / 2, y - side / 2, side, side)


def printed(layout: SheetLayout) -> tuple[Box, ...]:
    """Everything beside the card that is not white paper, or may be covered."""
    labels = (Box(s.box.left, s.box.top - LABEL, s.box.wide, LABEL) for s in layout.slots)
    slots = (s.box.grown(2.5) for s in layout.slots)
    head = Box(layout.heading.left, layout.heading.top, layout.heading.wide, STRIP)
    foot = Box(layout.bar.left, layout.advice.low - STRIP, layout.advice.right - layout.bar.left, STRIP)
    marks = (box.grown(1.0) for box in (*layout.markers, *layout.codes, head, foot))
    return (*marks, *slots, *labels)


def _plain(paper: Paper, tile: Size, card: Size) -> SheetCode:
    return SheetCode(paper, (round(tile.wide), round(tile.high)), (round(card.wide), round(card.high)), 1)


def _fullest(code: SheetCode) -> tuple[Size, Box, list[Box]]:
    """The page lying or standing, the card upright or turned: whichever holds most tiles; the first of equals."""
    return max(_ways(code), key=lambda way: len(way[2]))


def _ways(code: SheetCode) -> Iterator[tuple[Size, Box, list[Box]]]:
    standing = PAPERS[code.paper]
    wide, high = code.card
    for page in (standing, Size(standing.high, standing.wide)):
        for card in (Size(wide, high), Size(high, wide)):
            yield page, *_filled(page, card, Size(*code.tile))


def _filled(page: Size, card: Size, tile: Size) -> tuple[Box, list[Box]]:
    """Card in the upper left corner, tiles in columns and rows counted from the lower edge."""
    margin = EDGE + STRIP + 3.0
    inside = Box(EDGE, margin, page.wide - 2 * EDGE, page.high - 2 * margin)
    lies = Box(inside.left, inside.top, card.wide, card.high)
    columns = int((inside.wide + GAP) // (tile.wide + GAP))
    rows = int((inside.high + BETWEEN) // (tile.high + LABEL + BETWEEN))
    if card.wide > inside.wide or card.high > inside.high or not columns or not rows:
        return lies, []
    gap = min(WIDEST_GAP, (inside.wide - columns * tile.wide) / max(1, columns - 1))
    # Where a row of tiles is narrower than the page, it keeps to the right, away from the card.
    left = inside.right - columns * tile.wide - (columns - 1) * gap
    taken = Box(lies.left, lies.top, lies.wide + GAP, lies.high + BETWEEN)
    boxes = []
    for row in range(rows - 1, -1, -1):
        top = inside.low - tile.high - row * (tile.high + LABEL + BETWEEN)
        for column in range(columns):
            box = Box(left + column * (tile.wide + gap), top, tile.wide, tile.high)
            labelled = Box(box.left, box.top - LABEL, box.wide, box.high + LABEL)
            if top - LABEL >= inside.top and not labelled.meets(taken):
                boxes.append(box)
    return lies, boxes
