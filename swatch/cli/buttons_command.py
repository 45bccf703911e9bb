"""``swatch buttons``: witness buttons for the next firing, planned and printed."""

from __future__ import annotations

import argparse
from pathlib import Path

from swatch.cli.out import Out
from swatch.cli.plan_entries import buttons_entry
from swatch.cli.studio_folder import folder_of, remember
from swatch.cli.words import name_word
from swatch.cli.working import in_a_worker
from swatch.terms.buttons import ButtonPlan, ButtonRequest
from swatch.terms.sheet import Paper
from swatch.wording.button_plan import buttons_in_words, mark_in_words, steps_in_words, stripe_in_words
from swatch.wording.problems import notice_in_words
from swatch.wording.text import _, say

HELP = "plan and print witness buttons for the next firing: which stripes, one on each shelf, marks"
EXAMPLE = 'swatch buttons --edition "Shore mugs" --out buttons.pdf'


def add_words(parser: argparse.ArgumentParser) -> None:
    """Say which words the command takes."""
    parser.add_argument("--edition", type=name_word, metavar="E", required=True, help="the edition")
    parser.add_argument(
        "--firing", type=name_word, metavar="F", help="the firing they go into (default: the next)"
    )
    parser.add_argument(
        "--shelves", type=shelves_word, metavar="A,B", default=(), help="shelves, from the top down (as on record)"
    )
    parser.add_argument("--anew", action="store_true", help="choose stripes anew although buttons are on record")
    parser.add_argument("--out", metavar="F.pdf", help="print the plan")
    parser.add_argument("--paper", choices=[str(paper) for paper in Paper], default=str(Paper.A4), help="(A4)")


def shelves_word(text: str) -> tuple[str, ...]:
    """``--shelves``: names with commas between."""
    names = [" ".join(part.split()) for part in text.split(",")]
    if not all(names) or len(set(names)) < len(names):
        raise argparse.ArgumentTypeError(f'"{text}" is not shelves with commas between, each once')
    return tuple(names)


def run(args: argparse.Namespace, out: Out) -> int:
    """Do it and give the exit status."""
    from swatch.wording.edition_report_out import write_paper

    folder = folder_of(args)
    request = ButtonRequest(args.edition, args.firing or "", args.shelves, args.anew)
    with out.progress("buttons") as report:
        plan: ButtonPlan = in_a_worker("button plan", {"folder": folder, "request": request}, report)
    remember(folder)
    out.entry |= buttons_entry(plan)
    if args.out:
        from swatch.wording.button_plan import buttons_paper

        out.entry["pages"] = write_paper(buttons_paper(plan), Path(args.out), Paper(args.paper))
    out.line(buttons_in_words(plan))
    for stripe in plan.stripes:
        out.line(f"  {stripe_in_words(stripe)}")
    for button in plan.buttons:
        out.line(f"  {mark_in_words(button)}")
    for number, step in enumerate(steps_in_words(plan), 1):
        out.line(f"{number}. {step}")
    for notice in plan.notices:
        out.line(f"! {' '.join(notice_in_words(notice)).strip()}")
    if args.out:
        out.line(say(_("Written to {file}.")).format(file=args.out))
    return out.finish(used=True)
