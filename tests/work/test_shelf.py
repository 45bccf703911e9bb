"""How many tiles find room on a kiln shelf."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swatch.work.shelf import GAP_MM, WITNESS_MM, tiles_on


def test_a_shelf_counted_by_hand():
    # 10 mm before, between and after: 6 · 50 + 7 · 10 = 370 across; 3 · 100 + 4 · 10 = 340 behind the witnesses.
    assert tiles_on((370.0, 340.0 + WITNESS_MM), (50.0, 100.0)) == 6 * 3
    assert tiles_on((369.0, 340.0 + WITNESS_MM), (50.0, 100.0)) == 5 * 3
    assert tiles_on((370.0, 339.0 + WITNESS_MM), (50.0, 100.0), shelves=2) == 2 * 6 * 2


def test_a_round_shelf_counted_by_hand():
    # Four squares of 100, two and two: the far corner lies √2 · 105 = 148.5 from the middle, 10 from the edge.
    assert tiles_on((2 * (148.5 + 10) + 1,), (100.0, 100.0)) == 4 - 1
    assert tiles_on((2 * (148.4 + 10) - 1,), (100.0, 100.0)) < 4 - 1


def test_what_finds_no_room_is_none():
    assert tiles_on((60.0, 160.0), (50.0, 100.0)) == 0
    assert tiles_on((90.0,), (50.0, 100.0)) == 0


@given(
    st.lists(st.floats(60, 900), min_size=1, max_size=2), st.floats(20, 200), st.floats(20, 200), st.integers(1, 3)
)
def test_tiles_never_cover_more_than_the_shelf_and_a_larger_one_holds_no_fewer(shelf, wide, high, shelves):
    held = tiles_on(tuple(shelf), (wide, high), shelves)
    whole = math.pi * (shelf[0] / 2) ** 2 if len(shelf) == 1 else shelf[0] * shelf[1]
    assert held * wide * high <= shelves * whole
    larger = tuple(side + 2 * GAP_MM for side in shelf)
    assert tiles_on(larger, (wide, high), shelves) >= held


@pytest.mark.parametrize(
    "words", [["--shelf", "0x20"], ["--shelf", "1x2x3"], ["--tile", "50"], ["--shelf", "wide"]]
)
def test_sizes_that_are_none_are_a_wrong_call(words, capsys):
    from swatch.cli.main import run

    asked = ["next-tests", "--body", "Pale", "--cone", "6", *words]
    assert run(asked, lambda _folder: 0) == 2
    assert "argument --" in capsys.readouterr().err
