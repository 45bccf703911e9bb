"""``swatch next-tests``: the tiles to fire next, chosen together, as a board with numbers to pencil on them."""

from __future__ import annotations

import argparse

from swatch.cli.answer_entries import next_tests_entry
from swatch.cli.match_command import searched_by
from swatch.cli.out import Out, wrong_call
from swatch.cli.studio_folder import folder_of, remember
from swatch.cli.suggestions import say_cautions
from swatch.cli.words import cone_word, lab_word, name_word, number_in, regions_word, sizes_in, whole_in
from swatch.cli.working import in_a_worker
from swatch.terms.layering import format_layers
from swatch.terms.next_tests import NextAnswer, NextRequest, NextTest
from swatch.wording.answers import chance_in_words
from swatch.wording.next_tests import information_in_words, outlook_in_words, why_in_words
from swatch.wording.problems import notice_in_words
from swatch.wording.text import _, say

HELP = "find the tiles to fire next, chosen together"
EXAMPLE = 'swatch next-tests --target "57.4,-21.6,13.8" --body "Pale body" --cone 6 --tiles 6'
MOST_TILES = 48


def add_words(parser: argparse.ArgumentParser) -> None:
    """Say which words the command takes."""
    for_what = parser.add_mutually_exclusive_group()
    for_what.add_argument("--target", type=lab_word, metavar='"L,a,b"', help="a colour to meet, CIELAB D50 2°")
    for_what.add_argument("--replace", type=name_word, metavar="M", help="a material that needs a stand-in")
    for_what.add_argument("--material", type=name_word, metavar="M", help="a material to learn about")
    parser.add_argument(
        "--half-and-half", action="store_true",
        help="with --replace: tiles with what is used now on one half, a candidate on the other",
    )  # fmt: skip
    parser.add_argument("--body", type=name_word, metavar="B", help="the body beneath; not with --replace")
    parser.add_argument(
        "--cone", type=cone_word, metavar="C", help="the cone, such as 6 or 06; not with --replace"
    )
    parser.add_argument(
        "--tiles", type=whole_in(1, MOST_TILES), metavar="N", default=6, help="how many tiles (default 6)"
    )
    parser.add_argument("--max-layers", type=whole_in(1, 3), metavar="N", default=3, help="materials (default 3)")
    parser.add_argument(
        "--max-coats", type=whole_in(1, 12), metavar="N", default=4, help="coats in all (default 4)"
    )
    parser.add_argument(
        "--tolerance", type=number_in(0, 50), metavar="DE", default=2.0, help="ΔE00 that is near enough (2)"
    )
    parser.add_argument(
        "--region", type=regions_word, metavar="R,R", default=(), help="inside, lip, outside, foot"
    )
    parser.add_argument(
        "--without", dest="leave_out", type=name_word, metavar="M", action="append", default=[],
        help="a material to leave out; may be given again",
    )  # fmt: skip
    parser.add_argument(
        "--shelf", type=sizes_in(1, 2), metavar="WxD", default=(),
        help="the kiln shelf's width and depth, mm, or a round one's diameter: no more tiles than find room",
    )  # fmt: skip
    parser.add_argument(
        "--shelves", type=whole_in(1, 12), metavar="N", default=1, help="how many such shelves (default 1)"
    )
    parser.add_argument(
        "--tile", type=sizes_in(2, 2), metavar="WxH", default=(50.0, 100.0), help="a tile's size, mm (50x100)"
    )
    parser.add_argument(
        "--plan", type=name_word, metavar="NAME", help="put the board on record under this firing's name"
    )


def run(args: argparse.Namespace, out: Out) -> int:
    """Do it and give the exit status."""
    if args.replace is None and (args.body is None or args.cone is None):
        return wrong_call("next-tests", "--body and --cone are needed, unless --replace is given")
    if args.replace is not None and (args.body is not None or args.cone is not None):
        return wrong_call("next-tests", "--replace takes body and cone from each use")
    if args.half_and_half and args.replace is None:
        return wrong_call("next-tests", "--half-and-half needs --replace")
    folder = folder_of(args)
    request = NextRequest(
        args.tiles,
        body=args.body or "",
        cone=args.cone,
        target=args.target,
        replaces=args.replace or "",
        material=args.material or "",
        regions=args.region,
        tolerance=args.tolerance,
        max_layers=args.max_layers,
        max_coats=args.max_coats,
        leave_out=tuple(args.leave_out),
        half_and_half=args.half_and_half,
        shelf_mm=args.shelf,
        tile_mm=args.tile,
        shelves=args.shelves,
        name=args.plan or "",
    )
    with out.progress("next-tests") as report:
        answer: NextAnswer = in_a_worker("next tests", {"folder": folder, "request": request}, report)
    if args.plan:
        from swatch.library.studio import Studio

        with Studio.open(folder) as studio:
            for board in answer.boards:
                studio.plan_board(board)
    remember(folder)
    out.entry |= next_tests_entry(answer, planned=bool(args.plan))
    say_next_tests(out, answer, planned=bool(args.plan))
    return out.finish(used=True)


def layers_of_test(one: NextTest) -> str:
    """The layers of a tile, those of its other half first where it has two."""
    layers = format_layers(one.prediction.question.layers)
    return f"{format_layers(one.beside)} | {layers}" if one.beside else layers


def say_next_tests(out: Out, answer: NextAnswer, *, planned: bool = False) -> None:
    """Say the tests for people."""
    rows = [
        [
            one.tile,
            layers_of_test(one),
            one.prediction.question.body,
            str(one.prediction.question.cone),
            chance_in_words(one.chance_within) if one.chance_within is not None else "",
            information_in_words(one),
            why_in_words(one.why),
        ]
        for one in answer.tests
    ]
    header = [
        say(_("pencil")), say(_("layers, body outward")), say(_("body")), say(_("cone")), say(_("chance")),
        say(_("adds")), say(_("why")),
    ]  # fmt: skip
    out.table(header, rows, numbers=(4, 5))
    out.line(outlook_in_words(answer))
    if planned:
        for board in answer.boards:
            out.line(say(_("On record as the board of firing {name}.")).format(name=board.name))
    for notice in answer.advice:
        out.line(" ".join(filter(None, notice_in_words(notice))))
    say_cautions(out, [one.prediction.cautions for one in answer.tests])
    out.line(searched_by(answer.seconds, answer.learnt_from))
