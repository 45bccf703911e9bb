"""``swatch self-test``: how well measuring repeats, from photos of the same tiles."""

from __future__ import annotations

import argparse
from typing import Any

from swatch.cli.entries import photo_entry
from swatch.cli.out import Out, wrong_call
from swatch.terms.self_test import SelfTest
from swatch.wording.numbers import DE_DECIMALS, figure, lab_figures, number_in_words
from swatch.wording.text import _, say

HELP = "say how well measuring repeats, from two photos or more of the same tiles"
EXAMPLE = "swatch self-test monday_1.jpg monday_2.jpg --then friday_1.jpg friday_2.jpg"


def add_words(parser: argparse.ArgumentParser) -> None:
    """Say which words the command takes."""
    parser.add_argument("photos", metavar="PHOTO", nargs="+", help="photos of the same tiles, one after the other")
    parser.add_argument(
        "--then",
        nargs="+",
        action="append",
        default=[],
        metavar="PHOTO",
        help="photos of another occasion: another day, lamp, phone or person; may be repeated",
    )
    parser.add_argument("--zones", metavar="FILE.json", help="zones of every photo, where no photo sheet is in it")
    parser.add_argument("--card", default="rendition-24", help="as for measure")


def run(args: argparse.Namespace, out: Out) -> int:
    """Do it and give the exit status."""
    from swatch.work.self_test import FEWEST_PHOTOS, SelfTestRequest, self_test

    occasions = (tuple(args.photos), *(tuple(photos) for photos in args.then))
    if any(len(photos) < FEWEST_PHOTOS for photos in occasions):
        return wrong_call("self-test", "each occasion takes two photos or more")
    every = [photo for photos in occasions for photo in photos]
    if len(set(every)) < len(every):
        return wrong_call("self-test", "the same photo twice tells nothing")
    out.entry |= {"self_test": None, "photos": []}
    with out.progress("measure") as report:
        tested = self_test(SelfTestRequest(occasions, args.card, args.zones), report)
    out.entry["photos"] = [photo_entry(read) for read in tested.photos]
    if tested.found is not None:
        out.entry["self_test"] = _entry(tested.found)
        _say(out, tested.found)
    for problem in tested.problems:
        out.problem(problem)
    return out.finish(used=tested.found is not None)


def _entry(found: SelfTest) -> dict[str, Any]:
    def size(value: float | None) -> float | None:
        return None if value is None else figure(value, DE_DECIMALS)

    return {
        "occasions": [list(photos) for photos in found.occasions],
        "repeatability_de00": size(found.repeatability_de00),
        "reproducibility_de00": size(found.reproducibility_de00),
        "measuring_de00": size(found.measuring_de00),
        "zones_de00": size(found.zones_de00),
        "mean_u95_de00": size(found.mean_u95_de00),
        "zones": [
            {
                "zone": zone.zone,
                "lab": lab_figures(zone.lab),
                "furthest_de00": size(zone.furthest_de00),
                "u95_de00": size(zone.u95_de00),
            }
            for zone in found.zones
        ],
    }


def _say(out: Out, found: SelfTest) -> None:
    out.table(
        [say(_("zone")), "L*", "a*", "b*", say(_("furthest off")), say(_("stated as"))],
        [
            [zone.zone, *(number_in_words(v) for v in (*zone.lab, zone.furthest_de00, zone.u95_de00))]
            for zone in found.zones
        ],
        numbers=range(1, 6),
    )
    out.line()
    text = _("Photographed again at once, 95 % of readings stay within {repeat} ΔE00 of their mean.")
    out.line(say(text).format(repeat=number_in_words(found.repeatability_de00)))
    if found.reproducibility_de00 is not None:
        text = _("On another occasion they move by {between} ΔE00 more; both together: {both}.")
        between, both = (number_in_words(v) for v in (found.reproducibility_de00, found.measuring_de00))
        out.line(say(text).format(between=between, both=both))
    text = _(
        "The doubt stated is {stated} ΔE00 in the mean: with the camera's own error, which repeating cannot show."
    )
    out.line(say(text).format(stated=number_in_words(found.mean_u95_de00)))
