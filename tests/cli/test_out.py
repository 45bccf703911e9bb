"""What a command says goes to the right place, in one of two ways."""

from __future__ import annotations

import io
import json
import sys

import pytest

from swatch.cli.out import DONE, IN_PART, NOTHING, Out
from swatch.cli.suggestions import Suggesting, say_cautions
from swatch.terms.answers import Basis, Grounds, Prediction, Question, Suggestion
from swatch.terms.colour import Covariance, Lab
from swatch.terms.cone import Cone
from swatch.terms.layering import parse_layers
from swatch.terms.problems import Notice, Where
from swatch.terms.problems.files import ManyProblems, bad_cone


def test_for_scripts_one_object_and_nothing_else(capsys):
    out = Out(as_json=True)
    out.line("for people")
    out.table(["a"], [["b"]])
    out.entry["colour"] = "Café"
    assert out.finish(used=True) == DONE
    said = capsys.readouterr()
    assert json.loads(said.out) == {"colour": "Café"}
    assert said.out.count("\n") == 1
    assert said.err == ""


@pytest.mark.parametrize(("used", "status"), [(True, IN_PART), (False, NOTHING)])
def test_problems_are_said_on_standard_error_and_kept_for_the_object(used, status, capsys):
    out = Out(as_json=True)
    where = Where(file="t.csv")
    out.problem(ManyProblems([bad_cone("O6").at(where), bad_cone("6.0").at(Where("t.csv", 4))]))
    assert out.finish(used=used) == status
    said = capsys.readouterr()
    problems = json.loads(said.out)["problems"]
    assert [problem["where"] for problem in problems] == [{"file": "t.csv"}, {"file": "t.csv", "row": 4}]
    assert [line.split(": ")[1] for line in said.err.splitlines()] == ["t.csv", "t.csv, row 4"]


def test_a_warning_is_said_and_is_no_problem(capsys):
    out = Out(as_json=False)
    out.notice(Notice("no-rows", where=Where(file="b.csv")))
    out.line("a\u202eb")
    assert out.finish(used=True) == DONE
    said = capsys.readouterr()
    assert said.err.startswith("swatch: b.csv: ")
    assert said.out == "a\\u202eb\n"


def test_what_is_no_number_is_never_printed():
    out = Out(as_json=True)
    out.entry["de00"] = float("nan")
    with pytest.raises(ValueError, match="JSON"):
        out.finish(used=True)


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_progress_shows_on_a_terminal_and_is_wiped_away(monkeypatch):
    terminal = Terminal()
    monkeypatch.setattr(sys, "stderr", terminal)
    with Out(as_json=False).progress("measure") as report:
        report(1, 3, "photos")
        shown = terminal.getvalue()
    assert "1 of 3 photos" in shown
    last = terminal.getvalue().split("\r")
    assert (last[-1], last[-2].strip()) == ("", "")


def test_progress_is_silent_elsewhere(capsys):
    with Out(as_json=False).progress("measure") as report:
        report(1, 3, "photos")
    assert capsys.readouterr().err == ""


def suggestion(layers: str, caution: str) -> Suggestion:
    question = Question(parse_layers(layers), "Pale", Cone(6.0))
    prediction = Prediction(
        question, Lab(57.4, -21.6, 13.8), Covariance(1.44, 0, 0, 4, 0, 9), Grounds(2, 9, Basis.OWN_TILES),
        (Notice(caution),),
    )  # fmt: skip
    return Suggestion(prediction, 2.6, (1.5, 3.9), 0.31, 2.0)


def test_suggestions_are_numbered_through_with_the_doubt_beside_every_colour(capsys):
    out = Out(as_json=False)
    suggesting = Suggesting(out)
    suggesting.table(Lab(57.4, -23.5, 12), [suggestion("Rill*2", "no-rows"), suggestion("Rill", "no-rows")])
    suggesting.table(Lab(57.4, -21.6, 13.8), [suggestion("Tarn", "no-rows")])
    suggesting.notes()
    out.finish(used=True)
    lines = capsys.readouterr().out.splitlines()
    assert "57.4 ±1.2" in lines[1]
    assert "−21.6 ±2.0" in lines[1]
    assert "1.5–3.9" in lines[1]
    assert "31 %" in lines[1]
    assert lines[3] == "1: Redder by 1.9, yellower by 1.8."
    assert lines[5].lstrip().startswith("3")
    assert [line[:6] for line in lines if line.startswith("!")] == ["! all:"]


def test_each_caution_is_said_once_with_its_rows(capsys):
    out = Out(as_json=False)
    first, second = Notice("no-rows"), Notice("columns-not-used", {"columns": "x", "count": 1})
    say_cautions(out, [[first], [first, second], [first], [], [first]])
    out.finish(used=True)
    heads = [line.split(":")[0] for line in capsys.readouterr().out.splitlines() if line.startswith("!")]
    assert heads == ["! 1–3, 5", "! 2"]
