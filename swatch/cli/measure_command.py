"""``swatch measure``: colours of the zones in photos; no studio needed."""

from __future__ import annotations

import argparse
from collections.abc import Sequence

from swatch.cli import measure_load
from swatch.cli.entries import merged_entry, photo_entry
from swatch.cli.measuring_again import run_again
from swatch.cli.out import Out, wrong_call
from swatch.cli.words import corners_word, number_in, point_word, zone_pair_word
from swatch.terms.measured import ColourShare, Comparison, MergedRead, PhotoRead, Verdict, ZoneRead
from swatch.terms.problems import Notice, StudioProblem, Where
from swatch.wording.numbers import number_in_words, share_in_words
from swatch.wording.problems import notice_in_words
from swatch.wording.text import _, say

HELP = "read the colours of the zones in photos taken beside a reference card"
EXAMPLE = "swatch measure kiln7_a.jpg --zones kiln7.json --overlay seen.png"

FOR_PLAIN = _("published methods for small differences are for plain surfaces")
_VERDICTS = {
    Verdict.GOOD: _("good"),
    Verdict.USABLE: _("usable, with warnings"),
    Verdict.REFUSED: _("refused"),
}


def add_words(parser: argparse.ArgumentParser) -> None:
    """Say which words the command takes."""
    parser.add_argument("photos", metavar="PHOTO", nargs="*", help="a photo with the card and the tiles in it")
    parser.add_argument(
        "--card",
        default="rendition-24",
        help="a built-in card (rendition-24, the default) or an ISO 28178 text file stated for D50, 2°",
    )
    parser.add_argument(
        "--corners",
        type=corners_word,
        metavar='"x,y x,y x,y x,y"',
        help="outer corners of the card's outermost patches, starting at patch 1 (dark skin) and going round "
        "to 6, 24 and 19, in pixels of the photo as seen; for a card that is not found by itself",
    )
    parser.add_argument("--zones", metavar="FILE.json", help='{"zones": [{"zone": "A1", "polygon": [[x,y], …]}]}')
    parser.add_argument("--blank", metavar="PHOTO", help="a photo of blank paper in the same light")
    parser.add_argument(
        "--own-card", metavar="F.txt", help="the card as learn-card wrote it: readings repeat better, not truer"
    )
    parser.add_argument(
        "--neutral",
        type=point_word,
        metavar="X,Y",
        help="no card is in the photo: a point of it that is grey or white; rough, with a large doubt",
    )
    parser.add_argument(
        "--neutral-lightness",
        type=number_in(10, 100),
        metavar="L",
        help="L* of what lies there, where it is known: 94 for white paper",
    )
    parser.add_argument(
        "--compare",
        type=zone_pair_word,
        action="append",
        default=[],
        metavar="A,B",
        help="the difference of two zones of the same photo, known better than either colour; may be repeated",
    )
    parser.add_argument(
        "--merge",
        action="store_true",
        help="the photos show one layout with the lamp moved: read each zone from all, free of glare",
    )
    measure_load.add_words(parser)
    parser.add_argument(
        "--again",
        action="store_true",
        help="measure the studio's kept photos of tiles again (those named, else all) and show what would change",
    )
    parser.add_argument(
        "--keep", action="store_true", help="with --again: let the new readings replace the former"
    )
    parser.add_argument("--overlay", metavar="OUT.png", help="write the photo with what was found drawn on it")


def run(args: argparse.Namespace, out: Out) -> int:
    """Do it and give the exit status."""
    if args.again:
        others = (args.corners, args.zones, args.blank, args.own_card, args.neutral, args.compare, args.overlay)
        if any(others) or args.merge or measure_load.asked(args) or args.card != "rendition-24":
            return wrong_call("measure", "--again takes names of kept photos and --keep only")
        return run_again(args, out)
    if args.keep:
        return wrong_call("measure", "--keep goes with --again")
    if not args.photos:
        return wrong_call("measure", "name at least one PHOTO")
    if args.overlay and len(args.photos) > 1:
        return wrong_call("measure", "--overlay is for one photo at a time")
    if args.merge and len(args.photos) < 2:
        return wrong_call("measure", "--merge takes two photos or more")
    if measure_load.asked(args):
        return measure_load.run(args, out, say_photo)
    if args.neutral is None and args.neutral_lightness is not None:
        return wrong_call("measure", "--neutral-lightness goes with --neutral")
    if args.neutral is not None:
        if not args.zones or len(args.photos) > 1:
            return wrong_call("measure", "--neutral takes one photo and its --zones")
        if args.corners or args.blank or args.compare or args.own_card:
            return wrong_call("measure", "--neutral is for a photo without a card")
    from swatch.work.measure import MeasureRequest, measure_photos

    out.entry["photos"] = []
    request = MeasureRequest(
        tuple(args.photos),
        args.card,
        args.corners,
        args.zones,
        args.blank,
        args.overlay,
        tuple(args.compare),
        args.merge,
        args.neutral,
        args.neutral_lightness,
        args.own_card,
    )
    with out.progress("measure") as report:
        measured = measure_photos(request, report)
    out.entry["photos"] = [photo_entry(read) for read in measured.photos]
    for read in measured.photos:
        say_photo(out, read)
    if measured.merged is not None:
        out.entry["merged"] = merged_entry(measured.merged)
        _say_merged(out, measured.merged)
    for problem in measured.problems:
        out.problem(problem)
    return out.finish(used=any(_used(read, args.zones is not None) for read in measured.photos))


