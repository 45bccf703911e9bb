from __future__ import annotations

from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from swatch.desk.free_paper import Box, free_place, way_between

ROOM = Box(0, 0, 800, 600)
TILES = [
    Box(300 + 120 * k, 50 + 180 * line, 390 + 120 * k, 190 + 180 * line) for line in range(3) for k in range(4)
]


def meet(one, other):
    return one.left < other.right and other.left < one.right and one.top < other.bottom and other.top < one.bottom


def crosses(points, box):
    """Whether an upright-and-level line runs through a box."""
    for (x1, y1), (x2, y2) in pairwise(points):
        along = Box(min(x1, x2), min(y1, y2), max(x1, x2) + 0.1, max(y1, y2) + 0.1)
        if meet(along, box):
            return True
    return False


def test_a_callout_hides_no_tile_and_its_line_runs_through_the_gaps():
    anchor, others = TILES[7], [tile for tile in TILES if tile is not TILES[7]]
    place = free_place((248, 110), anchor, [*others, anchor], ROOM)
    assert not any(meet(place, tile) for tile in TILES)
    way = way_between(place, anchor, others, ROOM)
    assert len(way) >= 2
    assert not any(crosses(way, tile) for tile in others)
    assert all(x1 == x2 or y1 == y2 for (x1, y1), (x2, y2) in pairwise(way))
    x, y = way[-1]
    assert anchor.holds(x, y)
    assert not anchor.grown(-1).holds(x, y)


@given(st.integers(0, 11), st.integers(120, 300), st.integers(60, 200))
@settings(max_examples=25, deadline=None)
def test_a_callout_stays_in_the_room(which, wide, high):
    place = free_place((wide, high), TILES[which], TILES, ROOM)
    assert ROOM.left <= place.left
    assert place.right <= ROOM.right
    assert place.bottom <= ROOM.bottom


def test_where_no_paper_is_free_something_is_still_answered():
    place = free_place((500, 500), TILES[0], TILES, Box(0, 0, 300, 300))
    assert (place.left, place.top) == (0, 0)
    assert way_between(place, TILES[0], TILES[1:], Box(0, 0, 300, 300)) == []
