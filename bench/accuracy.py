"""How far off predictions are, by kind of question, on invented studios: `python -m bench.accuracy --help`."""

from __future__ import annotations

import argparse
import time
from dataclasses import dataclass, field

import numpy as np

from bench import drifting_laws, misbehaving, other_laws, studios
from swatch.science import leaving_out, shifts
from swatch.science.colour_math import delta_e_2000
from swatch.science.odd_tiles import odd_tiles
from swatch.science.studio_data import StudioData
from swatch.terms.report import silent

QUESTIONS = ("new layering", "another cone")
LAWS = (*other_laws.LAWS, drifting_laws.DRIFT)


def make_studio(seed: int, law: str, materials: int, odd_pairs: bool = False) -> studios.Studio:
    """An invented studio of any of the physics."""
    make = drifting_laws.make_studio if law == drifting_laws.DRIFT else other_laws.make_studio
    return make(seed, law, materials, odd_pairs)


def nearest_tile(data: StudioData, asked: StudioData) -> np.ndarray:
    """Colour of the tile most like each question: materials shared in place, then coats, cone and body."""
    cones, wanted = data.cones_asked(), asked.cones_asked()
    out = np.empty((len(asked.lab), 3))
    for i in range(len(out)):
        row = asked.material[i]
        top, mine = row[row >= 0][-1:], np.array([r[r >= 0][-1] if (r >= 0).any() else -1 for r in data.material])
        apart = np.array([len(set(r[r >= 0]) ^ set(row[row >= 0])) for r in data.material], float)
        apart += 1.5 * (mine != (top[0] if len(top) else -1)) + 0.1 * np.abs(data.coats - asked.coats[i]).sum(
            axis=1
        )
        apart += 0.2 * np.abs(cones - wanted[i]) + 0.5 * (data.body != asked.body[i])
        out[i] = data.lab[np.argmin(apart)]
    return out


@dataclass
class Found:
    """What was found for one kind of question, studio by studio."""

    off: list[np.ndarray] = field(default_factory=list)
    distance: list[np.ndarray] = field(default_factory=list)
    nearest: list[np.ndarray] = field(default_factory=list)
    shifted: list[np.ndarray] = field(default_factory=list)
    refused: int = 0

    def line(self) -> str:
        """Median, p90, coverage, refusals, and what needs no learning."""
        e, d, n, s = (np.concatenate(x) for x in (self.off, self.distance, self.nearest, self.shifted))
        return (
            f"n {len(e):5}  median {np.median(e):5.2f}  p90 {np.quantile(e, 0.9):5.1f}"
            f"  covers95 {100 * np.mean(d <= 7.815):5.1f}  covers80 {100 * np.mean(d <= 4.642):5.1f}"
            f"  refused {self.refused}  nearest {np.median(n):5.1f}  mean shift {np.median(s):5.1f}"
        )


def run(
    law: str, tiles: int, seeds: range, *, unruly: bool = False, sprayed: float = 0.0, asked_each: int = 80
) -> None:
    """Print median, p90 and coverage of some studios, and, misbehaving, how many mislabelled tiles were named."""
    scatter = drifting_laws.SCATTER if law == drifting_laws.DRIFT else (0.15, 0.3)
    found = {question: Found() for question in QUESTIONS}
    spent = []
    mislabelled = named = strangers = 0
    for seed in seeds:
        studio = make_studio(seed, law, int(np.clip(tiles // 4, 7, 25)), unruly)
        random = np.random.default_rng([seed, tiles])
        plan = (misbehaving.patchy_plan if unruly else studios.plan_tiles)(studio, tiles, random)
        fired = studios.fire(studio, plan, random, sprayed=sprayed, scatter=scatter)
        data, wrong = fired.data, []
        if unruly:
            data, wrong = misbehaving.mislabel(studio, data, 0.03, random)
        began = time.process_time()
        fit = shifts.fit_studio(data, silent)
        spent.append(time.process_time() - began)
        if unruly:
            odd = odd_tiles(data, fit, leaving_out.left_out(data, fit, silent)).row.tolist()
            mislabelled += len(wrong)
            named += len(set(wrong) & set(odd))
            strangers += len(set(odd) - set(wrong))
        for question in QUESTIONS:
            asked = studios.new_questions(studio, fired.data, asked_each, random, question)
            if not asked:
                continue
            new = studios.fire(studio, asked, random, load=4, sprayed=sprayed, scatter=scatter).data
            said = fit.predict(new.material, new.coats, new.wiped, new.body, new.cones_asked())
            ok = said.refused == 0
            d = new.lab[ok] - said.mean[ok]
            one = found[question]
            one.off.append(delta_e_2000(new.lab[ok], said.mean[ok]))
            one.distance.append(np.einsum("ni,nij,nj->n", d, np.linalg.inv(said.covariance[ok]), d))
            one.nearest.append(delta_e_2000(new.lab, nearest_tile(data, new)))
            _near, shifted = leaving_out.neighbours(data, new, np.arange(len(new.lab)))
            one.shifted.append(delta_e_2000(new.lab, shifted))
            one.refused += int((~ok).sum())
    for question, one in found.items():
        if one.off:
            print(f"{law:6} {tiles:4} tiles {question:13} {one.line()}", flush=True)
    print(f"{law:6} {tiles:4} tiles fitted and calibrated in {np.median(spent):.2f} s of processor time", end="")
    print(f"; mislabelled {mislabelled}, named {named}, others named {strangers}" if unruly else "", flush=True)


def main() -> None:
    """Read the words of the call."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--physics", default="home,other", help=f"of {', '.join(LAWS)}")
    words.add_argument("--tiles", default="30,100,300")
    words.add_argument("--studios", type=int, default=6)
    words.add_argument("--first", type=int, default=0)
    words.add_argument("--asked", type=int, default=80)
    words.add_argument("--misbehaving", action="store_true")
    words.add_argument("--sprayed", type=float, default=0.0)
    said = words.parse_args()
    for law in said.physics.split(","):
        for number in said.tiles.split(","):
            run(
                law,
                int(number),
                range(said.first, said.first + said.studios),
                unruly=said.misbehaving,
                sprayed=said.sprayed,
                asked_each=said.asked,
            )


if __name__ == "__main__":
    main()
