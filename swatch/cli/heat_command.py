"""``swatch heat``: how hot a firing was, from its log and its witness cones."""

from __future__ import annotations

import argparse
from typing import Any

from swatch.cli.out import Out
from swatch.cli.studio_folder import folder_of, remember
from swatch.cli.words import name_word
from swatch.terms.firing_heat import FiringHeat
from swatch.wording.firing_heat import heat_in_words
from swatch.wording.numbers import DE_DECIMALS, figure

HELP = "say how hot a firing was: heat-work of its log up to the end of the soak, corrected by its witness cones"
EXAMPLE = "swatch heat --firing F7 --studio shed"
_DEGREE_DECIMALS = 1


def add_words(parser: argparse.ArgumentParser) -> None:
    """Say which words the command takes."""
    parser.add_argument("--firing", type=name_word, metavar="F", required=True, help="the firing")


def run(args: argparse.Namespace, out: Out) -> int:
    """Do it and give the exit status."""
    from swatch.work.firing_heat import firing_heat

    folder = folder_of(args)
    found = firing_heat(folder, args.firing)
    remember(folder)
    out.entry |= heat_entry(found)
    for line in heat_in_words(found):
        out.line(line)
    return out.finish(used=True)


def heat_entry(found: FiringHeat) -> dict[str, Any]:
    """``heat --json``."""
    logged = found.logged
    return {
        "firing": found.firing,
        "cone_asked": None if found.asked is None else str(found.asked),
        "cone_reached": None if found.reached is None else str(found.reached),
        "log": None
        if logged is None
        else {
            "peak_c": figure(logged.peak_c, _DEGREE_DECIMALS),
            "soak_ends_min": figure(logged.soak_ends_min, _DEGREE_DECIMALS),
            "celsius_60": figure(logged.celsius_60, _DEGREE_DECIMALS),
            "cone_position": figure(logged.cone, DE_DECIMALS),
            "cone_sd": figure(logged.cone_sd, DE_DECIMALS),
            "points": [
                [figure(minutes, _DEGREE_DECIMALS), figure(celsius, _DEGREE_DECIMALS)]
                for minutes, celsius in zip(found.minutes, found.celsius, strict=True)
            ],
        },
        "witness": [{"shelf": one.shelf, "cone_reached": str(one.cone_reached)} for one in found.witnesses],
        "cone_position": None if found.cone is None else figure(found.cone, DE_DECIMALS),
        "cone_sd": None if found.cone_sd is None else figure(found.cone_sd, DE_DECIMALS),
    }
