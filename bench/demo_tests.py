"""Are the demo's later tiles those that the program asks for? `python -m bench.demo_tests`.

Builds the demo studio, takes out the tiles of the firings that came after the discontinued glaze, and asks before
each of them for the next tests; also how far the replacements proposed then lie from the glaze in truth.
"""

from __future__ import annotations

import tempfile
from pathlib import Path

import numpy as np

from demo_tiles import tiles
from demo_tiles.physics import parse, true_lab
from demo_tiles.studio import DISCONTINUED
from swatch.library.studio import Studio
from swatch.science.colour_math import delta_e_2000
from swatch.terms.answers import ReplaceAnswer
from swatch.terms.layering import format_layers
from swatch.terms.next_tests import NextRequest
from swatch.work.demo import build_demo
from swatch.work.next_tests import next_tests_of
from swatch.work.replace import replace

ASKED_FOR = ("F-21", "F-22", "F-23")


def truths(answer: ReplaceAnswer) -> list[float]:
    """ΔE00 in truth from the glaze to what is proposed first, at each use in an edition."""
    out = []
    for use in answer.uses[: len(tiles.discontinued_uses())]:
        body, cone = use.question.body, use.question.cone.position
        layers = (use.question.layers, use.suggestions[0].prediction.question.layers)
        was, becomes = (np.array(true_lab(parse(format_layers(one)), body, cone)) for one in layers)
        out.append(round(float(delta_e_2000(was, becomes)), 2))
    return out


def main() -> None:
    """Print, firing by firing, what was asked for and what was fired."""
    with tempfile.TemporaryDirectory() as folder:
        studio_folder = Path(folder) / "studio"
        built = build_demo(studio_folder)
        after = {len(ASKED_FOR): truths(built.replace)}
        for turn in reversed(range(len(ASKED_FOR))):
            fired = [one for photo in tiles.PHOTOS for one in photo.tiles if one.firing == ASKED_FOR[turn]]
            names = {one.name for one in fired}
            with Studio.open(studio_folder) as studio:
                studio.remove_tiles([row.id for row in studio.tiles() if row.name in names])
            asked = next_tests_of(studio_folder, NextRequest(len(fired), replaces=DISCONTINUED))
            wanted = {
                (one.prediction.question.body, format_layers(one.prediction.question.layers))
                for one in asked.tests
            }
            were = {(one.body, zone.layers) for one in fired for zone in one.zones}
            after[turn] = truths(replace(studio_folder, DISCONTINUED, top=1))
            print(f"{ASKED_FOR[turn]}: {len(wanted & were)} of {len(were)} tiles are those asked for", flush=True)
        for turn, off in sorted(after.items()):
            print(f"after {turn} of the firings asked for: first replacement off by {off} in truth, use by use")


if __name__ == "__main__":
    main()
