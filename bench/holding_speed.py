"""How long a check takes on 350 pieces of 9 firings in 3 regions, with charts; and the pairs of all of them alone.

`python -m bench.holding_speed --studio DIR`, where DIR is a demo studio (`swatch demo --into DIR
--no-window`); it is copied, not changed. Its second edition gets loads as large as those of a real one.
"""

from __future__ import annotations

import argparse
import shutil
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
from scipy.spatial.distance import cdist

from demo_tiles.edition_held import EDITION, FIRINGS, REGIONS, SHELVES
from swatch.library.studio import Studio
from swatch.science.pairing import sets_of
from swatch.terms.colour import Covariance, Lab
from swatch.terms.editions import PieceReading, Role
from swatch.terms.holding import CheckAnswer, CheckRequest
from swatch.terms.material_plan import PlanRequest
from swatch.terms.materials import Firing
from swatch.work.check import check
from swatch.work.material_plan import material_plan

PIECES, ALL_FIRINGS = 350, 9
DOUBT = Covariance(0.3, 0.0, 0.0, 0.3, 0.0, 0.3)


def more_pieces(folder: Path) -> int:
    """Bring in pieces until there are 350 of 9 firings; gives how many pieces there are."""
    rng = np.random.default_rng(11)
    with Studio.open(folder) as studio:
        known = [one for one in studio.pieces() if one.edition == EDITION]
        colour = {
            region: np.mean([one.lab for one in known if one.region == region], axis=0) for region, *_ in REGIONS
        }
        firings = [name for name, *_ in FIRINGS] + ["F-21", "F-22"]
        studio.put_firings(
            [Firing("F-21", "2026-10-10"), Firing("F-22", "2026-10-24")], frozenset({"name", "date"})
        )
        there = {one.piece for one in known}
        rows = []
        for k in range(PIECES - len(there)):
            firing = firings[len(firings) - 5 + k % 5]
            for region, *_ in REGIONS:
                lab = Lab(*map(float, colour[region] + rng.normal(0, 0.8, 3)))
                rows.append(
                    PieceReading(EDITION, f"B{k:03d}", region, lab, DOUBT, 1, firing, SHELVES[k % 3][0],
                                 role=Role.PIECE, session=f"table {firing}")
                )  # fmt: skip
        studio.put_pieces(rows, frozenset({"firing", "shelf", "lab", "covariance", "role", "session"}))
        return len({one.piece for one in studio.pieces() if one.edition == EDITION})


def timed(work: Callable[[], object], times: int) -> tuple[float, object]:
    """The best of some runs, in seconds of this process, and what came of it."""
    best, found = float("inf"), None
    for _ in range(times):
        began = time.process_time()
        found = work()
        best = min(best, time.process_time() - began)
    return best, found


def main() -> None:
    """Print the figures."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--studio", type=Path, required=True)
    words.add_argument("--times", type=int, default=3)
    said = words.parse_args()
    with tempfile.TemporaryDirectory() as place:
        folder = Path(shutil.copytree(said.studio, Path(place) / "studio"))
        pieces = more_pieces(folder)
        seconds, answer = timed(lambda: check(folder, CheckRequest(EDITION)), said.times + 1)
        assert isinstance(answer, CheckAnswer)
        firings = len({one.firing for one in answer.pieces}) + answer.approved_firings
        print(f"{pieces} pieces, {firings} firings, {len(answer.regions)} regions, {len(answer.charts)} charts")
        rows = np.random.default_rng(5).normal(0, 1.0, (len(answer.pieces), 9))
        pairs, _ = timed(lambda: sets_of(cdist(rows, rows), 2), said.times)
        fours, _ = timed(lambda: sets_of(cdist(rows, rows), 4), said.times)
        plan, _ = timed(lambda: material_plan(folder, PlanRequest(EDITION, "2026-11-01")), said.times)
    print(f"check with charts, kiln, pairs and the next load: {seconds:.2f} s of processor")
    print(f"pairs of {len(rows)} pieces alone: {pairs:.2f} s; sets of four: {fours:.2f} s")
    print(f"material plan: {plan:.2f} s")


if __name__ == "__main__":
    main()
