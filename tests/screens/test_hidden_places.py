"""A place that is not open costs nothing, and shows the present state once it is opened."""

from __future__ import annotations

from swatch.screens.ahead import Ahead
from swatch.screens.places import PLACES
from swatch.terms.materials import Status


def test_a_hidden_place_waits_and_is_right_when_opened(small_shop):
    tiles = small_shop.place("tiles")
    assert tiles.material.findText("Amber") >= 0
    small_shop.place("next")
    small_shop.desks.tiles.filter(material="Amber")
    assert tiles.material.currentText() != "Amber"
    small_shop.place("tiles")
    assert tiles.material.currentText() == "Amber"
    small_shop.desks.tiles.filter(material="Moss")
    assert tiles.material.currentText() == "Moss"


def test_what_is_put_off_is_done_once(small_shop):
    screen = small_shop.place("next")
    small_shop.place("tiles")
    before = screen.steps
    for name in ("Moss", "Amber"):
        small_shop.desks.studio.do(lambda s, name=name: s.set_status(name, Status.DISCONTINUED))
    assert screen.steps is before
    screen.catch_up()
    assert screen.steps is not before
    after = screen.steps
    screen.catch_up()
    assert screen.steps is after


def test_places_are_made_ahead_and_filled(small_shop, qtbot):
    ahead = Ahead(small_shop.window)
    with qtbot.waitSignal(ahead.done, timeout=20_000):
        small_shop.desks.studio.settled.emit()
    made = small_shop.window._made
    assert {code for code, _word in PLACES} <= made.keys()
    assert made["tiles"].material.findText("Amber") >= 0
    assert small_shop.window.now.code == "next"
