"""What to fire next, on the demo studio."""

import pytest

from swatch.library.studio import Studio
from swatch.terms.colour import Lab
from swatch.terms.cone import Cone
from swatch.terms.layering import fold_name
from swatch.terms.materials import Kind
from swatch.terms.next_tests import NextRequest
from swatch.terms.problems import StudioProblem
from swatch.work.learn import learnt
from swatch.work.next_tests import next_tests_from, next_tests_of
from swatch.work.plain import from_bytes, to_bytes

TARGET = Lab(36.0, -13.0, 12.0)


@pytest.fixture(scope="module")
def known(demo_answers):
    return learnt(demo_answers.folder)


@pytest.fixture(scope="module")
def at_target(demo_answers):
    wanted = NextRequest(4, "Palebank", Cone(6.0), TARGET, regions=("outside",))
    return next_tests_of(demo_answers.folder, wanted)


def _after(firings):
    """The name one number on from the last of the studio's firings."""
    return f"F-{max(int(name.removeprefix('F-')) for name in firings) + 1}"


def test_tiles_for_a_target_are_new_numbered_on_and_on_a_board(demo_answers, at_target):
    with Studio.look(demo_answers.folder) as studio:
        names = {row.name for row in studio.tiles()}
        firings = {one.name for one in studio.firings()}
    assert [one.tile for one in at_target.tests] == [f"T{73 + k}" for k in range(4)]
    assert not names & {one.tile for one in at_target.tests}
    (board,) = at_target.boards
    assert board.name == _after(firings)
    assert [tile.tile for tile in board.tiles] == [one.tile for one in at_target.tests]
    assert len({one.prediction.question.layers for one in at_target.tests}) == 4
    for one in at_target.tests:
        assert one.prediction.grounds.same_layering == 0
        assert 0 <= one.chance_within <= 1
        assert one.prediction.cautions
    assert 0 < at_target.chance_any <= 1
    assert {"tests-on-cookies", "witness-buttons"} <= {notice.code for notice in at_target.advice}


def test_tiles_keep_to_what_may_touch_food(known, at_target):
    stock = {fold_name(one.name): one for one in known.arrays.stock}
    for one in at_target.tests:
        used = [stock[fold_name(layer.material)] for layer in one.prediction.question.layers]
        assert used[-1].kind in (Kind.GLAZE, Kind.CLEAR)
        assert used[-1].food_label is True
        assert not any(material.food_label is False for material in used)


def test_tiles_for_a_replacement_serve_every_place_and_leave_the_material_out(known, demo_answers):
    with Studio.look(demo_answers.folder) as studio:
        regions = studio.editions()
    answer = next_tests_from(known, NextRequest(6, replaces="old ferry  green"), regions)
    assert {one.prediction.question.body for one in answer.tests} == {"Palebank", "Dunbank"}
    assert {board.body for board in answer.boards} == {"Palebank", "Dunbank"}
    assert len({board.name for board in answer.boards}) == 2
    for one in answer.tests:
        assert all(layer.material != "Old Ferry green" for layer in one.prediction.question.layers)
    assert {"half-and-half", "three-pieces-first"} <= {notice.code for notice in answer.advice}


def test_tiles_that_teach_of_one_material_hold_it(known):
    answer = next_tests_from(known, NextRequest(3, "Palebank", Cone(6.0), material="Copperlatch"))
    assert len(answer.tests) == 3
    for one in answer.tests:
        assert "Copperlatch" in {layer.material for layer in one.prediction.question.layers}
        assert one.chance_within is None
        assert one.information > 0
    assert 0 < answer.doubt_left < 1


def test_a_board_of_tests_goes_on_record_and_its_numbers_are_not_given_again(own_demo):
    with Studio.look(own_demo) as studio:
        firings = {one.name for one in studio.firings()}
    name = _after(firings)
    wanted = NextRequest(2, "Palebank", Cone(6.0), TARGET, name=name)
    first = next_tests_of(own_demo, wanted)
    with Studio.open(own_demo) as studio:
        for board in first.boards:
            studio.plan_board(board)
        assert studio.boards()[0].name == name
    again = next_tests_of(own_demo, NextRequest(2, "Palebank", Cone(6.0), TARGET))
    assert again.boards[0].name == _after(firings | {name})
    assert not {one.tile for one in first.tests} & {one.tile for one in again.tests}


def test_an_answer_travels_between_processes(at_target):
    assert from_bytes(to_bytes(at_target)) == at_target


@pytest.mark.parametrize(
    ("wanted", "code"),
    [
        (NextRequest(2), "no-question-for-tests"),
        (NextRequest(2, target=TARGET), "no-question-for-tests"),
        (NextRequest(2, replaces="Nothing"), "unknown-material"),
        (NextRequest(2, "Nowhere", Cone(6.0)), "unknown-body"),
    ],
)
def test_what_cannot_be_asked_is_said(known, wanted, code):
    with pytest.raises(StudioProblem) as told:
        next_tests_from(known, wanted)
    assert told.value.code == code


def test_no_more_tiles_than_the_kiln_holds_beside_its_witnesses(known):
    wanted = NextRequest(5, "Palebank", Cone(6.0), TARGET, shelf_mm=(130.0, 180.0), tile_mm=(50.0, 100.0))
    answer = next_tests_from(known, wanted)
    assert len(answer.tests) == 2
    assert answer.request == wanted
    assert "shelf-holds" in {notice.code for notice in answer.advice}
    with pytest.raises(StudioProblem) as told:
        next_tests_from(known, NextRequest(5, "Palebank", Cone(6.0), TARGET, shelf_mm=(100.0,)))
    assert told.value.code == "shelf-too-small"
