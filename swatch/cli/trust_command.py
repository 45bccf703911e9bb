"""``swatch trust``: how far off it has been, and which tiles do not fit the others."""

from __future__ import annotations

import argparse

from swatch.cli.entries import trust_entry
from swatch.cli.out import Out
from swatch.cli.studio_folder import folder_of, remember
from swatch.cli.working import in_a_worker
from swatch.terms.answers import TrustAnswer
from swatch.wording.numbers import number_in_words, share_in_words
from swatch.wording.text import _, say
from swatch.wording.trust import outlier_in_words, trust_in_words, trust_note, trust_question_in_words

HELP = "say how far off predictions have been, by kind of question, and which tiles do not fit the others"
EXAMPLE = "swatch trust --studio shed"


def add_words(parser: argparse.ArgumentParser) -> None:
    """Say which words the command takes: none of its own."""


def run(args: argparse.Namespace, out: Out) -> int:
    """Do it and give the exit status."""
    folder = folder_of(args)
    with out.progress("trust") as report:
        answer: TrustAnswer = in_a_worker("trust", {"folder": folder}, report)
    remember(folder)
    out.entry |= trust_entry(answer)
    say_trust(out, answer)
    return out.finish(used=True)


def say_trust(out: Out, answer: TrustAnswer) -> None:
    """Say for people how far predictions can be trusted."""
    header = [
        *(say(_("asked for")), say(_("tiles")), say(_("ΔE00 median")), say(_("90 % under"))),
        *(say(_("nearest tile")), say(_("mean shift")), say(_("likeness alone"))),
        *(say(_("80 % range held")), say(_("95 % range held"))),
    ]
    rows = [
        [
            trust_question_in_words(line),
            str(line.n),
            *(number_in_words(v) for v in (line.median_de00, line.p90_de00)),
            *(number_in_words(v) for v in (line.nearest_tile_median, line.mean_shift_median)),
            number_in_words(line.likeness_median),
            *(share_in_words(v) for v in (line.covers_80, line.covers_95)),
        ]
        for line in answer.questions
    ]
    if rows:
        out.table(header, rows, numbers=range(1, len(header)))
    out.line(trust_in_words(answer.questions))
    out.line(say(_("Learnt from {n} readings of own tiles.")).format(n=answer.learnt_from))
    out.line(trust_note())
    for outlier in answer.outliers:
        out.line(f"! {outlier_in_words(outlier)}")
