"""``swatch learn-card``: the studio's own card from photos of it under several lights."""

from __future__ import annotations

import argparse

from swatch.cli.out import Out
from swatch.wording.numbers import DE_DECIMALS, figure, lab_figures, number_in_words
from swatch.wording.text import _, say

HELP = "learn your own card from photos of it under several lights: more repeatable readings, not truer ones"
EXAMPLE = "swatch learn-card window.jpg lamp.jpg evening.jpg --out own_card.txt"


def add_words(parser: argparse.ArgumentParser) -> None:
    """Say which words the command takes."""
    parser.add_argument("photos", metavar="PHOTO", nargs="+", help="photos of the card, under two lights or more")
    parser.add_argument("--out", metavar="F.txt", required=True, help="where it goes, for measure --own-card")
    parser.add_argument("--card", default="rendition-24", help="as for measure")


def run(args: argparse.Namespace, out: Out) -> int:
    """Do it and give the exit status."""
    from swatch.work.own_card import OwnCardRequest, learn_own_card

    out.entry |= {"card": None}
    with out.progress("measure") as report:
        learnt = learn_own_card(OwnCardRequest(tuple(dict.fromkeys(args.photos)), args.out, args.card), report)
    if learnt.card is not None:
        out.entry |= {
            "card": args.out,
            "photos": learnt.photos,
            "lights": learnt.lights,
            "patches": [
                {"patch": k + 1, "lab": lab_figures(lab), "moved_de00": figure(moved, DE_DECIMALS)}
                for k, (lab, moved) in enumerate(zip(learnt.card.lab, learnt.moved, strict=True))
            ],
        }
        text = _("Learnt from {photos} photos under {lights} lights; patches moved by {most} ΔE00 at most.")
        most = number_in_words(max(learnt.moved))
        out.line(say(text).format(photos=learnt.photos, lights=learnt.lights, most=most))
        out.line(say(_("With it readings repeat better; they are no truer, so no doubt gets smaller.")))
        out.line(say(_("Use it by measure --own-card; leave that out, and all is as before.")))
    for problem in learnt.problems:
        out.problem(problem)
    return out.finish(used=learnt.card is not None)
