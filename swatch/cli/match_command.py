"""``swatch match``: layerings from stock that come nearest a colour."""

from __future__ import annotations

import argparse

from swatch.cli.entries import match_entry
from swatch.cli.out import Out, wrong_call
from swatch.cli.studio_folder import folder_of, remember
from swatch.cli.suggestions import Suggesting
from swatch.cli.words import cone_word, lab_word, name_word, number_in, regions_word, whole_in
from swatch.cli.working import in_a_worker
from swatch.terms.answers import MatchAnswer, MatchRequest
from swatch.wording.answers import reach_in_words
from swatch.wording.numbers import number_in_words, seconds_in_words
from swatch.wording.text import _, say

HELP = "find the layerings from stock that come nearest a colour"
EXAMPLE = 'swatch match --target "57.4,-21.6,13.8" --body "Pale body" --cone 6 --region inside,lip'


def add_words(parser: argparse.ArgumentParser) -> None:
    """Say which words the command takes."""
    parser.add_argument(
        "--target", type=lab_word, metavar='"L,a,b"', required=True, help="the colour, CIELAB D50 2°"
    )
    parser.add_argument(
        "--target-u",
        type=number_in(0, 50),
        metavar="U",
        help="one standard uncertainty of that colour in ΔE00; of a measured zone, its u95 divided by 1.6",
    )
    parser.add_argument("--body", type=name_word, metavar="B", required=True, help="the body beneath")
    parser.add_argument("--cone", type=cone_word, metavar="C", required=True, help="the cone, such as 6 or 06")
    parser.add_argument(
        "--max-layers", type=whole_in(1, 4), metavar="N", default=3, help="different materials (default 3)"
    )
    parser.add_argument(
        "--max-coats", type=whole_in(1, 12), metavar="N", default=4, help="coats in all (default 4)"
    )
    parser.add_argument(
        "--tolerance", type=number_in(0, 50), metavar="DE", default=2.0, help="ΔE00 that is near enough (2)"
    )
    parser.add_argument(
        "--region",
        type=regions_word,
        metavar="R,R",
        default=(),
        help="the parts of the piece it is for: inside, lip, outside, foot",
    )
    parser.add_argument("--area-dm2", type=number_in(0, 1e4), metavar="X", help="area of a piece, with --pieces")
    parser.add_argument("--pieces", type=whole_in(1, 1_000_000), metavar="N", help="pieces to be glazed")
    parser.add_argument(
        "--with", dest="must_use", type=name_word, metavar="M", action="append", default=[],
        help="a material that must be in it; may be given again",
    )  # fmt: skip
    parser.add_argument(
        "--without", dest="leave_out", type=name_word, metavar="M", action="append", default=[],
        help="a material to leave out; may be given again",
    )  # fmt: skip
    parser.add_argument(
        "--top", type=whole_in(1, 100), metavar="N", default=10, help="how many to show (default 10)"
    )


def run(args: argparse.Namespace, out: Out) -> int:
    """Do it and give the exit status."""
    if (args.area_dm2 is None) != (args.pieces is None):
        return wrong_call("match", "--area-dm2 and --pieces go together")
    folder = folder_of(args)
    covariance = None
    if args.target_u:
        from swatch.work.bring_in import covariances_of

        (covariance,) = covariances_of([args.target], [args.target_u])
    request = MatchRequest(
        target=args.target,
        target_covariance=covariance,
        body=args.body,
        cone=args.cone,
        max_layers=args.max_layers,
        max_coats=args.max_coats,
        tolerance=args.tolerance,
        regions=args.region,
        area_dm2=args.area_dm2,
        pieces=args.pieces,
        must_use=tuple(args.must_use),
        leave_out=tuple(args.leave_out),
        top=args.top,
    )
    with out.progress("match") as report:
        answer: MatchAnswer = in_a_worker("match", {"folder": folder, "request": request}, report)
    remember(folder)
    out.entry |= match_entry(answer)
    say_match(out, answer)
    return out.finish(used=True)


def say_match(out: Out, answer: MatchAnswer) -> None:
    """Say a match for people."""
    if answer.suggestions:
        suggesting = Suggesting(out)
        suggesting.table(answer.request.target, answer.suggestions)
        suggesting.notes()
    if answer.reach is not None and answer.nearest_80 is not None and answer.reach_chance is not None:
        out.line(reach_in_words(answer.reach, answer.reach_chance, *answer.nearest_80, answer.request.tolerance))
    elif not answer.reachable:
        nearest = answer.nearest_reachable_de00
        text = _("Out of reach of the stock: the nearest colour lies {de00} ΔE00 away.")
        out.line(
            say(text).format(de00=number_in_words(nearest))
            if nearest is not None
            else say(_("No layering of the stock can be predicted on this body at this cone."))
        )
    out.line(searched_in_words(answer.searched, answer.seconds, answer.learnt_from))


def searched_by(seconds: float, learnt_from: int) -> str:
    """Say what an answer took and how much it rests on."""
    text = _("Worked out in {seconds}, learnt from {tiles} readings of own tiles.")
    return say(text).format(seconds=seconds_in_words(seconds), tiles=learnt_from)


def searched_in_words(searched: int, seconds: float, learnt_from: int) -> str:
    """Say how much an answer rests on and what it took."""
    text = _("{searched:,} layerings looked at in {seconds}, learnt from {tiles} readings of own tiles.")
    return say(text).format(searched=searched, seconds=seconds_in_words(seconds), tiles=learnt_from)
