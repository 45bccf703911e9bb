"""``swatch measure`` on photos of a load: pieces found by their outlines, kept as an edition's or as buttons."""

from __future__ import annotations

import argparse
from collections.abc import Callable

from swatch.cli.entries import photo_entry
from swatch.cli.out import Out, wrong_call
from swatch.cli.studio_folder import folder_of, remember
from swatch.cli.words import name_word
from swatch.terms.measured import PhotoRead, PiecesWanted
from swatch.wording.text import _, _many, say, say_many

NONE = "none"


def add_words(parser: argparse.ArgumentParser) -> None:
    """Say which words go with photos of a load."""
    parser.add_argument(
        "--pieces",
        metavar="FILE.json",
        help="the photos show pieces of one form: a zones file that outlines the regions on one piece of the "
        "first photo; they are found again on every other piece. With --load they are remembered",
    )
    parser.add_argument(
        "--edition", type=name_word, metavar="E", help="keep the pieces as this edition's; with --load"
    )
    parser.add_argument(
        "--buttons", action="store_true", help="the photos show witness buttons; keep them, with --load"
    )
    parser.add_argument("--load", type=name_word, metavar="FIRING", help="the firing the pieces come from")
    parser.add_argument(
        "--approved",
        type=name_word,
        metavar="NAME",
        help=f"the approved piece, or the kept button, that lies nearest the card; {NONE} where none does",
    )
    parser.add_argument(
        "--shelves",
        type=_shelves,
        default=(),
        metavar="A,B,…",
        help="shelves in the order of unloading: the pieces, as one reads them, fill them evenly",
    )


def _shelves(text: str) -> tuple[str, ...]:
    return tuple(part for part in (" ".join(one.split()) for one in text.split(",")) if part)


def asked(args: argparse.Namespace) -> bool:
    """Whether the photos are said to be of a load."""
    return bool(args.pieces or args.edition or args.buttons or args.load or args.approved or args.shelves)


def run(args: argparse.Namespace, out: Out, say_photo: Callable[[Out, PhotoRead], None]) -> int:
    """Do it and give the exit status."""
    keeping = bool(args.edition or args.buttons)
    if args.zones or args.blank or args.compare or args.merge or args.neutral or args.own_card or args.overlay:
        return wrong_call("measure", "--pieces, --edition, --buttons and --load go with --card and --corners only")
    if args.edition and args.buttons:
        return wrong_call("measure", "--edition and --buttons are for different photos")
    if keeping != bool(args.load) or keeping != bool(args.approved) or (args.shelves and not keeping):
        return wrong_call("measure", "--edition or --buttons, --load and --approved go together")
    out.entry["photos"] = []
    if not keeping:
        return _read(args, out, say_photo)
    from swatch.work.keep_load import LoadRequest, keep_load

    folder = folder_of(args)
    request = LoadRequest(
        tuple(args.photos),
        args.edition,
        args.load,
        None if args.approved == NONE else args.approved,
        args.shelves,
        args.pieces,
        args.card,
        args.corners,
    )
    with out.progress("pieces") as report:
        made = keep_load(folder, request, report)
    remember(folder)
    for read, entries in zip(made.photos, made.entries, strict=True):
        entry = photo_entry(read)
        for piece in entry.get("pieces", ()):
            found = next((one for one in entries if one.seen == piece["piece"]), None)
            piece |= {"kept_as": found.name, "shelf": found.shelf} if found is not None and read.zones else {}
        out.entry["photos"].append(entry)
        say_photo(out, read)
        if read.zones:
            names = ", ".join(f"{one.seen}: {one.name}" for one in entries)
            out.line(say(_("  kept as {names}")).format(names=names))
    out.entry["readings_kept"] = made.readings
    out.line(say_many(*_KEPT, made.readings).format(n=made.readings))
    for problem in made.problems:
        out.problem(problem)
    return out.finish(used=made.readings > 0)


_KEPT = _many("{n} reading kept.", "{n} readings kept.")


def _read(args: argparse.Namespace, out: Out, say_photo: Callable[[Out, PhotoRead], None]) -> int:
    from swatch.work.keep_load import pattern_in, read_pieces

    wanted = PiecesWanted("pieces", pattern=pattern_in(args.pieces))
    with out.progress("pieces") as report:
        reads, problems = read_pieces(args.photos, wanted, args.card, args.corners, report)
    for read in reads:
        out.entry["photos"].append(photo_entry(read))
        say_photo(out, read)
    for problem in problems:
        out.problem(problem)
    return out.finish(used=any(read.zones for read in reads))
