from dataclasses import replace

import pytest
from small_studio import ToldWorkers, make_studio, match_answer

from swatch.desk.jobs import Jobs
from swatch.desk.matching import Matching
from swatch.desk.opening import OpenStudio
from swatch.desk.settings import Settings
from swatch.terms.answers import ReplaceAnswer
from swatch.terms.colour import Lab
from swatch.terms.materials import Status
from swatch.terms.problems import StudioProblem

TARGET = Lab(40.0, -15.0, 12.0)


@pytest.fixture
def desk(qtbot, tmp_path):
    workers = ToldWorkers()
    workers.answers["match"] = lambda asked: match_answer(asked["request"], "Moss*2", "Moss > Amber")
    jobs = Jobs(workers=workers)
    studio = OpenStudio(Settings())
    matching = Matching(studio, jobs)
    assert studio.open(make_studio(tmp_path / "studio"))
    matching.told, matching.studio = workers, studio
    yield matching
    jobs.close()
    studio.close()


def found(qtbot, matching):
    qtbot.waitUntil(lambda: bool(matching.suggestions) and not matching.looking, timeout=5000)


def test_a_target_is_looked_for_at_once(desk, qtbot):
    desk.want_colour(TARGET, "typed")
    found(qtbot, desk)
    assert [desk.rows.row(n).name for n in range(desk.rows.rowCount())] == ["Moss ×2", "Moss › Amber"]
    assert desk.chosen_row == 0


def test_an_answer_never_outlives_its_question(desk, qtbot):
    desk.want_colour(TARGET, "typed")
    found(qtbot, desk)
    desk.told.let_go.clear()
    desk.want("Tolerance 3.0", tolerance=3.0)
    assert desk.suggestions == ()
    assert desk.rows.rowCount() == 0
    qtbot.waitUntil(lambda: len(desk.told.asked) == 2, timeout=5000)
    desk.want("Tolerance 4.0", tolerance=4.0)  # while the search under 3.0 is still running
    desk.told.let_go.set()
    found(qtbot, desk)
    assert desk.answer.request.tolerance == 4.0


def test_limits_are_taken_back_by_name(desk, qtbot):
    desk.want_colour(TARGET, "typed")
    desk.want("Tolerance 3.0", tolerance=3.0)
    assert desk.steps.undoText() == "Tolerance 3.0"
    desk.steps.undo()
    assert desk.wanted.tolerance == 2.0
    desk.steps.redo()
    assert desk.wanted.tolerance == 3.0
    found(qtbot, desk)
    assert desk.answer.request.tolerance == 3.0


def test_what_rested_on_other_records_is_looked_for_again(desk, qtbot):
    desk.want_colour(TARGET, "typed")
    found(qtbot, desk)
    desk.studio.do(lambda studio: studio.set_status("Amber", Status.DISCONTINUED))
    assert desk.suggestions == ()
    found(qtbot, desk)
    assert len(desk.told.asked) == 2


def test_a_problem_is_shown_and_gone_with_the_next_question(desk, qtbot):
    desk.told.answers["match"] = StudioProblem("too-few-tiles")
    desk.want_colour(TARGET, "typed")
    qtbot.waitUntil(lambda: desk.problem is not None, timeout=5000)
    assert desk.suggestions == ()
    desk.told.answers["match"] = lambda asked: match_answer(asked["request"], "Moss")
    desk.want("At most 2 coats", max_coats=2)
    assert desk.problem is None
    found(qtbot, desk)


def test_a_material_without_uses_says_so(desk, qtbot):
    desk.told.answers["replace"] = ReplaceAnswer("Amber", (), 0, 0.1, 4)
    desk.want_replacement("Amber")
    qtbot.waitUntil(lambda: desk.answer is not None, timeout=5000)
    assert desk.uses == ()
    assert desk.use is None


def test_cancelling_leaves_nothing_under_way(desk, qtbot):
    desk.told.let_go.clear()
    desk.want_colour(TARGET, "typed")
    qtbot.waitUntil(lambda: bool(desk.told.asked), timeout=5000)
    desk.stop()
    assert not desk.looking
    assert desk.suggestions == ()


def _hasty(asked):
    name = "Moss" if asked["in_haste"] else "Amber"
    return replace(match_answer(asked["request"], name), provisional=asked["in_haste"])


def test_an_answer_in_haste_is_shown_as_such_until_the_full_one_is_there(desk, qtbot):
    desk.told.answers["match"] = _hasty
    shown = []
    desk.found_changed.connect(lambda: shown.append((desk.provisional, len(desk.suggestions))))
    desk.want_colour(TARGET, "typed")
    qtbot.waitUntil(lambda: len(desk.told.asked) == 2 and not desk.looking, timeout=5000)
    assert (True, 1) in shown
    assert not desk.provisional
    assert desk.rows.row(0).name == "Amber"
    assert [request["in_haste"] for _name, request in desk.told.asked] == [True, False]


def test_where_the_full_answer_fails_it_is_not_asked_for_again_and_again(desk, qtbot):
    def answer(asked):
        if asked["in_haste"]:
            return _hasty(asked)
        raise StudioProblem("nothing-fired")

    desk.told.answers["match"] = answer
    desk.want_colour(TARGET, "typed")
    qtbot.waitUntil(lambda: desk.problem is not None and not desk.looking, timeout=5000)
    assert len(desk.told.asked) == 2
