from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swatch.desk.photo_shapes import (
    Outline,
    View,
    area,
    contains,
    corner_at,
    fitted,
    moved,
    outline_at,
    rectangle,
    with_corner,
)

PHOTO = (4000, 3000)
SQUARE = rectangle((100.0, 100.0), (300.0, 200.0))
number = st.floats(-5000, 5000)


@given(number, number, st.floats(0.05, 16), number, number)
def test_screen_and_photo_are_each_others_inverse(x, y, scale, left, top):
    view = View(scale, left, top)
    assert view.to_photo(view.to_screen((x, y))) == pytest.approx((x, y), abs=1e-6)


@given(st.floats(0.2, 5), st.floats(0, 800), st.floats(0, 600))
def test_zoom_keeps_the_point_under_the_pointer(by, x, y):
    view = View(0.5, -200.0, -100.0)
    zoomed = view.zoomed(by, (x, y), 0.01)
    assert zoomed.to_photo((x, y)) == pytest.approx(view.to_photo((x, y)), abs=1e-6)


def test_the_whole_photo_fits_and_is_centred():
    view = fitted(PHOTO, (816, 816))
    assert view.scale == pytest.approx(0.2)
    assert view.to_screen((2000, 1500)) == pytest.approx((408, 408))


@given(number, number)
def test_moving_keeps_shape_and_stays_on_the_photo(dx, dy):
    out = moved(SQUARE, dx, dy, PHOTO)
    assert area(out) == pytest.approx(area(SQUARE))
    assert all(0 <= x <= PHOTO[0] and 0 <= y <= PHOTO[1] for x, y in out)


def test_a_corner_is_held_inside_the_photo():
    assert with_corner(SQUARE, 2, (9000.0, -5.0), PHOTO)[2] == (4000.0, 0.0)
    assert with_corner(SQUARE, 2, (9000.0, -5.0), PHOTO)[:2] == SQUARE[:2]


def test_pressing_inside_takes_the_smallest_outline():
    card = Outline("card", "Card", rectangle((0.0, 0.0), (1000.0, 1000.0)), card=True)
    zone = Outline("z", "Zone", SQUARE)
    assert outline_at([card, zone], (150.0, 150.0)) is zone
    assert outline_at([card, zone], (500.0, 500.0)) is card
    assert outline_at([card, zone], (1500.0, 500.0)) is None
    assert contains(SQUARE, (200.0, 150.0))
    assert not contains(SQUARE, (200.0, 250.0))


def test_the_nearest_corner_within_reach():
    assert corner_at(SQUARE, (305.0, 204.0), 14.0) == 2
    assert corner_at(SQUARE, (200.0, 150.0), 14.0) is None
