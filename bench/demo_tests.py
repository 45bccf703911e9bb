"""Are the demo's later tiles those that the program asks for? `python -m bench.demo_tests`.

Builds the demo studio, takes out the tiles of the firings that came after the discontinued glaze, and asks before
each of them for the next tests; also how far the replacements proposed then lie from the glaze in truth.
"""

from __future__ import annotations

import argparse
import shutil
import tempfile
from pathlib import Path

import numpy as np

from demo_tiles import tiles
from demo_tiles.physics import parse, true_lab
from demo_tiles.studio import DISCONTINUED
from swatch.library.studio import Studio
from swatch.science.colour_math import delta_e_2000
from swatch.terms.layering import format_layers
from swatch.terms.next_tests import NextRequest
from swatch.terms.report import silent
from swatch.work.demo import build_demo
from swatch.work.learn import learnt
from swatch.work.next_tests import next_tests_of
from swatch.work.replace import answer_at, uses_of

ASKED_FOR = ("F-21", "F-22", "F-23")


def truths(folder: Path) -> list[float]:
    """ΔE00 in truth from the glaze to what is proposed first, at each use in an edition."""
    known, out = learnt(folder), []
    with Studio.look(folder) as studio:
        regions = studio.editions()
    for place in uses_of(known, regions, DISCONTINUED)[: len(tiles.discontinued_uses())]:
        use, _searched = answer_at(known, place, DISCONTINUED, 1, silent)
        assert use is not None
        body, cone = use.question.body, use.question.cone.position
        layers = (use.question.layers, use.suggestions[0].prediction.question.layers)
        was, becomes = (np.array(true_lab(parse(format_layers(one)), body, cone)) for one in layers)
        out.append(round(float(delta_e_2000(was, becomes)), 2))
    return out


def main() -> None:
    """Print, firing by firing, what was asked for and what was fired."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--studio", type=Path, help="a demo studio that stands already; it is copied")
    said = words.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        studio_folder = Path(folder) / "studio"
        if said.studio:
            shutil.copytree(said.studio, studio_folder)
        else:
            build_demo(studio_folder)
        print(f"after all: first replacement off by {truths(studio_folder)} in truth, use by use", flush=True)
        for firing in reversed(ASKED_FOR):
            fired = [one for photo in tiles.PHOTOS for one in photo.tiles if one.firing == firing]
            names = {one.name for one in fired}
            with Studio.open(studio_folder) as studio:
                studio.remove_tiles([row.id for row in studio.tiles() if row.name in names])
            asked = next_tests_of(studio_folder, NextRequest(len(fired), replaces=DISCONTINUED))
            questions = [one.prediction.question for one in asked.tests]
            wanted = {(one.body, format_layers(one.layers)) for one in questions}
            were = {(one.body, zone.layers) for one in fired for zone in one.zones}
            print(f"{firing}: {len(wanted & were)} of {len(were)} tiles are those asked for now", flush=True)
            print(f"before it: off by {truths(studio_folder)}", flush=True)


if __name__ == "__main__":
    main()
