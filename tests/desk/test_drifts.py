"""A load that drifted is said by Next without anybody opening the edition."""

from __future__ import annotations

import pytest
from small_studio import ToldWorkers, make_studio

from swatch.desk.desks import Desks
from swatch.desk.jobs import Jobs
from swatch.desk.settings import Settings
from swatch.terms.colour import Covariance, Lab
from swatch.terms.editions import PieceReading
from swatch.terms.holding import CheckAnswer, LikelyCause, LoadCheck, LoadVerdict
from swatch.terms.problems import StudioProblem

DOUBT = Covariance(1.0, 0.0, 0.0, 1.0, 0.0, 1.0)


def checked(asked):
    heat = (LikelyCause("heat", 0.8, "cone", 0.9),)
    load = LoadCheck(
        "F-1", None, 6, 3.0, 40.0, 30.0, LoadVerdict.DRIFTED, ("heat",), Lab(-2, 0, 0), (), heat, 0.1, 2.0
    )
    return CheckAnswer(asked["request"].edition, 3.5, True, 12, 3, ("outside",), (load,))


@pytest.fixture
def desks(qtbot, tmp_path):
    workers = ToldWorkers()
    workers.answers["check"] = checked
    made = Desks(Settings(), Jobs(workers=workers))
    made.workers = workers
    bugs = []
    made.jobs.bug.connect(bugs.append)
    assert made.studio.open(make_studio(tmp_path / "studio"))
    pieces = [PieceReading("Lid", f"L{n}", "outside", Lab(50, 0, 0), DOUBT, firing="F-1") for n in range(3)]
    made.studio.do(lambda one: one.put_pieces(pieces, frozenset({"firing"})))
    yield made
    made.close()
    assert bugs == []


def asked(desks):
    return [name for name, _request in desks.workers.asked if name == "check"]


def test_next_says_that_a_load_drifted_and_why(desks, qtbot):
    desks.drifts.look()
    qtbot.waitUntil(lambda: bool(desks.drifts.loads))
    (thing,) = [one for one in desks.next.things if one.act == "editions"]
    assert thing.title == "Lid: F-1 drifted: darker."
    assert thing.why.startswith("Probably heat: 0.80 cones hotter (90 %). Kiln, not your hands")
    assert thing.about == "Lid"


def test_what_is_as_it_was_is_not_checked_again(desks, qtbot):
    desks.drifts.look()
    qtbot.waitUntil(lambda: bool(desks.drifts.loads) and desks.drifts._job is None)
    desks.drifts.look()
    assert asked(desks) == ["check"]
    more = PieceReading("Lid", "L9", "outside", Lab(50, 0, 0), DOUBT, firing="F-1")
    desks.studio.do(lambda one: one.put_pieces([more], frozenset({"firing"})))
    desks.drifts.look()
    qtbot.waitUntil(lambda: len(asked(desks)) == 2)


def test_an_edition_that_cannot_be_checked_is_passed_over(desks, qtbot):
    desks.workers.answers["check"] = StudioProblem("nothing-measured", name="Lid")
    desks.drifts.look()
    qtbot.waitUntil(lambda: asked(desks) == ["check"] and desks.drifts._job is None)
    assert desks.drifts.loads == {}
