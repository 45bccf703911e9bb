"""Outlines of filled cells: they hold what is filled and nothing else."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from swatch.science.colour_range import CELL, area, filled, rings

GRID = 9


def _cells(bits):
    cells = np.zeros((128, 128), dtype=bool)
    cells[60 : 60 + GRID, 58 : 58 + GRID] = np.array(bits).reshape(GRID, GRID)
    return cells


def _turns_round(lines, at):
    """How often the lines go round a point, all together."""
    total = 0.0
    for line in lines:
        off = line - at
        angle = np.unwrap(np.arctan2(*np.vstack([off, off[:1]]).T[::-1]))
        total += (angle[-1] - angle[0]) / (2 * np.pi)
    return round(total)


@settings(max_examples=80, deadline=None)
@given(st.lists(st.booleans(), min_size=GRID**2, max_size=GRID**2))
def test_lines_go_round_every_filled_cell_once_and_round_no_other(bits):
    cells = _cells(bits)
    lines = rings(cells)
    for y, x in np.ndindex(GRID + 2, GRID + 2):
        y, x = y + 59, x + 57
        middle = (np.array([x, y]) + 0.5) * CELL - 160.0
        assert _turns_round(lines, middle) == int(cells[y, x])


@settings(max_examples=80, deadline=None)
@given(st.lists(st.booleans(), min_size=GRID**2, max_size=GRID**2))
def test_lines_hold_the_cells_area_but_for_the_corners_cut_off(bits):
    cells = _cells(bits)
    held = sum(area(line) for line in rings(cells)) / CELL**2
    # Each corner of the outline, of a cell or of a hole, is cut by an eighth of a cell.
    full = cells.astype(int)
    meeting = full[:-1, :-1] + full[1:, :-1] + full[:-1, 1:] + full[1:, 1:]
    diagonal = (meeting == 2) & (cells[:-1, :-1] == cells[1:, 1:])
    cut = ((meeting == 1).sum() - (meeting == 3).sum() + 2 * diagonal.sum()) / 8
    assert abs(held - (cells.sum() - cut)) < 1e-6


def test_a_colour_fills_the_cell_it_lies_in():
    cells = filled(np.array([[10.1, -20.3], [10.2, -20.4], [-31.0, 5.0]]))
    assert cells.sum() == 2
    for at in ([10.1, -20.3], [-31.0, 5.0]):
        middle = np.floor((np.array(at) + 160.0) / CELL) * CELL - 160.0 + CELL / 2
        assert _turns_round(rings(cells), middle) == 1


def test_gaps_between_whole_coats_are_closed_but_far_ones_are_not():
    near, far = np.array([[0.1, 0.1], [5.2, 0.1]]), np.array([[0.1, 0.1], [15.1, 0.1]])
    assert len(rings(filled(near, close=True))) == 1
    assert len(rings(filled(far, close=True))) == 2


def test_nothing_has_no_outline():
    assert rings(filled(np.zeros((0, 2)))) == []
