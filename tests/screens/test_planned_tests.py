"""From a colour, a material or a stand-in to a printed board of the next tests, by real widgets."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QFileDialog
from small_studio import DOUBT, match_answer, reading

from swatch.desk.answer_rows import ROW_ROLE
from swatch.desk.shelf import lay_out
from swatch.terms.answers import Basis, Grounds, Prediction, Question
from swatch.terms.boards import Board, BoardTile, BoardZone, Why
from swatch.terms.colour import Lab
from swatch.terms.cone import Cone
from swatch.terms.layering import parse_layers
from swatch.terms.next_tests import NextAnswer, NextTest
from swatch.terms.problems import Notice
from swatch.terms.sheet import Size


def planned(request):
    """An answer to any question: as many tiles as asked for."""
    body, cone = request.body or "Palebank", request.cone or Cone(6.0)
    aims = request.target is not None or bool(request.replaces)
    tests = tuple(
        NextTest(
            f"T{n + 10}",
            Prediction(
                Question(parse_layers(f"Moss*{n + 1} > Amber"), body, cone),
                Lab(40.0 + n, -10.0, 20.0),
                DOUBT,
                Grounds(0, 3, Basis.OWN_MATERIALS),
            ),
            str(Why.LIKELY if aims else Why.TEACHES),
            0.4 if aims else None,
            0.2,
        )
        for n in range(request.tiles)
    )
    tiles = tuple(BoardTile(one.tile, (BoardZone("A", one.prediction.question.layers),), one.why) for one in tests)
    boards = (Board("F-2", body, cone, tiles),)
    outlook = (0.7, 1.8, None) if aims else (None, None, 0.8)
    return NextAnswer(request, tests, boards, *outlook, (Notice("tests-on-cookies"),), 0.1, 4)


@pytest.fixture
def planning_shop(small_shop):
    small_shop.workers.answers["next tests"] = lambda asked: planned(asked["request"])
    return small_shop


def press(shop, button):
    shop.qtbot.waitUntil(lambda: button.isVisible() and button.isEnabled(), timeout=15_000)
    shop.qtbot.mouseClick(button, Qt.MouseButton.LeftButton)


def at_plan(shop):
    shop.qtbot.waitUntil(lambda: shop.desks.planning.answer is not None, timeout=15_000)
    QApplication.processEvents()
    assert shop.window.now.code == "tests"
    return shop.window.now


def test_a_target_to_a_printed_board_of_six_tests_in_four_steps(planning_shop, tmp_path, monkeypatch):
    shop, steps = planning_shop, 0
    shop.workers.answers["match"] = lambda asked: match_answer(asked["request"], "Moss", "Amber")
    tiles = shop.place("tiles")
    shop.desks.tiles.choose("T1")
    press(shop, tiles.detail.match)
    steps += 1
    press(shop, shop.window.now.plan)
    steps += 1
    screen = at_plan(shop)
    rows = [screen.list.model().index(n, 0).data(ROW_ROLE) for n in range(6)]
    assert [row.pencil for row in rows] == [f"T{n}" for n in range(10, 16)]
    assert rows[0].target == shop.desks.matching.wanted.target
    assert "likely to hit" in rows[0].evidence
    said = screen.list.model().index(1, 0).data(Qt.ItemDataRole.AccessibleTextRole)
    assert "Slot 2, pencil T11: Moss ×2 › Amber." in said
    assert "Chance to hit: 40 %." in said
    assert "70 %" in screen.brings.whole()
    press(shop, screen.print)
    steps += 1
    shop.qtbot.waitUntil(lambda: bool(shop.desks.printing.pages), timeout=20_000)
    assert shop.window.now.code == "papers"
    out = tmp_path / "board.pdf"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_args: (str(out), ""))
    monkeypatch.setattr("swatch.screens.papers_screen.QDesktopServices.openUrl", lambda _url: True)
    press(shop, shop.window.now.save)
    steps += 1
    assert out.read_bytes().startswith(b"%PDF")
    assert steps <= 4
    (board,) = shop.desks.printing.boards()
    assert len(board.tiles) == 6


def test_a_kept_plan_is_one_step_that_undo_takes_back(planning_shop):
    shop = planning_shop
    materials = shop.place("materials")
    shop.desks.materials.choose("Amber")
    press(shop, materials.detail.tests)
    screen = at_plan(shop)
    assert shop.desks.planning.request.material == "Amber"
    assert "20 %" in screen.brings.whole()
    screen.tiles.setValue(3)
    shop.qtbot.waitUntil(lambda: screen.list.model().rowCount() == 3, timeout=15_000)
    press(shop, screen.keep)
    assert screen.keep.text() == "Plan is kept"
    assert not screen.tiles.isEnabled()
    assert shop.desks.undoing.undo_name == "Plan 3 tiles for F-2"
    press(shop, shop.window.header.undo)
    assert shop.desks.printing.boards() == ()
    assert screen.keep.isEnabled()
    assert len(shop.desks.planning.answer.tests) == 3


def test_what_teaches_most_is_asked_of_no_material(planning_shop):
    press(planning_shop, planning_shop.place("materials").teach)
    at_plan(planning_shop)
    request = planning_shop.desks.planning.request
    assert (request.material, request.target, request.body) == ("", None, "Palebank")


def test_tiles_lie_apart_on_the_shelf_with_room_for_witnesses():
    tile, shelf = Size(50.0, 100.0), Size(400.0, 300.0)
    laid = lay_out(20, tile, shelf)
    assert laid.per_shelf == 12
    assert laid.shelves == 2
    first = [spot for spot in laid.spots if spot.shelf == 0]
    assert len(first) == 12
    for n, one in enumerate(first):
        assert one.left + tile.wide <= shelf.wide - 10
        assert one.top + tile.high <= shelf.high - 60
        for other in first[:n]:
            apart = abs(one.left - other.left) >= tile.wide + 10 or abs(one.top - other.top) >= tile.high + 10
            assert apart
    assert lay_out(3, Size(500.0, 100.0), shelf).per_shelf == 0


def fired(tile, lab):
    return replace(reading(tile, "A", "Moss > Amber", lab), firing="F-2")


def test_tests_that_came_back_say_whether_the_target_is_hit_and_what_was_learnt(planning_shop):
    shop = planning_shop
    shop.workers.answers["match"] = lambda asked: match_answer(asked["request"], "Moss", "Amber")
    shop.place("match")
    shop.desks.matching.want_colour(Lab(41.0, -10.0, 20.0), "a shard")
    shop.qtbot.waitUntil(lambda: bool(shop.desks.matching.suggestions), timeout=15_000)
    press(shop, shop.window.now.plan)
    press(shop, at_plan(shop).keep)
    (board,) = shop.desks.printing.boards()
    assert (board.target.lab, board.target.source) == (Lab(41.0, -10.0, 20.0), "the target a shard")
    assert board.tiles[0].zones[0].said == Lab(40.0, -10.0, 20.0)
    came = [fired("T10", (40.5, -10.0, 20.0)), fired("T11", (70.0, -10.0, 20.0))]
    shop.desks.studio.do(lambda s: s.put_readings(came, frozenset({"firing"})))
    place = shop.place("next")
    step = next(one for one in place.steps if one.text() == "What was learnt?")
    press(shop, step)
    results = shop.window.now
    assert results.code == "results"
    assert results.list.model().rowCount() == 2
    assert results.verdict.whole().startswith("T10 hits: 0.")
    assert "three real pieces" in results.verdict.whole()
    assert results.learnt.whole() == "1 of 2 tiles came out within the doubt they were given."
    assert results.missing.whole() == "4 tiles have not come back yet."
    assert "T11" in results._each.itemAt(0).widget().whole()
    press(shop, results.again)
    assert shop.window.now.code == "match"
    assert shop.desks.matching.wanted.target == Lab(41.0, -10.0, 20.0)