def _used(read: PhotoRead, zones_asked: bool) -> bool:
    return read.verdict is not Verdict.REFUSED and (bool(read.zones) or not zones_asked)


def say_photo(out: Out, read: PhotoRead) -> None:
    """Say for people what was read from a photo."""
    place = Where(photo=read.photo)
    out.line(f"{read.photo}: {say(_VERDICTS[read.verdict])}")
    if read.card is not None:
        text = _("  card {name}: a patch left out comes back within {median} ΔE00 (median), {p95} (95 %)")
        median, p95 = (number_in_words(v) for v in (read.card.left_out_median, read.card.left_out_p95))
        out.line(say(text).format(name=read.card.name, median=median, p95=p95))
    _say_zones(out, read.zones)
    _say_comparisons(out, read.comparisons)
    for notice in read.warnings:
        if read.verdict is Verdict.REFUSED or notice.where.zone is not None:
            out.problem(_as_problem(notice, place))
        else:
            out.notice(_placed(notice, place))
    for zone in read.zones:
        for notice in zone.warnings:
            happened, next_step = notice_in_words(notice)
            out.line(f"  ! {zone.zone}: {happened} {next_step}".rstrip())
    if read.verdict is Verdict.REFUSED and not read.warnings:
        raise AssertionError("a refused photo says why")
    out.line()


def _say_zones(out: Out, zones: Sequence[ZoneRead]) -> None:
    if not zones:
        return
    header = ["  " + say(_("zone")), "L*", "a*", "b*", say(_("known to")), say(_("varies by")), say(_("used"))]
    out.table(header, [_zone_row(zone) for zone in zones], numbers=range(1, 7))
    out.line(say(_("  known to: within this many ΔE00 of the true colour, 95 % of the time")))
    for zone in zones:
        if zone.colours:
            text = _("  {zone} is mottled: {colours}")
            out.line(say(text).format(zone=zone.zone, colours="; ".join(map(_share_in_words, zone.colours))))


def _share_in_words(one: ColourShare) -> str:
    colour = " ".join(number_in_words(part) for part in one.lab)
    return say(_("{share} is {colour}")).format(share=share_in_words(one.share), colour=colour)


def _say_comparisons(out: Out, comparisons: Sequence[Comparison]) -> None:
    for one in comparisons:
        text = _("  {first} and {second} differ by {de00} ΔE00 (95 %: {low} to {high}); this is known to {u95}")
        if not one.told_apart:
            text = _("  {first} and {second} cannot be told apart: {de00} ΔE00 (95 %: at most {high})")
        low, high = (number_in_words(end) for end in one.de00_95)
        facts = {"low": low, "high": high, "de00": number_in_words(one.de00), "u95": number_in_words(one.u95_de00)}
        out.line(say(text).format(first=one.zones[0], second=one.zones[1], **facts))
        if one.by_colours_de00 is not None:
            text = _("    mottled: their colours, matched share by share, lie {de00} ΔE00 apart; {note}")
            out.line(say(text).format(de00=number_in_words(one.by_colours_de00), note=say(FOR_PLAIN)))


def _say_merged(out: Out, merged: MergedRead) -> None:
    out.line(say(_("{n} photos merged")).format(n=len(merged.photos)))
    _say_zones(out, merged.zones)
    _say_comparisons(out, merged.comparisons)
    for notice in merged.warnings:
        out.notice(notice)
    out.line()


def _zone_row(zone: ZoneRead) -> list[str]:
    colour = [number_in_words(part) for part in zone.lab]
    doubt = [number_in_words(zone.u95_de00), number_in_words(zone.variation_de00)]
    return [f"  {zone.zone}", *colour, *doubt, share_in_words(zone.used_share)]


def _placed(notice: Notice, where: Where) -> Notice:
    return notice if notice.where != Where() else notice.at(where)


def _as_problem(notice: Notice, where: Where) -> StudioProblem:
    """What refused a photo or left a zone out, as the problem it is to whoever called."""
    return StudioProblem(notice.code, notice.where, **notice.facts).at(where)
