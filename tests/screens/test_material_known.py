"""What the tiles teach of a material, in Materials: painted, said, and asked for in haste."""

from __future__ import annotations

import pytest
from small_studio import DOUBT

from swatch.terms.answers import Basis, Grounds, Prediction, Question
from swatch.terms.colour import Lab
from swatch.terms.cone import Cone
from swatch.terms.knowledge import Change, Covering, Lack, MaterialKnowledge, NextTile, Sensitivity
from swatch.terms.layering import parse_layers
from swatch.terms.materials import Kind, Status


def said(layers, lab, body="Palebank", cone=6.0):
    question = Question(parse_layers(layers), body, Cone(cone))
    return Prediction(question, Lab(*lab), DOUBT, Grounds(0, 3, Basis.OWN_MATERIALS))


def knowledge(asked):
    name = asked["material"]
    swatches = tuple(said(f"{name}*{n}", (50.0 + n, 18.0, 40.0), cone=c) for c in (5.0, 6.0) for n in (1, 2, 3))
    plain = Lab(52.0, 18.0, 40.0)
    hotter = Sensitivity(Change.HALF_A_CONE_HOTTER, plain, Lab(50.2, 18.0, 40.0), 1.8)
    covering = Covering(
        said(f"Moss > {name}", (60.0, 10.0, 30.0)), said(f"Ink > {name}", (20.0, 5.0, 5.0)), 0.2, (0.1, 0.3)
    )
    lacks = NextTile(Question(parse_layers(f"Ink > {name}"), "Palebank", Cone(6.0)), Lack.NOT_OVER_DARK)
    return MaterialKnowledge(name, Kind.GLAZE, 7, swatches, None, covering, (hotter,), lacks, 4)


@pytest.fixture
def shelf(small_shop):
    small_shop.workers.answers["knows"] = knowledge
    return small_shop


def known(shop, name):
    shop.desks.materials.choose(name)
    shop.qtbot.waitUntil(lambda: shop.desks.knowing.knowledge is not None, timeout=15_000)
    return shop.window.now.detail


def lines(detail):
    return [detail._words.itemAt(n).widget().whole() for n in range(4)]


def test_what_is_known_of_a_material_is_painted_and_said(shelf):
    shelf.place("materials")
    detail = known(shelf, "Amber")
    picture = detail.known.picture
    assert [row.cone for row in picture.cones] == [Cone(5.0), Cone(6.0)]
    assert picture.cones[0].cells[0][0].draws  # predicted
    assert [words for _cell, words in picture.grounds] == ["over Moss", "over Ink"]
    spoken = detail.known.accessibleDescription()
    assert "Palebank, cone 5, 1 to 3 coats: predicted about L* 5" in spoken
    assert "Half a cone hotter: Darker by 1.8." in spoken
    said_of_it = " ".join(lines(detail))
    assert "7 readings of it fired here." in said_of_it
    assert "What lies below shows through." in said_of_it
    assert "One tile that would teach most: Ink › Amber on Palebank at cone 6" in said_of_it


def test_what_was_measured_is_shown_before_what_is_predicted(shelf):
    shelf.place("materials")
    detail = known(shelf, "Moss")
    at_6 = next(row for row in detail.known.picture.cones if row.cone == Cone(6.0))
    palebank = detail.known.picture.bodies.index("Palebank")
    assert at_6.cells[palebank][0].measured == Lab(50.0, -18.0, 14.0)
    assert at_6.cells[palebank][2].measured is None


def test_the_last_fit_answers_until_the_full_one_is_there(shelf):
    told = shelf.workers
    told.answers["learn"] = lambda asked: {"digest": "", "learnt_from": 4, "provisional": asked["in_haste"]}
    shelf.place("materials")
    known(shelf, "Amber")
    shelf.qtbot.waitUntil(
        lambda: [asked["in_haste"] for name, asked in told.asked if name == "learn"] == [True, False],
        timeout=15_000,
    )
    shelf.qtbot.waitUntil(lambda: not shelf.desks.materials.provisional, timeout=15_000)
    asked = [name for name, _asked in told.asked].count("knows")
    shelf.desks.materials.relearnt.emit()
    assert shelf.desks.knowing.knowledge is None
    shelf.qtbot.waitUntil(lambda: shelf.desks.knowing.knowledge is not None, timeout=15_000)
    assert [name for name, _asked in told.asked].count("knows") == asked + 1


def test_the_accent_is_on_replacing_only_what_cannot_be_had(shelf):
    detail = shelf.place("materials").detail
    shelf.desks.materials.choose("Amber")
    assert not detail.replace.property("main")
    shelf.desks.materials.set_status(Status.DISCONTINUED)
    assert detail.replace.property("main")
    assert not detail.tests.isEnabled()
