"""What Match says of its answers: verdict, cautions of all, reasons, labels heeded, provisional answers."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from small_studio import DOUBT, READINGS, match_answer

from swatch.screens.widgets import Words
from swatch.terms.answers import Footing, Reach, ReplaceAnswer, RestsOn, Use
from swatch.terms.boards import Board, BoardTile, BoardZone
from swatch.terms.colour import Lab
from swatch.terms.cone import Cone
from swatch.terms.editions import EditionRegion, RegionKind
from swatch.terms.layering import parse_layers
from swatch.terms.materials import Status
from swatch.terms.problems import Notice
from swatch.terms.replacing import BridgeStep, EditionNeed, ReplacePlan, Sample, StandIn

TARGET = Lab(40.0, -15.0, 12.0)
FRONT = EditionRegion(
    "Lantern",
    "front",
    60,
    body="Palebank",
    cone=Cone(6.0),
    region_kind=RegionKind.OUTSIDE,
    layers=parse_layers("Amber"),
)


def answer(request, *, reach=Reach.PERHAPS, provisional=False):
    made = match_answer(request, "Moss*2", "Moss > Amber")
    new, runs = Notice("new-layering"), Notice("label-not-for-food", {"material": "Amber"})
    suggestions = (
        replace(made.suggestions[0], prediction=replace(made.suggestions[0].prediction, cautions=(new,))),
        replace(made.suggestions[1], prediction=replace(made.suggestions[1].prediction, cautions=(runs, new))),
    )
    return replace(
        made,
        suggestions=suggestions,
        reach=reach,
        reach_chance=0.21,
        nearest_80=(1.5, 4.0),
        provisional=provisional,
    )


def with_reasons(asked):
    from swatch.terms.answers import Basis, Grounds, Prediction

    (question,) = asked["questions"]
    first = READINGS[0]
    rests = RestsOn(first.tile, first.zone, first.layers, first.lab, 0.31, 0.4)
    why = Footing((rests,), DOUBT) if asked.get("why") else None
    return [Prediction(question, TARGET, DOUBT, Grounds(0, 2, Basis.OWN_MATERIALS), why=why)]


@pytest.fixture
def match_shop(small_shop):
    small_shop.workers.answers["match"] = lambda asked: answer(asked["request"])
    small_shop.workers.answers["predict"] = with_reasons
    return small_shop


def found(shop):
    matching = shop.desks.matching
    shop.qtbot.waitUntil(lambda: bool(matching.suggestions) and not matching.looking, timeout=15_000)
    QApplication.processEvents()


def test_the_verdict_stands_over_the_answers_and_what_all_share_is_said_once(match_shop):
    screen = match_shop.place("match")
    assert not screen.verdict.isVisible()
    match_shop.desks.matching.want_colour(TARGET, "typed")
    found(match_shop)
    assert screen.verdict.words.whole().startswith("Perhaps within reach: 21 %")
    assert "1.5–4.0" in screen.verdict.words.whole()
    assert "New layering" in screen.verdict.shared.words.text()
    rows = match_shop.desks.matching.rows
    assert rows.row(0).caution == ""
    assert "Amber" in rows.row(1).caution
    assert not screen.controls.find_button.isEnabled()  # nothing was asked otherwise


def test_an_answer_says_on_which_tiles_it_rests_and_opens_them(match_shop):
    screen = match_shop.place("match")
    match_shop.desks.matching.want_colour(TARGET, "typed")
    found(match_shop)
    match_shop.qtbot.waitUntil(lambda: bool(screen.detail.why.tiles), timeout=15_000)
    (tile,) = screen.detail.why.tiles
    assert tile.accessibleName() == "Look at T1 A"
    assert "31 %" in tile.accessibleDescription()
    tile.setFocus()
    match_shop.qtbot.keyClick(tile, Qt.Key.Key_Space)
    assert match_shop.window.now.code == "tiles"
    assert match_shop.desks.tiles.chosen.tile == "T1"


def test_a_part_of_the_piece_is_asked_for_and_its_rule_is_said(match_shop):
    screen = match_shop.place("match")
    match_shop.desks.matching.want_colour(TARGET, "typed")
    found(match_shop)
    assert not screen.verdict.region.isVisible()
    screen.controls.region.chosen.emit("lip")
    found(match_shop)
    assert match_shop.desks.matching.answer.request.regions == ("lip",)
    assert "laboratory" in screen.verdict.region.whole()
    assert match_shop.desks.matching.steps.undoText() == "Part of the piece: lip"


def replaced(asked):
    from swatch.terms.answers import MatchRequest, Question

    request = MatchRequest(TARGET, "Palebank", Cone(6.0))
    use = Use(Question(parse_layers("Amber"), "Palebank", Cone(6.0)), TARGET, True, answer(request).suggestions)
    return ReplaceAnswer("Amber", (use,), 10, 0.1, 4, provisional=asked["in_haste"])


def test_a_stand_in_is_found_in_haste_then_anew_and_its_use_has_the_pieces_name(match_shop):
    match_shop.desks.studio.do(
        lambda s: s.put_editions([FRONT], frozenset({"planned", "body", "cone", "region_kind", "layers"}))
    )
    match_shop.workers.answers["replace"] = replaced
    match_shop.place("match")
    match_shop.window.replace_material("Amber")
    controls = match_shop.window.now.controls
    assert match_shop.desks.matching.target == Lab(55.0, 20.0, 50.0)  # its own colour, while it is looked for
    found(match_shop)
    assert [asked["in_haste"] for name, asked in match_shop.workers.asked if name == "replace"] == [True, False]
    assert not match_shop.desks.matching.provisional
    assert controls.use_words.whole() == "Lantern, front (60 planned): Amber"
    assert match_shop.window.now.verdict.region.isVisible()
    match_shop.desks.matching.widen()  # the rule goes along
    assert match_shop.desks.matching.wanted.regions == ("outside",)
    found(match_shop)


def test_planned_tiles_leave_an_answer_standing(match_shop):
    match_shop.place("match")
    match_shop.desks.matching.want_colour(TARGET, "typed")
    found(match_shop)
    match_shop.desks.matching.choose(1)
    searches = len([1 for name, _asked in match_shop.workers.asked if name == "match"])
    zone = BoardZone("A", parse_layers("Moss > Amber"))
    board = Board("F-9", "Palebank", Cone(6.0), (BoardTile("T90", (zone,)),))
    match_shop.desks.studio.do(lambda s: s.plan_board(board))
    assert len(match_shop.desks.matching.suggestions) == 2
    assert match_shop.desks.matching.chosen_row == 1
    match_shop.desks.studio.do(lambda s: s.set_status("Moss", Status.USED_UP))
    assert match_shop.desks.matching.suggestions == ()
    found(match_shop)
    assert len([1 for name, _asked in match_shop.workers.asked if name == "match"]) == searches + 1


def test_stand_ins_for_all_uses_and_jars_to_buy_are_shown(match_shop):
    step = BridgeStep("Lantern", "front", 4.0, 12, 60, 240.0)
    need = EditionNeed("Lantern", 60, 70, (900.0, 1400.0), 1500.0, (20, 30))
    stand_in = StandIn(parse_layers("Moss*2"), 3.5, (3.5, 2.0), (0.12, 0.4), (Notice("new-layering"),))
    sample = Sample("Sallow", parse_layers("Sallow*2"), 2.5, 1.0)
    plan = ReplacePlan(300.0, (need,), 2, 473.0, (stand_in,), (sample,), (step,), (Notice("tests-on-cookies"),))
    match_shop.workers.answers["replace"] = lambda asked: replace(replaced(asked), plan=plan)
    match_shop.window.replace_material("Amber")
    found(match_shop)
    screen = match_shop.window.now
    assert screen.verdict.jars.whole().startswith("Buy 2 jars of 473 ml of Amber today")
    match_shop.qtbot.mouseClick(screen.controls.all_uses, Qt.MouseButton.LeftButton)
    place = match_shop.window.now
    assert place.code == "stand-ins"
    assert place.names == ["Moss ×2"]
    texts = [one.whole() for one in place.findChildren(Words)]
    assert "3.5 at worst" in texts
    assert "ΔE00 3.5, 2.0 at its 2 uses" in texts
    assert any(text.startswith("Keep 240 g of Amber for front of Lantern") for text in texts)
    assert any("Worth a sample: Sallow" in text for text in texts)
    assert place.plan.isEnabled()
