from PySide6.QtCore import Qt

from swatch.terms.cone import Cone
from swatch.terms.layering import format_layers
from swatch.terms.materials import Kind


def press(shop, button):
    shop.qtbot.waitUntil(button.isVisible)
    shop.qtbot.mouseClick(button, Qt.MouseButton.LeftButton)


def typed(shop, field, text):
    field.clear()
    shop.qtbot.keyClicks(field, text)
    shop.qtbot.keyClick(field, Qt.Key.Key_Return)


def test_an_empty_studio_says_what_to_do_first(empty_shop):
    screen = empty_shop.place("next")
    assert [step.text() for step in screen.steps] == ["Enter jars", "Add a firing", "Open photos…"]
    assert empty_shop.window.rail["next"].accessibleName() == "Next, 3 waiting"


def test_a_pasted_list_of_jars_stands_on_the_shelf(empty_shop):
    press(empty_shop, empty_shop.place("next").steps[0])
    screen = empty_shop.window.now
    assert screen.code == "materials"
    screen.new.text.setPlainText("Moss green, underglaze\n- Honey (glaze)\n\nWindow;clear\nSomething else\n")
    press(empty_shop, screen.new.add)
    kinds = {m.name: m.kind for m in empty_shop.desks.studio.evidence.materials}
    assert kinds == {
        "Moss green": Kind.UNDERGLAZE,
        "Honey": Kind.GLAZE,
        "Window": Kind.CLEAR,
        "Something else": None,
    }
    assert screen.list.model().rowCount() == 4


def test_a_firing_is_added_like_the_last_and_written_down(small_shop):
    screen = small_shop.place("firings")
    press(small_shop, screen.add)
    assert small_shop.desks.firings.chosen.firing.name == "F-2"
    assert screen.form.asked.text() == "6"
    typed(small_shop, screen.form.asked, "5½")
    assert small_shop.desks.firings.chosen.firing.cone_asked == Cone(5.5)
    typed(small_shop, screen.form.shelf, "top")
    typed(small_shop, screen.form.shelf_cone, "5.8")
    press(small_shop, screen.form.add_witness)
    (witness,) = small_shop.desks.firings.chosen.witnesses
    assert (witness.shelf, witness.cone_reached) == ("top", Cone(5.8))


def test_a_cone_that_is_none_is_refused_in_place(small_shop):
    screen = small_shop.place("firings")
    typed(small_shop, screen.form.asked, "O6")
    assert screen.form.asked.property("bad")
    assert "O6" in screen.form.bad.whole()
    assert small_shop.desks.firings.chosen.firing.cone_asked == Cone(6.0)
    typed(small_shop, screen.form.asked, "06")
    assert not screen.form.asked.property("bad")
    assert small_shop.desks.firings.chosen.firing.cone_asked == Cone(-5.0)


def test_an_edition_gets_regions_with_layers(small_shop):
    screen = small_shop.place("editions")
    typed(small_shop, screen.name, "Lantern lid")
    typed(small_shop, screen.form.layers, "Moss*2 > Amber")
    region = small_shop.desks.editions.region
    assert (region.edition, format_layers(region.layers)) == ("Lantern lid", "Moss*2 > Amber")
    screen.form.new_region.setText("rim")
    press(small_shop, screen.form.add_region)
    assert [one.region for one in small_shop.desks.editions.chosen.regions] == ["outside", "rim"]


def test_jars_are_weighed(small_shop):
    screen = small_shop.place("materials")
    small_shop.desks.materials.choose("Moss")
    screen.detail.left.setValue(123.0)
    press(small_shop, screen.detail.weigh)
    assert small_shop.desks.materials.chosen.left_g == 123.0


def test_chosen_tile_and_its_zone_go_to_match(small_shop):
    screen = small_shop.place("tiles")
    small_shop.desks.tiles.choose("T1")
    assert screen.detail.title.whole() == "T1"
    press(small_shop, screen.detail.match)
    assert small_shop.window.now.code == "match"
    assert small_shop.desks.matching.wanted.target == small_shop.desks.tiles.chosen.zones[0].lab
    assert "T1 A" in small_shop.window.header.under.whole()
