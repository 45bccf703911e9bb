"""``swatch demo``: builds the invented demo studio from its photos and prints its answers."""

from __future__ import annotations

import argparse
import time
from pathlib import Path
from typing import TYPE_CHECKING, Any

from swatch.cli.check_command import say_check
from swatch.cli.entries import match_entry, replace_entry
from swatch.cli.holding_entries import check_entry
from swatch.cli.match_command import say_match
from swatch.cli.out import Out
from swatch.cli.replace_command import say_replace
from swatch.cli.studio_folder import remember
from swatch.cli.system_libraries import has_display
from swatch.desk.settings import demo_folder
from swatch.terms.answers import MatchAnswer, ReplaceAnswer
from swatch.wording.answers import lab_in_words
from swatch.wording.layering import cone_in_words
from swatch.wording.numbers import lab_figures, number_in_words, seconds_in_words
from swatch.wording.text import _, say

if TYPE_CHECKING:
    from swatch.work.demo import DemoAnswers

HELP = "build the invented demo studio from its photos, print its answers, then open the window on it"
MOST_USES = 3
EXAMPLE = "swatch demo --no-window --into demo-studio"


def add_words(parser: argparse.ArgumentParser) -> None:
    """Say which words the command takes."""
    parser.add_argument(
        "--into", metavar="DIR", help="where to build it (default: --studio, else beside the user's settings)"
    )
    parser.add_argument("--no-window", action="store_true", help="stop after printing")


def run(args: argparse.Namespace, out: Out) -> int:
    """Do it and give the exit status; ``args.show`` becomes the studio to open the window on, or None."""
    args.show = None
    began = time.perf_counter()
    folder = Path(args.into or args.studio or demo_folder())
    from swatch.work.demo import build_demo

    with out.progress("demo") as report:
        answers = build_demo(folder, report)
    remember(folder)
    out.entry |= _entry(answers)
    _say(out, answers, time.perf_counter() - began)
    if not args.no_window:
        if has_display():
            args.show = str(folder)
        else:
            out.line()
            text = _(
                "There is no display, so no window is opened. On a desktop, open it with: swatch --studio {folder}"
            )
            out.line(say(text).format(folder=folder))
    return out.finish(used=True)


def _entry(answers: DemoAnswers) -> dict[str, Any]:
    return {
        "studio": str(answers.folder),
        "name": answers.studio,
        "note": answers.note,
        "photos": len(answers.photos),
        "readings": answers.readings,
        "replace": replace_entry(answers.replace),
        "reference": {"name": answers.reference, "lab": lab_figures(answers.reference_zone.lab)},
        "match": match_entry(answers.match),
        "check": check_entry(answers.check),
    }


def _say(out: Out, answers: DemoAnswers, seconds: float) -> None:
    out.line(f"{answers.studio}: {answers.note}")
    text = _("{readings} colours read from {photos} photos and learnt from in {seconds}.")
    out.line(
        say(text).format(readings=answers.readings, photos=len(answers.photos), seconds=seconds_in_words(seconds))
    )
    _say_replace(out, answers.replace)
    _say_match(out, answers, answers.match)
    out.line()
    out.line(say(_("Does the last load of {edition} hold the look?")).format(edition=answers.check.edition))
    say_check(out, answers.check, only_last=True)


def _say_replace(out: Out, answer: ReplaceAnswer) -> None:
    out.line()
    out.line(say(_("What replaces {material}?")).format(material=answer.material))
    say_replace(out, answer, MOST_USES)


def _say_match(out: Out, answers: DemoAnswers, answer: MatchAnswer) -> None:
    out.line()
    text = _("What matches the {reference} on {body} at {cone}? {lab}, known to {u95} ΔE00.")
    out.line(
        say(text).format(
            reference=answers.reference,
            body=answer.request.body,
            cone=cone_in_words(answer.request.cone),
            lab=lab_in_words(answers.reference_zone.lab),
            u95=number_in_words(answers.reference_zone.u95_de00),
        )
    )
    say_match(out, answer)
