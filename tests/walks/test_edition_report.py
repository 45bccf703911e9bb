"""The report of the demo's drifted edition: on paper and as a table, the same for the same records."""

import csv
import dataclasses
import io

import pypdfium2
import pytest

from demo_tiles.edition_held import EDITION
from swatch import __version__
from swatch.cli.main import run
from swatch.cli.plan_entries import material_plan_entry
from swatch.formats.report_drawing import Text, report_pages, wrapped
from swatch.science.sheet_layout import PAPERS
from swatch.terms.edition_report import ReportRequest
from swatch.terms.problems import StudioProblem
from swatch.terms.sheet import Paper
from swatch.wording.edition_report import report_paper
from swatch.wording.edition_report_out import write_report
from swatch.wording.languages import speak
from swatch.work.edition_report import edition_report


@pytest.fixture(scope="module")
def found(demo_answers):
    return edition_report(demo_answers.folder, ReportRequest(EDITION))


def texts(path):
    document = pypdfium2.PdfDocument(path)
    return [page.get_textpage().get_text_bounded() for page in document]


def test_the_same_records_give_the_same_bytes_on_any_day(found, demo_answers, tmp_path):
    again = edition_report(demo_answers.folder, ReportRequest(EDITION.upper()))
    assert again == found
    for ending in ("pdf", "csv"):
        one, other = tmp_path / f"one.{ending}", tmp_path / f"other.{ending}"
        write_report(found, one)
        write_report(again, other)
        assert one.read_bytes() == other.read_bytes()
    assert found.on == "2026-09-26"  # the last firing's day, whatever day it is now


@pytest.mark.parametrize("paper", [Paper.A4, Paper.LETTER])
def test_it_says_what_counts_first_and_what_has_to_be_said_with_it(found, tmp_path, paper):
    pages = write_report(found, tmp_path / "r.pdf", paper)
    said = texts(tmp_path / "r.pdf")
    assert len(said) == pages
    first = " ".join(said[0].split())
    assert first.startswith(f"{EDITION} ")
    assert "F-20: drifted; probably heat" in first
    assert "Kiln, not your hands" in first
    everything = " ".join(" ".join(said).split())
    headings = ("Where the variation comes from", "Map of the kiln", "Pieces that belong together")
    for words in (*headings, "Does the material last?", "leach test", "simulated editions only", "speckled ones"):
        assert words in everything, words
    for page in said:
        assert f"Swatch {__version__}" in page
        assert "Not a statement about food" in page


def test_nothing_is_drawn_beyond_the_margins(found):
    """Every page's blocks end above its foot, however long the report is."""
    check = found.check
    many = dataclasses.replace(found, check=dataclasses.replace(check, loads=check.loads * 12))
    size = PAPERS[Paper.A4]
    pages = report_pages(report_paper(many), size)
    assert len(pages) > 3
    for page in pages:
        blocks = page.draw.keywords["blocks"]
        at, last = blocks[-1]
        assert at + last.height(size.wide - 36.0) <= size.high - 36.0 - 16.0 + 1e-6
        assert [top for top, _ in blocks] == sorted(top for top, _ in blocks)


def test_the_table_has_every_figure_and_caution(found, tmp_path):
    write_report(found, tmp_path / "r.csv")
    rows = list(csv.DictReader(io.StringIO((tmp_path / "r.csv").read_text(encoding="utf-8-sig"))))
    at = {(row["part"], row["of"], row["figure"]): row["value"] for row in rows}
    assert at["report", EDITION, "version"] == __version__
    assert at["load", "F-20", "verdict"] == "drifted"
    assert float(at["cause", "F-20", "heat share"]) > 0.7
    assert at["edition", EDITION, "planned"] == "120"
    assert at["edition", EDITION, "good"] == "66"
    assert at["edition", EDITION, "fired"] == "83"
    assert sum(row["part"] == "caution" for row in rows) >= 4
    assert sum(row["part"] == "piece" and row["figure"] == "verdict" for row in rows) == 18


def test_one_load_alone(demo_answers):
    load = edition_report(demo_answers.folder, ReportRequest(EDITION, firing="f-19"))
    assert load.firing == "F-19"
    assert [one.firing for one in load.check.loads] == ["F-19"]
    assert {piece.firing for piece in load.check.pieces} == {"F-19"}
    assert load.plan is None
    with pytest.raises(StudioProblem, match="no-such-load"):
        edition_report(demo_answers.folder, ReportRequest(EDITION, firing="F-99"))


def test_an_edition_without_pieces_gets_its_material_only(demo_answers):
    bare = edition_report(demo_answers.folder, ReportRequest("Eavesline wall vase", on="2026-09-26"))
    assert bare.check is None
    assert bare.plan is not None
    assert "No piece of it has been measured yet." in [
        block.text for block in report_paper(bare).blocks if isinstance(block, Text)
    ]


def test_the_commands(demo_answers, tmp_path, capsys):
    folder = str(demo_answers.folder)
    out = str(tmp_path / "r.pdf")
    assert run(["report", "--edition", EDITION, "--studio", folder, "--out", out, "--json"], lambda _: 0) == 0
    assert '"pages": 3' in capsys.readouterr().out
    assert run(["report", "--edition", EDITION, "--studio", folder, "--out", "r.doc"], lambda _: 0) == 3
    assert ".pdf, .csv" in capsys.readouterr().err
    words = ["edition", "--edition", "Eavesline wall vase", "--studio", folder, "--on", "2026-09-26"]
    assert run(words, lambda _: 0) == 0
    said = capsys.readouterr().out
    assert "plan on 4" in said
    assert "can no longer be had" in said
    with pytest.raises(StudioProblem, match="unknown-edition"):
        edition_report(demo_answers.folder, ReportRequest("No such"))
    plan = edition_report(demo_answers.folder, ReportRequest("Eavesline wall vase", on="2026-09-26")).plan
    entry = material_plan_entry(plan)
    assert {"edition", "materials"} <= set(entry)
    public = {"material", "need_g", "left_g", "pieces_possible", "runs_out"}
    assert all(public <= set(one) for one in entry["materials"])


def test_lines_are_broken_where_they_are_as_wide_as_the_paper():
    speak("en")
    lines = wrapped("one two three four five six", 3.5, 20.0)
    assert " ".join(lines) == "one two three four five six"
    assert len(lines) > 1
    assert wrapped("", 3.5, 20.0) == [""]
