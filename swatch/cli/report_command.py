"""``swatch report``: an edition or one load of it on paper, or as a table."""

from __future__ import annotations

import argparse
from pathlib import Path

from swatch.cli.out import Out
from swatch.cli.studio_folder import folder_of, remember
from swatch.cli.words import day_word, name_word, number_in, whole_in
from swatch.cli.working import in_a_worker
from swatch.terms.edition_report import EditionReport, ReportRequest
from swatch.terms.sheet import Paper
from swatch.wording.text import _, say

HELP = "report of an edition or of one load, as PDF or CSV"
EXAMPLE = 'swatch report --edition "Shore mugs" --out shore.pdf'


def add_words(parser: argparse.ArgumentParser) -> None:
    """Say which words the command takes."""
    parser.add_argument("--edition", type=name_word, metavar="E", required=True, help="the edition")
    parser.add_argument("--firing", type=name_word, metavar="F", help="only this load")
    parser.add_argument("--out", metavar="FILE", required=True, help="F.pdf or F.csv")
    parser.add_argument("--on", type=day_word, metavar="DAY", help="as of (default: last day on record)")
    parser.add_argument("--tolerance", type=number_in(0.1, 50), metavar="DE", help="ΔE00 instead of the edition's")
    parser.add_argument("--set-size", type=whole_in(2, 12), metavar="N", default=2, help="pieces of a set (2)")
    parser.add_argument(
        "--hold-back", type=whole_in(0, 10_000), metavar="N", default=0, help="keep out of the sets"
    )
    parser.add_argument("--paper", choices=[str(paper) for paper in Paper], default=str(Paper.A4), help="(A4)")


def run(args: argparse.Namespace, out: Out) -> int:
    """Do it and give the exit status."""
    from swatch.wording.edition_report_out import check_ending, write_report

    check_ending(Path(args.out))
    folder = folder_of(args)
    request = ReportRequest(
        args.edition, args.firing or "", args.on or "", args.tolerance, args.set_size, args.hold_back
    )
    with out.progress("report") as report:
        found: EditionReport = in_a_worker("edition report", {"folder": folder, "request": request}, report)
    remember(folder)
    pages = write_report(found, Path(args.out), Paper(args.paper))
    out.entry |= {
        "edition": found.edition, "firing": found.firing or None, "on": found.on, "version": found.version,
        "out": args.out, "pages": pages,
    }  # fmt: skip
    text = _("Report of {edition}, as of {day}, written to {file}.")
    out.line(say(text).format(edition=found.edition, day=found.on or "–", file=args.out))
    return out.finish(used=True)
