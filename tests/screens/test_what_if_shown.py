"""What if: a layering from Match changed by drag and keys, its colour following, and a tile of it planned."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication
from small_studio import DOUBT, match_answer

from swatch.terms.answers import Basis, Grounds, Prediction, Suggestion
from swatch.terms.colour import Lab
from swatch.terms.cone import Cone
from swatch.terms.layering import format_layers
from swatch.terms.trial import Aside, OneStep, OwnTile, WhatIfAnswer

TARGET = Lab(40.0, -15.0, 12.0)


def answered(asked):
    """A colour that tells its question: the lightness is the number of coats."""
    request = asked["request"]
    question = request.question
    coats = sum(layer.coats for layer in question.layers)
    said = Prediction(question, Lab(coats, 0.0, 0.0), DOUBT, Grounds(0, 3, Basis.OWN_MATERIALS))
    near = Suggestion(said, 3.0, (1.0, 5.0), 0.3, request.tolerance) if request.target is not None else None
    from dataclasses import replace

    hotter = OneStep(Aside.HOTTER, replace(question, cone=Cone(6.5)), Lab(coats + 1.0, 0.0, 0.0))
    nearest = OwnTile("T1", "A", question.layers, Lab(40.0, -20.0, 15.0), 4.4)
    return WhatIfAnswer(request, said, near, nearest, (hotter,) if request.asides else (), 4)


@pytest.fixture
def trial(small_shop):
    shop = small_shop
    shop.workers.answers["match"] = lambda asked: match_answer(asked["request"], "Moss*2 > Amber")
    shop.workers.answers["trial"] = answered
    screen = shop.place("match")
    shop.desks.matching.want_colour(TARGET, "typed")
    shop.qtbot.waitUntil(lambda: bool(shop.desks.matching.suggestions), timeout=15_000)
    QApplication.processEvents()
    shop.qtbot.mouseClick(screen.trial, Qt.MouseButton.LeftButton)
    assert shop.window.now.code == "what-if"
    follows(shop)
    return shop


def follows(shop):
    shop.qtbot.waitUntil(lambda: shop.desks.what_if.fresh, timeout=15_000)
    QApplication.processEvents()


def layers(shop):
    return format_layers(shop.desks.what_if.held.layers)


def test_the_chosen_layering_and_its_target_are_taken_in_hand(trial):
    held, screen = trial.desks.what_if.held, trial.window.now
    assert (layers(trial), held.target, held.cone) == ("Moss*2 > Amber", TARGET, Cone(6.0))
    said = screen.bench.accessibleDescription()
    assert said.startswith("Mean: L* 3.0")
    assert "Nearest own tile T1 A" in said
    assert "4.4 away" in screen.tile.text()
    assert screen.sure.isVisible()


def test_layers_move_by_keys_and_the_colour_follows(trial):
    screen = trial.window.now
    top = screen.stack.rows[1]
    trial.qtbot.keyClick(top.handle, Qt.Key.Key_Down)
    assert layers(trial) == "Amber > Moss*2"
    assert screen.stack.rows[0].handle.hasFocus()  # the keyboard stays with the layer
    trial.qtbot.keyClick(screen.stack.rows[1].coats, Qt.Key.Key_Right)
    assert layers(trial) == "Amber > Moss*2.5"
    follows(trial)
    assert trial.desks.what_if.said.lab == Lab(3.5, 0.0, 0.0)
    assert trial.desks.undoing.undo_name == "Change Moss"
    trial.desks.undoing.undo()
    trial.desks.undoing.undo()
    assert layers(trial) == "Moss*2 > Amber"
    screen.stack.more.chosen.emit("Moss")
    trial.qtbot.mouseClick(screen.stack.rows[0].off, Qt.MouseButton.LeftButton)
    assert layers(trial) == "Amber > Moss"
    follows(trial)


def test_a_layer_dragged_by_its_handle_is_one_step(trial):
    screen = trial.window.now
    handle = screen.stack.rows[0].handle  # innermost: dragged up, outward
    trial.qtbot.mousePress(handle, Qt.MouseButton.LeftButton, pos=QPoint(14, 20))
    trial.qtbot.mouseMove(handle, QPoint(14, -60))
    trial.qtbot.mouseRelease(handle, Qt.MouseButton.LeftButton, pos=QPoint(14, -60))
    assert layers(trial) == "Amber > Moss*2"
    assert trial.desks.what_if.steps.count() == 1
    trial.desks.undoing.undo()
    assert layers(trial) == "Moss*2 > Amber"


def test_while_an_answer_is_awaited_only_the_newest_question_waits(trial):
    told = trial.workers
    told.let_go.clear()
    before = len(told.asked)
    coats = trial.window.now.stack.rows[0].coats
    for value in (5, 6, 7, 8):
        coats.setValue(value)
    assert len(told.asked) <= before + 1
    told.let_go.set()
    follows(trial)
    asked = [one["request"].question for name, one in told.asked[before:] if name == "trial"]
    assert asked[-1].layers[0].coats == 4.0
    assert len([one for one in asked if one.layers[0].coats in (3.0, 3.5)]) == 0


def test_a_step_away_is_taken_and_a_tile_planned(trial):
    screen = trial.window.now
    trial.qtbot.waitUntil(lambda: len(screen.steps) == 1, timeout=15_000)
    (hotter,) = screen.steps
    assert hotter.accessibleName() == "half a cone hotter"
    trial.qtbot.keyClick(hotter, Qt.Key.Key_Space)
    assert trial.desks.what_if.held.cone == Cone(6.5)
    assert screen.cone.accessibleDescription() == "cone 6½"
    follows(trial)
    trial.qtbot.mouseClick(screen.plan, Qt.MouseButton.LeftButton)
    assert trial.window.now.code == "papers"
    (board,) = trial.desks.printing.boards()
    assert (board.name, board.cone, len(board.tiles)) == ("F-2", Cone(6.5), 1)
    trial.qtbot.waitUntil(lambda: bool(trial.desks.printing.pages), timeout=20_000)
