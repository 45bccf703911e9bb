"""Colours your jars can make, in the window."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtWidgets import QApplication

from swatch.screens.components.band_plane import BandPlane
from swatch.screens.jar_colours import reach_of
from swatch.terms.colour import Lab
from swatch.terms.colours import ColoursRequest, JarColours, LightnessBand, OwnColour
from swatch.terms.cone import Cone
from swatch.terms.layering import parse_layers
from swatch.terms.problems import Notice

SQUARE = ((-10.0, -10.0), (30.0, -10.0), (30.0, 20.0), (-10.0, 20.0))
TILE = OwnColour("T1", "A", parse_layers("Moss*2"), Lab(55.0, 12.0, 8.0))
BANDS = (
    LightnessBand((40.0, 50.0), 120, (SQUARE,), 3.2, (), ()),
    LightnessBand((50.0, 60.0), 7, (SQUARE,), 2.5, (((10.0, 5.0), (15.0, 5.0), (12.0, 10.0)),), (TILE,)),
)


def answer_to(request):
    return JarColours(request, BANDS, 2.5, 127, 0.1, 14, (Notice("colours-are-predicted"),))


@pytest.fixture
def page(small_shop):
    small_shop.workers.answers["colours"] = lambda asked: answer_to(asked["request"])
    screen = small_shop.place("materials")
    small_shop.qtbot.mouseClick(screen.reach, Qt.MouseButton.LeftButton)
    small_shop.qtbot.waitUntil(lambda: small_shop.desks.colours.answer is not None)
    QApplication.processEvents()
    return screen.colours


def test_one_press_shows_the_bands_and_says_what_is_measured(small_shop, page):
    assert page.isVisible()
    assert page.bands.count() == 2
    assert small_shop.desks.colours.request.body == small_shop.desks.materials.body
    assert "own tile" in page.said.whole()
    assert page.plane.band == BANDS[1]
    assert "No tile" not in page.plane.accessibleDescription()
    page.bands.setCurrentRow(0)
    assert page.plane.band == BANDS[0]
    assert "No tile of yours" in page.said.whole()


def test_the_choice_of_regions_asks_again_and_back_leads_to_the_jars(small_shop, page):
    small_shop.qtbot.mouseClick(page.food, Qt.MouseButton.LeftButton)
    assert small_shop.desks.colours.request.regions == ("inside", "lip", "outside")
    small_shop.qtbot.waitUntil(lambda: small_shop.desks.colours.answer is not None)
    small_shop.qtbot.mouseClick(page.back, Qt.MouseButton.LeftButton)
    assert not page.isVisible()


def test_outline_and_tile_lie_where_their_colours_say(qtbot):
    plane = BandPlane(BANDS[1])
    qtbot.addWidget(plane)
    plane.show_band(BANDS[1], 50.0)
    assert plane.place(0.0, 0.0) == QPointF(plane.place(-50.0, 0.0) + plane.place(50.0, 0.0)) / 2.0
    assert plane.place(10.0, 0.0).x() > plane.place(0.0, 0.0).x()
    assert plane.place(0.0, 10.0).y() < plane.place(0.0, 0.0).y()
    drawn = plane.grab().toImage()
    at = plane.place(TILE.lab.a, TILE.lab.b)
    seen = drawn.pixelColor(at.toPoint())
    assert seen.red() > seen.green()
    assert "a*" in plane.accessibleDescription()


def test_all_bands_share_one_scale():
    assert reach_of(answer_to(ColoursRequest("Pale", Cone(6.0)))) == 30.0
    assert reach_of(None) == 50.0
