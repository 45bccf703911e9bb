"""Where a callout can lie so that it hides nothing, and the way its line takes between what it must not cross."""

from __future__ import annotations

import heapq
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

GRID = 12
_TURN = 4
_CROSSING = 40
_OVERLAP = 1e4

Cell = tuple[int, int]
State = tuple[Cell, int]
"""A cell of the grid and the heading it was reached by; -1 at the start."""
_WAYS = ((1, 0), (0, 1), (-1, 0), (0, -1))


class Box(NamedTuple):
    """A rectangle on the screen, pixels."""

    left: float
    top: float
    right: float
    bottom: float

    def grown(self, by: float) -> Box:
        """The same with a margin."""
        return Box(self.left - by, self.top - by, self.right + by, self.bottom + by)

    def guarded(self) -> Box:
        """With the margin that keeps the tile around a zone free: a zone is drawn well inside its tile."""
        return self.grown(max(8.0, 0.35 * min(self.right - self.left, self.bottom - self.top, 120.0)))

    def holds(self, x: float, y: float) -> bool:
        """Whether a point lies inside."""
        return self.left <= x <= self.right and self.top <= y <= self.bottom


def free_place(size: tuple[float, float], anchor: Box, obstacles: Sequence[Box], room: Box) -> Box:
    """Find where a callout of `size` covers least, and among such places the one nearest to its anchor."""
    wide, high = size
    lefts = np.arange(room.left, max(room.left, room.right - wide) + 1e-6, GRID)[None, :]
    tops = np.arange(room.top, max(room.top, room.bottom - high) + 1e-6, GRID)[:, None]
    middle = (anchor.left + anchor.right) / 2, (anchor.top + anchor.bottom) / 2
    cost = np.abs(lefts + wide / 2 - middle[0]) + np.abs(tops + high / 2 - middle[1])
    for box in (*obstacles, anchor):
        across = np.minimum(lefts + wide, box.right) - np.maximum(lefts, box.left)
        down = np.minimum(tops + high, box.bottom) - np.maximum(tops, box.top)
        cost = cost + _OVERLAP / (wide * high) * np.clip(across, 0.0, None) * np.clip(down, 0.0, None)
    line, column = np.unravel_index(int(np.argmin(cost)), cost.shape)
    left, top = float(lefts[0, column]), float(tops[line, 0])
    return Box(left, top, left + wide, top + high)


def way_between(start: Box, anchor: Box, obstacles: Sequence[Box], room: Box) -> list[tuple[float, float]]:
    """Lead an upright-and-level line from the callout's edge to its zone, through the gaps.

    Returns
    -------
    list of points
        From the callout's edge to the anchor's edge; the fewest crossings first, then the shortest, then the
        fewest turns. Empty where the two touch.
    """
    blocked = _cells(obstacles, room)
    inside = _cells([start], room)
    goal = _cells([anchor], room) - inside
    if not goal or not inside:
        return []
    aim = min(x for x, _y in goal), max(x for x, _y in goal), min(y for _x, y in goal), max(y for _x, y in goal)

    def left_to_go(cell: Cell) -> int:
        return max(aim[0] - cell[0], 0, cell[0] - aim[1]) + max(aim[2] - cell[1], 0, cell[1] - aim[3])

    last = int((room.right - room.left) // GRID), int((room.bottom - room.top) // GRID)
    came: dict[State, State | None] = {(cell, -1): None for cell in inside}
    cost: dict[State, int] = dict.fromkeys(came, 0)
    queue = [(left_to_go(cell), cell, heading) for cell, heading in sorted(came)]
    heapq.heapify(queue)
    while queue:
        _guess, cell, heading = heapq.heappop(queue)
        if cell in goal:
            return _points(_back(came, (cell, heading)), start, anchor, room)
        spent = cost[cell, heading]
        for turn, (dx, dy) in enumerate(_WAYS):
            step = cell[0] + dx, cell[1] + dy
            if step in inside or not (0 <= step[0] <= last[0] and 0 <= step[1] <= last[1]):
                continue
            price = spent + 1 + (_TURN if heading not in (-1, turn) else 0) + (_CROSSING if step in blocked else 0)
            if price < cost.get((step, turn), 1 << 30):
                cost[step, turn], came[step, turn] = price, (cell, heading)
                heapq.heappush(queue, (price + left_to_go(step), step, turn))
    return []


def _cells(boxes: Sequence[Box], room: Box) -> set[Cell]:
    out: set[Cell] = set()
    for box in boxes:
        first = [max(0, -int(-(a - b) // GRID)) for a, b in ((box.left, room.left), (box.top, room.top))]
        last = [int((a - b) // GRID) for a, b in ((box.right, room.left), (box.bottom, room.top))]
        out |= {(x, y) for x in range(first[0], last[0] + 1) for y in range(first[1], last[1] + 1)}
    return out


def _back(came: dict[State, State | None], end: State) -> list[Cell]:
    cells: list[Cell] = []
    at: State | None = end
    while at is not None:
        cells.append(at[0])
        at = came[at]
    return cells[::-1]


def _points(cells: Sequence[Cell], start: Box, anchor: Box, room: Box) -> list[tuple[float, float]]:
    points = [(room.left + x * GRID, room.top + y * GRID) for x, y in cells]
    corners = [p for k, p in enumerate(points) if k in (0, len(points) - 1) or _turns(points[k - 1 : k + 2])]
    if len(corners) < 2:
        return []
    corners[0] = _on_edge(start, corners[0], corners[1])
    corners[-1] = _on_edge(anchor, corners[-1], corners[-2])
    return corners


def _turns(three: Sequence[tuple[float, float]]) -> bool:
    (x1, y1), (x2, y2), (x3, y3) = three
    return (x2 - x1, y2 - y1) != (x3 - x2, y3 - y2)


def _on_edge(box: Box, inner: tuple[float, float], outer: tuple[float, float]) -> tuple[float, float]:
    """Where the level or upright line from `outer` to `inner` meets the box."""
    (x, y), (ox, oy) = inner, outer
    if x == ox:
        return x, box.top if oy < box.top else box.bottom
    return (box.left if ox < box.left else box.right), y
