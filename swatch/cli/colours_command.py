"""``swatch colours``: which colours the jars in stock can make on a body at a cone."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from swatch.cli.out import Out
from swatch.cli.studio_folder import folder_of, remember
from swatch.cli.words import cone_word, name_word, regions_word, whole_in
from swatch.cli.working import in_a_worker
from swatch.terms.colours import ColoursRequest, JarColours, LightnessBand, Ring
from swatch.terms.layering import format_layers
from swatch.wording.colours import lightness_in_words, searched_in_words, spans_in_words
from swatch.wording.numbers import DE_DECIMALS, LAB_DECIMALS, figure, lab_figures, number_in_words
from swatch.wording.problems import caution_entry, notice_in_words
from swatch.wording.text import _, say

HELP = "outline the colours that the jars in stock can make, measured and predicted told apart"
EXAMPLE = 'swatch colours --body "Pale body" --cone 6 --out colours.csv'


def add_words(parser: argparse.ArgumentParser) -> None:
    """Say which words the command takes."""
    parser.add_argument("--body", type=name_word, metavar="B", required=True, help="the body beneath")
    parser.add_argument("--cone", type=cone_word, metavar="C", required=True, help="the cone, such as 6 or 06")
    parser.add_argument("--max-layers", type=whole_in(1, 4), metavar="N", default=3, help="materials (default 3)")
    parser.add_argument(
        "--max-coats", type=whole_in(1, 12), metavar="N", default=4, help="coats in all (default 4)"
    )
    parser.add_argument(
        "--region", type=regions_word, metavar="R,R", default=(), help="inside, lip, outside, foot"
    )
    parser.add_argument(
        "--with", dest="must_use", type=name_word, metavar="M", action="append", default=[],
        help="a material to use; may be given again",
    )  # fmt: skip
    parser.add_argument(
        "--without", dest="leave_out", type=name_word, metavar="M", action="append", default=[],
        help="a material to leave out; may be given again",
    )  # fmt: skip
    parser.add_argument("--out", metavar="F.csv", help="write outlines and tiles as a table")


def run(args: argparse.Namespace, out: Out) -> int:
    """Do it and give the exit status."""
    folder = folder_of(args)
    request = ColoursRequest(
        args.body,
        args.cone,
        args.max_layers,
        args.max_coats,
        args.region,
        tuple(args.must_use),
        tuple(args.leave_out),
    )
    with out.progress("match") as report:
        answer: JarColours = in_a_worker("colours", {"folder": folder, "request": request}, report)
    if args.out:
        from swatch.formats.colours_out import write_colours
        from swatch.work.files import write_file

        write_file(Path(args.out), write_colours(answer))
    remember(folder)
    out.entry |= colours_entry(answer)
    say_colours(out, answer)
    if args.out:
        out.entry["out"] = args.out
        out.line(say(_("Outlines and tiles written to {file}.")).format(file=args.out))
    return out.finish(used=True)


def colours_entry(answer: JarColours) -> dict[str, Any]:
    """``colours --json``."""
    return {
        "body": answer.request.body,
        "cone": str(answer.request.cone),
        "cell": answer.cell,
        "bands": [_band_entry(band) for band in answer.bands],
        "searched": answer.searched,
        "seconds": figure(answer.seconds, DE_DECIMALS),
        "learnt_from": answer.learnt_from,
        "cautions": [caution_entry(one) for one in answer.cautions],
    }


def _band_entry(band: LightnessBand) -> dict[str, Any]:
    return {
        "L": [figure(end, LAB_DECIMALS) for end in band.lightness],
        "layerings": band.layerings,
        "predicted": [_corners(ring) for ring in band.predicted],
        "u": None if band.u is None else figure(band.u, DE_DECIMALS),
        "measured": [_corners(ring) for ring in band.measured],
        "tiles": [
            {"tile": one.tile, "zone": one.zone, "layers": format_layers(one.layers), "lab": lab_figures(one.lab)}
            for one in band.tiles
        ],
    }


def _corners(ring: Ring) -> list[list[float]]:
    return [[figure(a, LAB_DECIMALS), figure(b, LAB_DECIMALS)] for a, b in ring]


def say_colours(out: Out, answer: JarColours) -> None:
    """Say the bands for people: how far a* and b* reach."""
    header = [
        "L*", say(_("layerings")), say(_("a* predicted")), say(_("b* predicted")), "±", say(_("own tiles")),
        say(_("a* measured")), say(_("b* measured")),
    ]  # fmt: skip
    rows = [
        [
            lightness_in_words(band),
            f"{band.layerings:,}",
            *spans_in_words(band, measured=False),
            "" if band.u is None else number_in_words(band.u),
            str(len(band.tiles)),
            *spans_in_words(band, measured=True),
        ]
        for band in answer.bands
    ]
    out.table(header, rows, numbers=(0, 1, 4, 5))
    out.line(searched_in_words(answer))
    for notice in answer.cautions:
        out.line(" ".join(filter(None, notice_in_words(notice))))
