"""How long a material lasts, what to buy, and one stand-in for all uses."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swatch.library.studio import Studio
from swatch.science.lasting import pieces_to_start
from swatch.terms.answers import Question
from swatch.terms.colour import Covariance, Lab
from swatch.terms.cone import Cone
from swatch.terms.editions import EditionRegion, PieceReading, RegionKind, Weighing
from swatch.terms.evidence import ZoneReading
from swatch.terms.layering import Layer, fold_name, parse_layers
from swatch.terms.materials import Kind, Material, Status
from swatch.terms.report import silent
from swatch.work.consumption import Consumption
from swatch.work.learn import learnt
from swatch.work.looks import FAULT
from swatch.work.replace import colour_of, uses_of
from swatch.work.replace_plan import AtUse, bridge, jars_to_buy, needs_of, samples_of, stand_ins

DOUBT = Covariance(1.0, 0.0, 0.0, 1.0, 0.0, 1.0)
LAB = Lab(50.0, 0.0, 0.0)


def use(layers, area, planned=10, share=1.0, region="front", edition="Jugs"):
    one = EditionRegion(
        edition, region, planned, share, "Pale", Cone(6.0), RegionKind.OUTSIDE, area, parse_layers(layers)
    )
    return AtUse(Question(one.layers, "Pale", Cone(6.0)), LAB, DOUBT, (one,))


def weighed(grams):
    return Consumption(
        [Weighing("Moss", "2026-05-01", before_g=1000.0, after_g=1000.0 - grams, area_dm2=10.0, coats=1.0)]
    )


def test_a_plan_worked_by_hand():
    # 20 g on 10 dm² is 2 g per dm² and coat; a piece of 5 dm² in two coats takes 20 g, with a tenth for touch-ups
    # and re-fires 22 g; one weighing: 0.15 √2 in ln, 80 % within ±1.2816 of it.
    (need,) = needs_of(weighed(20.0), "moss", [use("Moss*2", 5.0)], (), 660.0)
    side = math.exp(1.2816 * 0.15 * math.sqrt(2))
    assert need.pieces_to_make == need.pieces_to_start == 10
    assert need.need_g == pytest.approx((220 / side, 220 * side))
    assert need.need_90_g == need.need_g[1]
    assert need.pieces_possible == (math.floor(30 / side), math.floor(30 * side))
    # 220 side is 288.8 g; 100 g are there; a jar of 100 ml at 1.5 g/ml holds 150 g: two.
    assert jars_to_buy([need], Material("Moss", left_g=100.0, density_g_per_ml=1.5), 100.0) == 2
    assert jars_to_buy([need], Material("Moss", left_g=300.0), 100.0) == 0


def test_pieces_that_spoil_are_begun_too():
    # 0.9² = 0.81 is short of 90 %; of three pieces two are good with 3 · 0.9² · 0.1 + 0.9³ = 0.972.
    assert pieces_to_start(2, 0.9) == 3
    assert pieces_to_start(5, 1.0) == 5
    assert pieces_to_start(0, 0.5) == 0


def test_regions_of_one_edition_add_up_and_made_pieces_are_counted_off():
    made = [PieceReading("jugs", name, "front", LAB, DOUBT) for name in ("p1", "p2", "P2")]
    both = [use("Moss*2", 5.0), use("Slip > Moss", 2.0, region="lip")]
    (need,) = needs_of(weighed(20.0), "Moss", both, made, None)
    assert need.pieces_to_make == 8
    assert need.pieces_possible is None
    assert need.need_g[0] * need.need_g[1] == pytest.approx((8 * 2 * 1.1 * (10 + 2)) ** 2)


def test_nothing_weighed_nothing_counted():
    (need,) = needs_of(Consumption([]), "Moss", [use("Moss", 5.0)], (), 100.0)
    assert need.need_g is None
    assert jars_to_buy([need], Material("Moss", left_g=1.0), 473.0) is None


@given(st.floats(0, 5000), st.lists(st.tuples(st.floats(0.1, 20), st.floats(0, 10)), min_size=1, max_size=5))
def test_what_is_left_goes_where_it_shows_most_and_no_further(left, places):
    uses = [use("Moss", area, region=f"r{n}") for n, (area, _loss) in enumerate(places)]
    needs = needs_of(weighed(20.0), "Moss", uses, (), left)
    steps = bridge(weighed(20.0), "Moss", uses, [loss for _area, loss in places], needs, left)
    assert sum(step.grams for step in steps) <= left * (1 + 1e-9) + 1e-9
    losses = [step.loss_de00 for step in steps]
    assert losses == sorted(losses, reverse=True)
    assert all(0 <= step.pieces <= step.of_pieces for step in steps)


def test_the_demos_plan_keeps_to_the_rules_and_is_judged_by_the_worst_use(demo_answers):
    answer = demo_answers.replace
    plan = answer.plan
    with Studio.look(demo_answers.folder) as studio:
        stock = {fold_name(one.name): one for one in studio.materials()}
        editions = {one.edition for one in studio.editions() if Layer("Old Ferry green", 2.0) in one.layers}
    assert {need.edition for need in plan.needs} == editions
    assert plan.left_g == 640.0
    assert plan.jars > 0
    weighed = [one.weighed for one in plan.together]
    assert weighed == sorted(weighed)
    assert all(one.weighed >= one.worst_de00 for one in plan.together)
    for one in plan.together:
        assert one.worst_de00 == max(one.de00)
        assert len(one.de00) == 4
        used = [stock[fold_name(layer.material)] for layer in one.layers]
        assert used[-1].food_label is True
        assert not any(material.food_label is False for material in used)
        assert {"label-alone-only", "label-needs-test"} & {notice.code for notice in one.cautions}
    assert "half-and-half" in {notice.code for notice in plan.advice}


@pytest.fixture(scope="module")
def known(demo_answers):
    return learnt(demo_answers.folder)


@pytest.fixture(scope="module")
def uses(known, demo_answers):
    """The places of the editions, as the plan is made of them."""
    with Studio.look(demo_answers.folder) as studio:
        places = uses_of(known, studio.editions(), "Old Ferry green")
    return [AtUse(one.question, *colour_of(known, one), tuple(one.regions)) for one in places if one.regions]


def with_stock(known, **changes):
    """What is learnt, with materials changed by name (spaces as underscores)."""
    stock = tuple(
        replace(one, **changes.get(fold_name(one.name).replace(" ", "_"), {})) for one in known.arrays.stock
    )
    return replace(known, arrays=replace(known.arrays, stock=stock))


@settings(max_examples=5, deadline=None)
@given(data=st.data())
def test_no_stand_in_breaks_the_labels_of_anything_it_would_lie_on(known, uses, data):
    """Whatever the labels say; in an edition the layers beneath the material stay."""
    label = st.sampled_from(
        [{"food_label": None}, {"food_label": False}, {"food_label": True, "food_label_cone": None}]
    )
    names = [fold_name(one.name).replace(" ", "_") for one in known.arrays.stock]
    other = with_stock(known, **{name: data.draw(label) for name in names})
    stock = {fold_name(one.name): one for one in other.arrays.stock}
    for one in stand_ins(other, "Old Ferry green", uses, 5, silent):
        for use in uses:
            beneath = use.question.layers[:-1]
            whole = [stock[fold_name(layer.material)] for layer in (*beneath, *one.layers)]
            assert whole[-1].kind in (Kind.GLAZE, Kind.CLEAR)
            assert whole[-1].food_label is True
            assert not any(material.food_label is False for material in whole)


def test_a_label_that_says_no_beneath_the_material_rules_every_stand_in_out(known, uses):
    other = with_stock(known, pailwash_white={"food_label": False})
    assert stand_ins(other, "Old Ferry green", uses, 5, silent) == ()
    elsewhere = [use for use in uses if len(use.question.layers) == 1]
    assert stand_ins(other, "Old Ferry green", elsewhere, 5, silent)


def test_faults_and_another_sheen_stand_a_stand_in_back(known, uses):
    first, second = stand_ins(known, "Old Ferry green", uses, 2, silent)
    assert first.weighed <= second.weighed
    crawled = ZoneReading(
        "T99", "A", LAB, DOUBT, body="Palebank", layers=first.layers, cone=Cone(6.0), faults=("crawled", "dry")
    )
    evidence = replace(known.evidence, readings=(*known.evidence.readings, crawled))
    again = stand_ins(replace(known, evidence=evidence), "Old Ferry green", uses, 300, silent)
    (moved,) = [one for one in again if one.layers == first.layers] or [again[-1]]
    assert moved.weighed > first.weighed + FAULT
    assert again[0].layers != first.layers or again[0] == moved


def test_a_material_used_up_that_would_come_nearer_is_worth_a_sample(known, uses):
    """What the best stand-in is made of is taken out of stock: then the best of the rest is further off."""
    (best,) = stand_ins(known, "Old Ferry green", uses, 1, silent)
    key = best.layers[-2].material
    other = with_stock(known, **{fold_name(key).replace(" ", "_"): {"status": Status.USED_UP}})
    (rest,) = stand_ins(other, "Old Ferry green", uses, 1, silent)
    assert rest.worst_de00 > best.worst_de00
    samples = samples_of(other, "Old Ferry green", uses, rest.worst_de00, silent)
    assert fold_name(key) in {fold_name(one.material) for one in samples}
    for one in samples:
        assert one.worst_de00 < rest.worst_de00
        assert one.nearer_by == pytest.approx(rest.worst_de00 - one.worst_de00)
        assert fold_name(one.material) in {fold_name(layer.material) for layer in one.layers}
    assert samples_of(known, "Old Ferry green", uses, best.worst_de00, silent) == ()
