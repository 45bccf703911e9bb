"""Outlines about many colours in the a*b* plane: which cells of a grid they fill, and the lines round those."""

from __future__ import annotations

import numpy as np

from swatch.science.optics import FloatArray

CELL = 2.5
"""Width of a cell in a* and b*: about as far apart as two tiles of one layering fire."""
_REACH = 160.0
_SIDE = int(2 * _REACH / CELL)


def filled(ab: FloatArray, close: bool = False) -> np.ndarray:
    """Cells (side, side) that colours (n, 2) lie in, b* first.

    Parameters
    ----------
    ab : (n, 2) float
        a* and b* within ±160.
    close : bool
        Fill also gaps of one cell: coats come in whole numbers, what lies between two is made by a thicker brush.
    """
    from scipy.ndimage import binary_closing

    cells = np.zeros((_SIDE, _SIDE), dtype=bool)
    at = np.clip(((ab + _REACH) / CELL).astype(np.intp), 0, _SIDE - 1)
    cells[at[:, 1], at[:, 0]] = True
    return np.asarray(binary_closing(cells, np.ones((3, 3), dtype=bool)) | cells) if close else cells


def rings(cells: np.ndarray) -> list[FloatArray]:
    """Closed lines (m, 2) of a* and b* round the cells that are filled, longest first.

    Edges run with the filled cell on their left, and a line joins the middles of the edges that follow each other,
    which takes the corners off the grid.
    """
    full = np.pad(cells, 1)
    follows: dict[tuple[int, int], list[tuple[int, int]]] = {}
    for (dy, dx), (start, end) in _SIDES.items():
        for y, x in np.argwhere(full & ~np.roll(full, (-dy, -dx), (0, 1))):
            corner = int(x) + start[0], int(y) + start[1]
            follows.setdefault(corner, []).append((int(x) + end[0], int(y) + end[1]))
    lines = []
    while follows:
        first = next(iter(follows))
        line, at, came = [first], first, None
        while True:
            ends = follows[at]
            # Where two filled cells meet at a corner only, the line keeps to its own cell: it turns left.
            to = ends.pop(0 if came is None or len(ends) == 1 else _leftmost(came, at, ends))
            if not ends:
                del follows[at]
            came, at = at, to
            if at == first:
                break
            line.append(at)
        corners = np.array(line, dtype=float)
        middles = (corners + np.roll(corners, -1, axis=0)) / 2.0
        lines.append(_without_straights((middles - 1.0) * CELL - _REACH))
    return sorted(lines, key=len, reverse=True)


_SIDES = {
    (-1, 0): ((0, 0), (1, 0)),
    (0, 1): ((1, 0), (1, 1)),
    (1, 0): ((1, 1), (0, 1)),
    (0, -1): ((0, 1), (0, 0)),
}
"""Neighbour (y, x) to the edge towards it, as corners (x, y) from the cell's lower left, the cell on its left."""


def _leftmost(came: tuple[int, int], at: tuple[int, int], ends: list[tuple[int, int]]) -> int:
    on = at[0] - came[0], at[1] - came[1]
    turns = [on[0] * (end[1] - at[1]) - on[1] * (end[0] - at[0]) for end in ends]
    return int(np.argmax(turns))


def _without_straights(line: FloatArray) -> FloatArray:
    """The line without corners at which it does not turn."""
    before, after = line - np.roll(line, 1, axis=0), np.roll(line, -1, axis=0) - line
    turns = np.abs(before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]) > 1e-9
    return np.asarray(line[turns])


def area(line: FloatArray) -> float:
    """Area that a closed line (m, 2) holds on its left; negative for a hole."""
    after = np.roll(line, -1, axis=0)
    return float((line[:, 0] * after[:, 1] - line[:, 1] * after[:, 0]).sum() / 2.0)
