"""``swatch knows``: what the studio's tiles say of one material."""

from __future__ import annotations

import argparse
from typing import Any

from swatch.cli.entries import prediction_entry, question_entry
from swatch.cli.out import Out
from swatch.cli.studio_folder import folder_of, remember
from swatch.cli.suggestions import say_predictions
from swatch.cli.words import name_word
from swatch.cli.working import in_a_worker
from swatch.terms.knowledge import MaterialKnowledge
from swatch.wording.knowledge import knowledge_in_words
from swatch.wording.numbers import DE_DECIMALS, SHARE_DECIMALS, figure, lab_figures

HELP = "say what the tiles teach of a material: its colours, how it covers, what moves it, what to fire next"
EXAMPLE = 'swatch knows --material "Iron slip"'


def add_words(parser: argparse.ArgumentParser) -> None:
    """Say which words the command takes."""
    parser.add_argument("--material", type=name_word, metavar="M", required=True, help="the material")


def run(args: argparse.Namespace, out: Out) -> int:
    """Do it and give the exit status."""
    folder = folder_of(args)
    with out.progress("predict") as report:
        asked = {"folder": folder, "material": args.material}
        answer: MaterialKnowledge = in_a_worker("knows", asked, report)
    remember(folder)
    out.entry |= knowledge_entry(answer)
    shown = list(answer.swatches)
    if answer.covering is not None:
        shown += [answer.covering.over_light, answer.covering.over_dark]
    if shown:
        say_predictions(out, list(enumerate(shown, 1)))
    for line in knowledge_in_words(answer):
        out.line(line)
    return out.finish(used=True)


def knowledge_entry(answer: MaterialKnowledge) -> dict[str, Any]:
    """``knows --json``."""
    covering, after = answer.covering, answer.next_tile
    return {
        "material": answer.material,
        "kind": None if answer.kind is None else str(answer.kind),
        "fired_tiles": answer.fired_tiles,
        "swatches": [prediction_entry(one) for one in answer.swatches],
        "raw": None if answer.raw is None else lab_figures(answer.raw),
        "covering": None
        if covering is None
        else {
            "over_light": prediction_entry(covering.over_light),
            "over_dark": prediction_entry(covering.over_dark),
            "contrast_ratio": figure(covering.contrast_ratio, SHARE_DECIMALS),
            "contrast_ratio_80": [figure(end, SHARE_DECIMALS) for end in covering.ratio_80],
        },
        "sensitivities": [
            {
                "change": str(one.change),
                "lab": lab_figures(one.lab),
                "changed": lab_figures(one.changed),
                "de00": figure(one.de00, DE_DECIMALS),
            }
            for one in answer.sensitivities
        ],
        "next_tile": None if after is None else question_entry(after.question) | {"why": str(after.lack)},
        "learnt_from": answer.learnt_from,
    }
