from __future__ import annotations

import itertools

import pytest
from PySide6.QtCore import QRect
from PySide6.QtGui import QImage, QPainter

from swatch.screens.components.section import SectionDetail, SectionSmall, paint_section
from swatch.screens.gallery_samples import BODY_LAB, FIRED, section
from swatch.screens.style import look


def painted(layers, coat=9, height=48):
    image = QImage(52, height, QImage.Format.Format_RGB32)
    image.fill(look.bench)
    painter = QPainter(image)
    places = paint_section(painter, QRect(0, 0, 52, height), section(layers), coat)
    painter.end()
    return image, places


def test_layers_lie_in_order_on_the_body_each_shorter_than_the_one_below(qapp):
    _image, places = painted("Ossel Blue > Sill Yellow > Mardle", height=96)
    for below, above in itertools.pairwise(places):
        assert above.bottom() + 1 == below.top()
        assert 4 <= below.width() - above.width() <= 8


def test_thickness_follows_coats(qapp):
    _image, places = painted("Ossel Blue > Mardle*3", height=96)
    assert places[2].height() == 3 * places[1].height() == 27


def test_too_many_coats_are_drawn_thinner_but_all_are_drawn(qapp):
    _image, places = painted("Halm Moss*6 > Ossel Blue*4 > Mardle*2")
    assert places[0].height() >= 18
    assert places[-1].top() >= 0
    assert all(place.height() >= 3 for place in places)


def test_fired_colours_are_used_and_the_body_is_below(qapp, name_of):
    image, places = painted("Ossel Blue > Kessel Amber*2")
    for place, lab in zip(places, (BODY_LAB, FIRED["Ossel Blue"], FIRED["Kessel Amber"])):
        assert image.pixelColor(place.left() + 4, place.center().y()).name() == name_of(lab)


def test_a_wiped_wash_is_islands_and_the_layer_above_fills_the_gaps(qapp, name_of):
    image, places = painted("Rill Wash (wiped) > Mardle*2")
    y = places[1].center().y()
    seen = [image.pixelColor(x, y).name() for x in range(places[1].left(), places[1].right())]
    assert set(seen) == {name_of(FIRED["Rill Wash"]), name_of(FIRED["Mardle"])}
    changes = sum(one != other for one, other in itertools.pairwise(seen))
    assert changes >= 4


def test_a_clear_layer_is_the_colour_below_lightened_with_a_white_top(qapp):
    image, places = painted("Halm Moss*2 > Orrin Clear")
    top, below = places[2], places[1]
    assert image.pixelColor(5, top.top()).name() == "#ffffff"
    assert image.pixelColor(5, top.bottom()).lightness() > image.pixelColor(5, below.center().y()).lightness()


def test_a_layer_never_fired_is_dashed_not_coloured(qapp):
    image, places = painted("Not fired yet*2")
    assert image.pixelColor(places[1].center()).name() == "#777777"


@pytest.mark.parametrize("scale", [1.0, 1.5, 2.0])
def test_the_lowest_layer_touches_the_body_without_a_line(drawn, name_of, scale):
    small = SectionSmall(section("Ossel Blue*2"))
    image = drawn(small, scale)
    x = round(20 * scale)
    column = [image.pixelColor(x, y).name() for y in range(image.height())]
    body, glaze = name_of(BODY_LAB), name_of(FIRED["Ossel Blue"])
    first, last = column.index(glaze), len(column) - 1 - column[::-1].index(body)
    assert set(column[first:last]) == {body, glaze}


def test_detail_names_every_layer_and_speaks(drawn):
    detail = SectionDetail(section("Ossel Blue > Kessel Amber*2"))
    drawn(detail)
    assert "Ossel Blue, 1 coat; Kessel Amber, 2 coats" in detail.accessibleDescription()
    more = SectionDetail(section("Ossel Blue > Sill Yellow > Orrin Clear"))
    assert more.sizeHint().height() >= 18 * 4
    detail.show_section(None)
    assert detail.accessibleDescription() == "No layers yet."
