"""Witness buttons for the next load of the demo's second edition: planned, proposed with a check, printed."""

import pypdfium2
import pytest

from demo_tiles import edition_held
from swatch.cli.buttons_command import shelves_word
from swatch.cli.main import run
from swatch.library.studio import Studio
from swatch.terms.buttons import ButtonRequest
from swatch.terms.layering import format_layers
from swatch.wording.button_plan import buttons_paper, next_load_in_words, steps_in_words
from swatch.wording.edition_report_out import write_paper
from swatch.work.button_plan import button_plan, planned


def test_every_check_proposes_them_with_the_stripes_there_are(demo_answers):
    plan = demo_answers.check.next_load
    assert plan.as_before
    assert plan.kept_known
    assert [(one.stripe, format_layers(one.layers)) for one in plan.stripes] == list(edition_held.STRIPES)
    assert [one.covered for one in plan.stripes] == [True] * 4 + [False] * 2
    with Studio.look(demo_answers.folder) as studio:
        last = max(int(one.name.removeprefix("F-")) for one in studio.firings())
    assert plan.firing == f"F-{last + 1}"
    assert [one.mark for one in plan.buttons] == [f"{plan.firing} {one}" for one in ("top", "middle", "bottom")]
    assert plan.sd_cones == pytest.approx(0.10, abs=0.04)  # by the ladder of three firings, not the model alone
    assert f"{plan.firing} middle" in next_load_in_words(plan)


def test_stripes_chosen_anew_stand_the_cone_and_half_of_them_are_covered(demo_answers):
    request = ButtonRequest(edition_held.EDITION, "G-1", ("low", "high"), anew=True)
    plan = button_plan(demo_answers.folder, request)
    assert not plan.as_before
    assert [one.covered for one in plan.stripes] == [True] * 4 + [False] * 2
    with Studio.look(demo_answers.folder) as studio:
        stock = {one.name: one for one in studio.materials()}
    for stripe in plan.stripes:
        for layer in stripe.layers:
            one = stock[layer.material]
            assert one.kind in ("underglaze", "clear")
            assert one.cone_from.position <= 6.0 <= one.cone_to.position
    assert [one.mark for one in plan.buttons] == ["G-1 low", "G-1 high"]


def test_before_anything_is_fired_it_says_what_is_not_known(demo_answers):
    with Studio.look(demo_answers.folder) as studio:
        regions = [one for one in studio.editions() if one.edition == edition_held.EDITION]
        evidence = studio.evidence()
    plan = planned(ButtonRequest(edition_held.EDITION), regions, evidence, (), (), None)
    codes = {notice.code for notice in plan.notices}
    assert {"stripes-not-known", "keep-one-button", "ladder-first", "no-approved-piece-yet"} <= codes
    assert len(plan.stripes) == 6
    assert [one.shelf for one in plan.buttons] == ["top", "middle", "bottom"]
    assert "never fire it again" in " ".join(steps_in_words(plan))


def test_the_plan_on_paper_is_one_page_and_the_same_each_time(demo_answers, tmp_path):
    plan = demo_answers.check.next_load
    for name in ("a.pdf", "b.pdf"):
        assert write_paper(buttons_paper(plan), tmp_path / name) == 1
    assert (tmp_path / "a.pdf").read_bytes() == (tmp_path / "b.pdf").read_bytes()
    said = " ".join(pypdfium2.PdfDocument(tmp_path / "a.pdf")[0].get_textpage().get_text_bounded().split())
    for words in (f"Witness buttons for {plan.firing}", "Haywain ochre*2 > Plainpane clear*2",
                  f"{plan.firing} bottom", "respirator"):  # fmt: skip
        assert words in said


def test_words_of_the_call(demo_answers, capsys, tmp_path):
    assert shelves_word("top,  middle shelf ,bottom") == ("top", "middle shelf", "bottom")
    folder, out = str(demo_answers.folder), str(tmp_path / "b.pdf")
    words = ["buttons", "--edition", edition_held.EDITION, "--studio", folder, "--firing", "F-99"]
    assert run([*words, "--shelves", "top,top"], lambda _: 0) == 2
    capsys.readouterr()
    assert run([*words, "--out", out, "--json"], lambda _: 0) == 0
    assert '"mark": "F-99 top"' in capsys.readouterr().out
