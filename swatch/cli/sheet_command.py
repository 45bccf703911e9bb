"""``swatch sheet``: the printed photo sheet."""

from __future__ import annotations

import argparse
import re
from collections.abc import Callable
from pathlib import Path

from swatch.cli.out import Out
from swatch.cli.words import name_word, whole_in
from swatch.terms.sheet import MOST_TILES, Paper, Size, Split
from swatch.wording.sheet import sheet_words
from swatch.wording.text import say_many

HELP = "the printed photo sheet with markers, a place for the card and numbered slots for tiles, as a PDF"
EXAMPLE = 'swatch sheet --out sheet.pdf --paper A3 --tile-size 50x100 --split steps --firing "Kiln 2, May"'

_SIZE = re.compile(r"([0-9]{1,3})\s*[x×]\s*([0-9]{1,3})")


def add_words(parser: argparse.ArgumentParser) -> None:
    """Say which words the command takes."""
    parser.add_argument("--out", metavar="F.pdf", required=True, help="the file; print it at 100 %%")
    parser.add_argument("--paper", choices=[str(paper) for paper in Paper], default=str(Paper.A4), help="(A4)")
    parser.add_argument(
        "--tiles",
        metavar="N",
        type=whole_in(1, MOST_TILES),
        help="how many tiles; more than fit on one sheet make several, numbered on (default: one full sheet)",
    )
    parser.add_argument(
        "--tile-size",
        metavar='"50x100"',
        type=_size_in(20, 200),
        help="width x height of the studio's tiles in whole mm, top upward (50x100)",
    )
    parser.add_argument(
        "--card-size",
        metavar='"125x90"',
        type=_size_in(40, 300),
        help="room for the reference card, as it is held to be read, in whole mm (125x90)",
    )
    parser.add_argument(
        "--split",
        choices=[str(split) for split in Split],
        default=str(Split.WHOLE),
        help="what each tile is read as: whole; steps (zones .3 at the top, .2, .1 by coats); crossed-4 or "
        "crossed-9 fields, row by row (whole)",
    )
    parser.add_argument(
        "--stands",
        action="store_true",
        help="add a page of paper stands to cut out, for tiles that do not lie flat",
    )
    parser.add_argument("--firing", type=name_word, help="printed on the sheet and kept in its code")
    parser.add_argument("--date", type=name_word, help="printed on the sheet")


def run(args: argparse.Namespace, out: Out) -> int:
    """Do it and give the exit status."""
    from swatch.work.sheet import SheetRequest, write_sheet

    split = Split(args.split)
    request = SheetRequest(
        words=sheet_words(split),
        paper=Paper(args.paper),
        tiles=args.tiles,
        tile=args.tile_size,
        card=args.card_size,
        split=split,
        firing=args.firing or "",
        date=args.date or "",
        stands=args.stands,
    )
    made = write_sheet(request, Path(args.out))
    first = made.layouts[0].code
    slots = sum(layout.code.slots for layout in made.layouts)
    sheets = len(made.layouts)
    out.entry |= {
        "out": args.out,
        "paper": str(first.paper),
        "sheets": sheets,
        "slots": slots,
        "tile_mm": list(first.tile),
        "card_mm": list(first.card),
        "split": str(first.split),
    }
    text = say_many(
        "{sheets} sheet with {slots} slots for tiles of {wide} × {high} mm written to {file}.",
        "{sheets} sheets with {slots} slots for tiles of {wide} × {high} mm written to {file}.",
        sheets,
    )
    out.line(text.format(sheets=sheets, slots=slots, wide=first.tile[0], high=first.tile[1], file=args.out))
    return out.finish(used=True)


def _size_in(least: int, most: int) -> Callable[[str], Size]:
    """Make a reader of sizes ``50x100``, each side from `least` to `most` mm."""

    def read(text: str) -> Size:
        found = _SIZE.fullmatch(text.strip())
        if found is None or not all(least <= int(side) <= most for side in found.groups()):
            raise argparse.ArgumentTypeError(f'"{text}" is no size such as 50x100, each side {least} to {most} mm')
        return Size(int(found[1]), int(found[2]))

    return read
