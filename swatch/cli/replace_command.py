"""``swatch replace``: every use of a material and what could take its place."""

from __future__ import annotations

import argparse

from swatch.cli.answer_entries import plan_entry
from swatch.cli.entries import replace_entry
from swatch.cli.match_command import searched_in_words
from swatch.cli.out import Out
from swatch.cli.studio_folder import folder_of, remember
from swatch.cli.suggestions import Suggesting, say_cautions
from swatch.cli.words import name_word, number_in, whole_in
from swatch.cli.working import in_a_worker
from swatch.terms.answers import ReplaceAnswer
from swatch.terms.layering import format_layers
from swatch.terms.replacing import ReplacePlan
from swatch.wording.answers import lab_in_words
from swatch.wording.layering import cone_in_words
from swatch.wording.problems import notice_in_words
from swatch.wording.replacing import (
    bridge_in_words,
    jars_in_words,
    need_in_words,
    sample_in_words,
    stand_in_in_words,
)
from swatch.wording.text import _, say

HELP = "find every use of a material and what could take its place"
JAR_ML = 473.0
EXAMPLE = 'swatch replace --material "Iron slip" --top 3'


def add_words(parser: argparse.ArgumentParser) -> None:
    """Say which words the command takes."""
    parser.add_argument("--material", type=name_word, metavar="M", required=True, help="the material")
    parser.add_argument(
        "--jar-ml", type=number_in(0, 100_000), metavar="ML", default=JAR_ML, help="what a jar holds (473)"
    )
    parser.add_argument(
        "--top", type=whole_in(1, 100), metavar="N", default=5, help="how many to show for each use (default 5)"
    )


def run(args: argparse.Namespace, out: Out) -> int:
    """Do it and give the exit status."""
    folder = folder_of(args)
    with out.progress("replace") as report:
        asked: dict[str, object] = {
            "folder": folder,
            "material": args.material,
            "top": args.top,
            "jar_ml": args.jar_ml,
        }
        answer: ReplaceAnswer = in_a_worker("replace", asked, report)
    remember(folder)
    out.entry |= replace_entry(answer)
    if answer.plan is not None:
        out.entry["plan"] = plan_entry(answer.plan)
    say_replace(out, answer)
    return out.finish(used=True)


def say_replace(out: Out, answer: ReplaceAnswer, most: int | None = None) -> None:
    """Say a replacement for people, use by use, of which `most` at most."""
    suggesting = Suggesting(out)
    for use in answer.uses[:most]:
        known = say(_("measured")) if use.measured else say(_("predicted"))
        where = say(_("{layers} on {body} at {cone}")).format(
            layers=format_layers(use.question.layers),
            body=use.question.body,
            cone=cone_in_words(use.question.cone),
        )
        out.line(f"{where}: {lab_in_words(use.lab)} ({known})")
        if use.suggestions:
            suggesting.table(use.lab, use.suggestions)
        else:
            out.line(say(_("Nothing in stock can be predicted here.")))
        out.line()
    if answer.plan is not None:
        say_plan(out, answer.plan, answer.material)
    suggesting.notes()
    left = len(answer.uses[most:]) if most is not None else 0
    if left:
        text = _("{left} more uses; all of them: swatch replace --material “{material}”")
        out.line(say(text).format(left=left, material=answer.material))
    out.line(searched_in_words(answer.searched, answer.seconds, answer.learnt_from))


def say_plan(out: Out, plan: ReplacePlan, material: str) -> None:
    """Say for people how long a material lasts, what to buy, and what stands in for it everywhere."""
    for need in plan.needs:
        out.line(need_in_words(need, material))
    out.line(jars_in_words(plan, material))
    if plan.together:
        out.line(say(_("In place of it at every use, judged by the worst:")))
        for one in plan.together:
            out.line(f"  {stand_in_in_words(one)}")
        say_cautions(out, [one.cautions for one in plan.together])
    for sample in plan.samples:
        out.line(sample_in_words(sample))
    for step in plan.bridge:
        if step.pieces:
            out.line(bridge_in_words(step, material))
    for notice in plan.advice:
        out.line(" ".join(filter(None, notice_in_words(notice))))
    out.line()
