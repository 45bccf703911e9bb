"""How far off predictions are, by kind of question, on invented studios: `python -m bench.accuracy --help`."""

from __future__ import annotations

import argparse
import time

import numpy as np

from bench import studios
from swatch.science import shifts
from swatch.science.colour_math import delta_e_2000
from swatch.science.studio_data import StudioData
from swatch.terms.report import silent

QUESTIONS = ("new layering", "another cone")


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


def run(
    physics: str, tiles: int, count: int, *, misbehaving: bool = False, sprayed: float = 0.0, first: int = 0
) -> None:
    """Print median, p90 and coverage of ``count`` studios."""
    off: dict[str, list[np.ndarray]] = {q: [] for q in QUESTIONS}
    near: dict[str, list[np.ndarray]] = {q: [] for q in QUESTIONS}
    far: dict[str, list[np.ndarray]] = {q: [] for q in QUESTIONS}
    spent = []
    for seed in range(first, first + count):
        studio = studios.make_studio(seed, physics, int(np.clip(tiles // 4, 7, 25)), misbehaving)
        random = np.random.default_rng([seed, tiles])
        plan = studios.plan_tiles(studio, tiles, random)
        fired = studios.fire(studio, plan, random, sprayed=sprayed, mislabelled=0.03 if misbehaving else 0.0)
        began = time.process_time()
        fit = shifts.fit_studio(fired.data, silent)
        spent.append(time.process_time() - began)
        for question in QUESTIONS:
            asked = studios.new_questions(studio, fired.data, 80, random, question)
            if not asked:
                continue
            new = studios.fire(studio, asked, random, load=4, sprayed=sprayed).data
            said = fit.predict(new.material, new.coats, new.wiped, new.body, new.cones_asked())
            ok = said.refused == 0
            d = new.lab[ok] - said.mean[ok]
            off[question].append(delta_e_2000(new.lab[ok], said.mean[ok]))
            far[question].append(np.einsum("ni,nij,nj->n", d, np.linalg.inv(said.covariance[ok]), d))
            near[question].append(delta_e_2000(new.lab, nearest_tile(fired.data, new)))
    for question in QUESTIONS:
        if off[question]:
            e, d, n = (np.concatenate(x[question]) for x in (off, far, near))
            print(
                f"{physics:5} {tiles:4} tiles {question:13} n {len(e):5}  median {np.median(e):5.2f}"
                f"  p90 {np.quantile(e, 0.9):5.1f}  covers95 {100 * np.mean(d <= 7.815):4.0f} %"
                f"  covers80 {100 * np.mean(d <= 4.642):4.0f} %  nearest tile {np.median(n):5.1f}"
                f"  fit {np.median(spent):.2f} s",
                flush=True,
            )


if __name__ == "__main__":
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--physics", default="home,other")
    words.add_argument("--tiles", default="30,100,300")
    words.add_argument("--studios", type=int, default=6)
    words.add_argument("--first", type=int, default=0)
    words.add_argument("--misbehaving", action="store_true")
    words.add_argument("--sprayed", type=float, default=0.0)
    said = words.parse_args()
    for law in said.physics.split(","):
        for number in said.tiles.split(","):
            run(
                law,
                int(number),
                said.studios,
                misbehaving=said.misbehaving,
                sprayed=said.sprayed,
                first=said.first,
            )
