"""``swatch measure --again``: what today's program reads in photos on record, beside what is known."""

from __future__ import annotations

import argparse
from typing import Any

from swatch.cli.out import Out
from swatch.cli.studio_folder import folder_of
from swatch.terms.again import MeasuredAgain, PhotoAgain, ZoneAgain
from swatch.terms.measured import Verdict
from swatch.wording.numbers import DE_DECIMALS, covariance_figures, figure, lab_figures, number_in_words
from swatch.wording.problems import warning_entry
from swatch.wording.text import _, say, say_many


def run_again(args: argparse.Namespace, out: Out) -> int:
    """Do it and give the exit status."""
    from swatch.work.measured_again import AgainRequest, measure_again

    out.entry |= {"again": [], "kept": 0}
    with out.progress("measure") as report:
        found = measure_again(folder_of(args), AgainRequest(tuple(args.photos), args.keep), report)
    out.entry |= {"again": [_photo_entry(photo) for photo in found.photos], "kept": found.kept}
    for photo in found.photos:
        _say_photo(out, photo)
    _say_kept(out, found, keep=args.keep)
    for problem in found.problems:
        out.problem(problem)
    return out.finish(used=any(photo.zones for photo in found.photos))


def _photo_entry(photo: PhotoAgain) -> dict[str, Any]:
    return {
        "photo": photo.photo,
        "verdict": str(photo.verdict),
        "zones": [_zone_entry(zone) for zone in photo.zones],
        "warnings": [warning_entry(notice) for notice in photo.warnings],
    }


def _zone_entry(zone: ZoneAgain) -> dict[str, Any]:
    before = zone.u95_before
    return {
        "tile": zone.tile,
        "zone": zone.zone,
        "stage": str(zone.stage),
        "reading": zone.reading,
        "before": {
            "lab": lab_figures(zone.before),
            "u95_de00": None if before is None else figure(before, DE_DECIMALS),
        },
        "now": {
            "lab": lab_figures(zone.now.lab),
            "covariance": covariance_figures(zone.now.covariance),
            "u95_de00": figure(zone.now.u95_de00, DE_DECIMALS),
            "warnings": [warning_entry(notice) for notice in zone.now.warnings],
        },
        "moved_de00": figure(zone.moved_de00, DE_DECIMALS),
    }


def _say_photo(out: Out, photo: PhotoAgain) -> None:
    if photo.verdict is Verdict.REFUSED:
        out.line(say(_("{photo}: refused today; what is on record stands")).format(photo=photo.photo))
        return
    out.line(f"{photo.photo}:")
    header = ["  " + say(_("zone")), say(_("on record")), say(_("known to")), say(_("today")), say(_("known to"))]
    out.table([*header, say(_("moved by, ΔE00"))], [_row(zone) for zone in photo.zones], numbers=(2, 4, 5))


def _row(zone: ZoneAgain) -> list[str]:
    before, now = (" ".join(map(number_in_words, lab)) for lab in (zone.before, zone.now.lab))
    known = "" if zone.u95_before is None else number_in_words(zone.u95_before)
    name = f"  {zone.tile} {zone.zone}"
    return [name, before, known, now, number_in_words(zone.now.u95_de00), number_in_words(zone.moved_de00)]


def _say_kept(out: Out, found: MeasuredAgain, *, keep: bool) -> None:
    if keep:
        text = say_many("{n} reading has been replaced.", "{n} readings have been replaced.", found.kept)
        out.line(text.format(n=found.kept))
    elif any(photo.zones for photo in found.photos):
        out.line(say(_("Nothing is changed yet; --keep lets these readings replace the former.")))
