"""Units chosen in the menu are those of every field, and records stay in the program's own."""

from __future__ import annotations

import pytest
from PySide6.QtGui import QAction

from swatch.terms.materials import Firing
from swatch.wording.units import Units, use_units


@pytest.fixture
def shop_with_units(small_shop):
    yield small_shop
    use_units(Units())


def choose(shop, text):
    next(one for one in shop.window.findChildren(QAction) if one.text() == text).trigger()


def test_a_peak_in_fahrenheit_is_kept_in_celsius(shop_with_units):
    shop = shop_with_units
    shop.desks.studio.do(lambda studio: studio.put_firings([Firing("F-1", peak_c=1222.0)], frozenset({"peak_c"})))
    form = shop.place("firings").form
    assert form.peak.text() == "1222"
    choose(shop, "Temperatures in °F")
    assert form.peak.text() == "2231.6"
    assert "°F" in form._peak_words.whole()
    form.peak.editingFinished.emit()
    assert shop.desks.firings.chosen.firing.peak_c == 1222.0
    form.peak.setText("2192")
    form.peak.editingFinished.emit()
    assert shop.desks.firings.chosen.firing.peak_c == pytest.approx(1200.0)
    assert shop.desks.settings.text("unit of heat") == "fahrenheit"


def test_a_jar_is_weighed_in_ounces(shop_with_units):
    shop = shop_with_units
    screen = shop.place("materials")
    shop.desks.materials.choose("Amber")
    choose(shop, "Weights in oz")
    assert screen.detail.left.suffix() == " oz"
    assert "22.6 oz" in screen.detail.under.whole()
    screen.detail.left.setValue(10.0)
    screen.detail.weigh.click()
    assert shop.desks.materials.chosen.left_g == pytest.approx(283.5)
