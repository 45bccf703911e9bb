"""Rules of the trade that every answer keeps, on the demo studio and on stock of any kind."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swatch.terms.answers import MatchRequest, Reach
from swatch.terms.colour import Lab
from swatch.terms.cone import Cone
from swatch.terms.layering import fold_name
from swatch.terms.materials import Kind, Status
from swatch.terms.problems import StudioProblem
from swatch.terms.report import silent
from swatch.work.learn import learnt
from swatch.work.match import match_from, space_of

TARGET = Lab(45.0, -8.0, 12.0)


@pytest.fixture(scope="module")
def known(demo_answers):
    return learnt(demo_answers.folder)


def request(known, **limits):
    return MatchRequest(TARGET, known.arrays.bodies.names[0], Cone(6.0), **limits)


def names_in(suggestion):
    return [fold_name(layer.material) for layer in suggestion.prediction.question.layers]


def test_answers_stand_nearest_first_and_differ(known):
    answer = match_from(known, request(known))
    assert len(answer.suggestions) == 10
    expected = [one.de00_expected for one in answer.suggestions]
    assert expected == sorted(expected)
    assert len({tuple(names_in(one)[-2:]) for one in answer.suggestions}) >= 5
    assert len({frozenset(names_in(one)) for one in answer.suggestions}) >= 8
    for one in answer.suggestions:
        low, high = one.de00_80
        assert 0 <= low < one.de00_expected < high
        assert 0 <= one.chance_within <= 1


def test_the_same_question_gets_the_same_answer(known):
    first, second = (match_from(known, request(known)) for _ in range(2))
    assert replace(first, seconds=0.0) == replace(second, seconds=0.0)


def test_only_what_is_in_stock_is_offered_unless_it_is_asked_for(known):
    gone = {fold_name(one.name) for one in known.arrays.stock if one.status is not Status.IN_STOCK}
    assert gone
    plain = match_from(known, request(known, top=50))
    assert not any(gone & set(names_in(one)) for one in plain.suggestions)
    asked = match_from(known, request(known, must_use=(sorted(gone)[0],)))
    assert all(sorted(gone)[0] in names_in(one) for one in asked.suggestions)
    assert all("not-in-stock" in {c.code for c in one.prediction.cautions} for one in asked.suggestions)


def test_what_is_left_out_stays_out_and_what_must_be_in_is_in(known):
    best = names_in(match_from(known, request(known)).suggestions[0])
    without = match_from(known, request(known, leave_out=(best[-1],)))
    assert not any(best[-1] in names_in(one) for one in without.suggestions)
    with_it = match_from(known, request(known, must_use=(best[0],)))
    assert all(best[0] in names_in(one) for one in with_it.suggestions)


def test_limits_of_layers_and_coats_hold(known):
    for layers, coats in ((1, 2), (2, 2), (2, 4), (3, 3)):
        answer = match_from(known, request(known, max_layers=layers, max_coats=coats))
        for one in answer.suggestions:
            used = one.prediction.question.layers
            assert len(used) <= layers
            assert sum(layer.coats for layer in used) <= coats
            assert all(a.material != b.material for a, b in pairwise(used))


@pytest.mark.parametrize("region", ["inside", "lip", "outside"])
def test_what_touches_food_ends_in_a_glaze_labelled_for_that_cone(known, region):
    stock = {fold_name(one.name): one for one in known.arrays.stock}
    answer = match_from(known, request(known, regions=(region,), top=40))
    assert answer.suggestions
    for one in answer.suggestions:
        top = stock[names_in(one)[-1]]
        assert top.kind in (Kind.GLAZE, Kind.CLEAR)
        assert top.food_label is True
        assert top.food_label_cone is None or top.food_label_cone == Cone(6.0)


@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_no_stock_puts_anything_else_on_top_where_food_touches(known, data):
    """Whatever kinds, labels and cones the jars have."""
    cones = st.none() | st.sampled_from([Cone(-5.0), Cone(5.0), Cone(6.0)])
    stock = tuple(
        replace(
            one,
            kind=data.draw(st.none() | st.sampled_from(Kind)),
            food_label=data.draw(st.none() | st.booleans()),
            food_label_cone=data.draw(cones),
        )
        for one in known.arrays.stock
    )
    other = replace(known, arrays=replace(known.arrays, stock=stock))
    space = space_of(other, request(known, regions=("outside",)))
    for may_top, one in zip(space.may_top, stock, strict=True):
        if may_top:
            assert one.kind in (Kind.GLAZE, Kind.CLEAR)
            assert one.food_label is True
            assert one.food_label_cone in (None, Cone(6.0))


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"body": "Nowhere"}, "unknown-body"),
        ({"must_use": ("Nothing",)}, "unknown-material"),
        ({"leave_out": ("Nothing",)}, "unknown-material"),
        ({"cone": Cone(-10.0)}, "cone-beyond-tiles"),
        ({"target": Lab(400.0, 0.0, 0.0)}, "target-out-of-range"),
    ],
)
def test_what_cannot_be_asked_is_said(known, change, code):
    with pytest.raises(StudioProblem) as told:
        match_from(known, replace(request(known), **change))
    assert told.value.code == code


def test_too_little_for_the_pieces_planned_is_said_on_the_row(known):
    answer = match_from(known, request(known, area_dm2=6.8, pieces=100_000))
    for one in answer.suggestions:
        assert one.pieces_possible is None or one.pieces_possible[0] < 100_000
    said = [one for one in answer.suggestions if one.pieces_possible]
    assert said
    assert all(one.prediction.cautions[0].code == "enough-for" for one in said)


ON_FOOD = {"bare-body-food", "bare-underglaze", "label-not-for-food", "label-silent", "label-other-cone"}
ON_FOOD |= {"label-alone-only", "label-needs-test"}


@settings(max_examples=8, deadline=None)
@given(data=st.data())
def test_no_answer_where_food_touches_ends_in_what_no_label_speaks_for(known, data):
    """Whole answers, whatever kinds and labels the jars have and whatever must be in them."""
    stock = tuple(
        replace(
            one,
            kind=data.draw(st.sampled_from((*Kind, None))),
            food_label=data.draw(st.sampled_from((True, True, False, None))),
        )
        for one in known.arrays.stock
    )
    other = replace(known, arrays=replace(known.arrays, stock=stock))
    by_name = {fold_name(one.name): one for one in stock}
    regions = tuple(data.draw(st.sets(st.sampled_from(["inside", "lip", "outside", "foot"]), min_size=1)))
    asked = {"must_use": (data.draw(st.sampled_from(stock)).name,)} if data.draw(st.booleans()) else {}
    try:
        answer = match_from(other, request(other, regions=regions, max_layers=2, max_coats=3, **asked))
    except StudioProblem as problem:
        if problem.code != "nothing-to-search":
            raise
        return
    for one in answer.suggestions:
        assert ON_FOOD & {notice.code for notice in one.prediction.cautions}
        if regions == ("foot",):
            continue
        used = [by_name[name] for name in names_in(one)]
        assert used[-1].kind in (Kind.GLAZE, Kind.CLEAR)
        assert used[-1].food_label is True
        assert not one.prediction.question.layers[-1].wiped
        assert not any(material.food_label is False for material in used)


def test_what_a_label_forbids_is_offered_where_nothing_touches_food(known):
    refused = {fold_name(one.name) for one in known.arrays.stock if one.food_label is False}
    assert refused
    foot = match_from(known, request(known, regions=("foot",), top=40, must_use=(sorted(refused)[0],)))
    assert foot.suggestions
    with pytest.raises(StudioProblem) as told:
        match_from(known, request(known, regions=("inside",), must_use=(sorted(refused)[0],)))
    assert told.value.code == "nothing-to-search"


def test_in_haste_the_last_fit_answers_and_says_so(own_demo):
    from swatch.library.studio import Studio
    from swatch.work.match import match_job

    known = learnt(own_demo)
    asked = {"folder": own_demo, "request": request(known), "in_haste": True}
    assert not match_job(asked, silent).provisional
    reading = next(one for one in known.evidence.readings if one.stage == "fired")
    with Studio.open(own_demo) as studio:
        studio.put_readings([replace(reading, lab=reading.lab._replace(L=reading.lab.L + 2))], frozenset({"lab"}))
    hasty = match_job(asked, silent)
    assert hasty.provisional
    full = match_job(asked | {"in_haste": False}, silent)
    assert not full.provisional
    assert full.learnt_from == hasty.learnt_from
    assert not match_job(asked, silent).provisional


def test_whether_a_target_is_within_reach_rests_on_chances(known):
    body = request(known).body
    own = next(one for one in known.evidence.readings if one.layers and one.firing and one.body == body)
    near, far = (
        match_from(known, replace(request(known), target=lab, tolerance=3.0))
        for lab in (own.lab, Lab(60.0, 100.0, -100.0))
    )
    assert far.reach is Reach.OUT_OF_REACH
    assert not far.reachable
    assert far.reach_chance == 0
    assert far.nearest_80[0] > 3.0
    assert near.reach_chance > far.reach_chance
    assert near.nearest_80[0] <= near.nearest_80[1] < far.nearest_80[0]
    for one in (near, far):
        assert one.reachable == (one.reach is Reach.REACHABLE)
