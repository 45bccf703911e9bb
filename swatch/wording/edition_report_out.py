"""Writes a report as the ending of its file says."""

from __future__ import annotations

from pathlib import Path

from swatch.formats.csv_text import write_sheet
from swatch.formats.drawing import PrintPage
from swatch.formats.report_drawing import ReportPaper, report_pages
from swatch.terms.edition_report import EditionReport
from swatch.terms.problems import Where
from swatch.terms.problems.files import unknown_ending
from swatch.terms.sheet import Paper
from swatch.wording.edition_report import report_paper
from swatch.wording.edition_report_rows import HEADER, report_rows
from swatch.work.files import write_file
from swatch.work.printed import write_pages


def drawn_report(report: EditionReport, paper: Paper = Paper.A4) -> tuple[PrintPage, ...]:
    """The report's pages, ready for any pen."""
    from swatch.science.sheet_layout import PAPERS

    return report_pages(report_paper(report), PAPERS[paper])


def check_ending(out: Path) -> None:
    """Look that a report can be written there, before it is gathered.

    Raises
    ------
    StudioProblem
        ``unknown-ending``.
    """
    if out.suffix.lower() not in (".pdf", ".csv"):
        raise unknown_ending(out.name, ".pdf, .csv").at(Where(file=str(out)))


def write_report(report: EditionReport, out: Path, paper: Paper = Paper.A4) -> int | None:
    """Write a report; the same report gives the same bytes. Gives the pages of a PDF, None of a table.

    Raises
    ------
    StudioProblem
        ``unknown-ending`` or ``file-not-written``.
    """
    check_ending(out)
    if out.suffix.lower() == ".csv":
        write_file(out, write_sheet(HEADER, report_rows(report)))
        return None
    return write_paper(report_paper(report), out, paper)


def write_paper(paper: ReportPaper, out: Path, size: Paper = Paper.A4) -> int:
    """Write anything laid out as a report is; gives its pages.

    Raises
    ------
    StudioProblem
        ``unknown-ending`` or ``file-not-written``.
    """
    from swatch.science.sheet_layout import PAPERS

    pages = report_pages(paper, PAPERS[size])
    write_pages(pages, paper.title, out)
    return len(pages)
