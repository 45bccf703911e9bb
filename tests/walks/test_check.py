"""The demo's second edition, whose last firing was 0.9 cones hot: imported, checked, and found out."""

import json

import pytest

from demo_tiles import edition_held
from swatch.library.studio import Studio
from swatch.resources import demo_tiles
from swatch.terms.holding import CheckRequest, LoadVerdict, PieceVerdict
from swatch.terms.problems import StudioProblem
from swatch.wording.holding import causes_in_words, next_step_in_words
from swatch.work.check import check
from swatch.work.learn import learnt
from swatch.work.loads import gather

EDITION = edition_held.EDITION


def test_tables_are_what_would_be_written_today():
    for name, data in edition_held.tables().items():
        assert (demo_tiles() / name).read_bytes() == data, name


def test_the_hot_firing_is_found_and_called_one(demo_answers):
    answer = demo_answers.check
    assert (answer.approved, answer.approved_firings) == (20, 4)
    assert [load.verdict for load in answer.loads] == [LoadVerdict.HOLDS, LoadVerdict.HOLDS, LoadVerdict.DRIFTED]
    hot = answer.loads[-1]
    assert "heat" in hot.alarms
    assert hot.heat_from == "buttons"
    assert hot.heat_cones == pytest.approx(0.9, abs=0.3)
    assert hot.causes[0].code == "heat"
    assert hot.causes[0].share > 0.7
    assert sum(cause.share for cause in hot.causes) == pytest.approx(1.0)
    assert "heat" in causes_in_words(hot.causes)
    assert "Kiln" in next_step_in_words(hot)


def test_its_pieces_are_sorted_and_its_kiln_is_told_of(demo_answers):
    answer = demo_answers.check
    assert len(answer.pieces) == 18
    assert {one.verdict for one in answer.pieces} <= set(PieceVerdict)
    paired = [piece for one in answer.sets for piece in one] + list(answer.held_back)
    assert sorted(paired) == sorted(one.piece for one in answer.pieces)
    assert len(answer.sets_de00) == len(answer.sets)
    assert all(0 < apart < 4 for apart in answer.sets_de00)
    heat = {place.shelf: place.heat_cones for place in answer.kiln_map}
    assert heat["bottom"] < heat["top"]
    charts = {chart.name: chart for chart in answer.charts}
    assert charts["heat"].points[-1] > charts["heat"].upper
    assert answer.variance.within is not None


def _without(demo_answers, *, kept=True, buttons=True, approved=True):
    from swatch.work import check as work

    request = CheckRequest(EDITION)
    with Studio.look(demo_answers.folder) as studio:
        evidence = studio.evidence()
        regions = [one for one in studio.editions() if one.edition == EDITION]
        pieces = [one for one in studio.pieces() if kept or one.reading == 1]
        pieces = [one for one in pieces if approved or one.role != "approved" or one.firing in ("F-14", "F-15")]
        known = studio.buttons() if buttons else ()
    gathered = gather(pieces, evidence.firings)
    return work.checked(request, regions, gathered, evidence, known, learnt(demo_answers.folder))


def test_without_kept_piece_and_buttons_the_verdict_says_what_is_missing(demo_answers):
    answer = _without(demo_answers, kept=False, buttons=False)
    for load in answer.loads:
        assert load.verdict in (LoadVerdict.TOO_FEW, LoadVerdict.KILN_OR_CAMERA)
        assert {"no-kept-piece", "no-buttons"} <= {notice.code for notice in load.missing}


def test_with_approved_pieces_of_two_firings_nothing_is_judged(demo_answers):
    answer = _without(demo_answers, approved=False)
    assert answer.approved_firings == 2
    for load in answer.loads:
        assert load.verdict is LoadVerdict.TOO_FEW
        told = next(notice for notice in load.missing if notice.code == "approved-too-few")
        assert told.facts["more_firings"] == 1
    assert all(piece.verdict is PieceVerdict.DOUBTFUL for piece in answer.pieces)


def test_a_tolerance_that_cannot_be_supported_is_said(demo_answers):
    answer = check(demo_answers.folder, CheckRequest(EDITION, tolerance=0.8))
    codes = {notice.code for load in answer.loads for notice in load.missing}
    assert codes & {"tolerance-needs-pieces", "tolerance-too-tight"}
    assert all(load.verdict is not LoadVerdict.HOLDS for load in answer.loads)


def test_unknown_and_unmeasured_editions_are_refused(demo_answers):
    with pytest.raises(StudioProblem, match="unknown-edition"):
        check(demo_answers.folder, CheckRequest("Nothing"))
    with pytest.raises(StudioProblem, match="nothing-measured"):
        check(demo_answers.folder, CheckRequest("Eavesline wall vase"))


def test_the_command_prints_the_public_object(demo_answers, capsys):
    from swatch.cli.main import run

    assert run(["check", "--edition", EDITION, "--studio", str(demo_answers.folder), "--json"], lambda _: 0) == 0
    said = json.loads(capsys.readouterr().out)
    assert {"edition", "approved", "approved_firings", "loads", "pieces", "sets", "variance"} <= set(said)
    assert said["loads"][-1]["verdict"] == "drifted"
    assert said["loads"][-1]["likely_cause"][0]["code"] == "heat"
    assert run(["check", "--edition", EDITION, "--studio", str(demo_answers.folder)], lambda _: 0) == 0
    told = capsys.readouterr().out
    for words in ("probably heat", "Where the variation comes from: between firings", "bottom", "Next load: "):
        assert words in told


def test_a_tolerance_that_can_mostly_not_be_promised_is_said_when_it_is_chosen(tmp_path):
    from swatch.work.bring_in import bring_in

    table = tmp_path / "editions.csv"
    table.write_text("edition,region,tolerance\nShore,in,2\nShore,out,2\nReef,in,4\n")
    (one,) = bring_in(tmp_path / "studio", {"editions": table}).files
    said = [(notice.code, notice.where.row) for notice in one.notices]
    assert said == [("tolerance-rarely-supported", 2)]
