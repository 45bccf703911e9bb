"""Do the next tests hit a reachable target in one firing? `OPENBLAS_NUM_THREADS=1 python -m bench.next_tests`.

Invented studios; the target is the true colour of some layering of their stock, moved a little. A hit is a chosen
layering whose average lies within 2 ΔE00 of it. Also counts how often stated chances come true.
"""

from __future__ import annotations

import argparse

import numpy as np

from bench import studios
from swatch.science import joint, next_tests, shifts
from swatch.science.colour_math import delta_e_2000
from swatch.science.search import NO_LAYERING, AllMeans, Space, all_means, rank
from swatch.terms.report import silent
from swatch.work.match import different

TILES, POOL, WITHIN = 6, 240, 2.0


def _truth(studio: studios.Studio, material: np.ndarray, coats: np.ndarray) -> np.ndarray:
    layers = [(int(m), float(c)) for m, c in zip(material, coats, strict=True) if m >= 0]
    return studios.to_lab(studio.spectrum(layers, 0, studio.main_cone))


def _of_nearest_means(studio: studios.Studio, means: AllMeans, target: np.ndarray) -> np.ndarray:
    """True differences of the ten whose plug-in colours are nearest."""
    real = np.flatnonzero(means.channels[0] < NO_LAYERING)
    first = real[np.argsort(delta_e_2000(means.lab[real], target), kind="stable")[:10]]
    true = [_truth(studio, m, c) for m, c in zip(*means.layers_of(first), strict=True)]
    return np.asarray(delta_e_2000(np.array(true), target))


def main() -> None:
    """Print hits of jointly chosen and of nearest tiles, and how chances hold."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--studios", type=int, default=10)
    words.add_argument("--first", type=int, default=500)
    words.add_argument("--tiles", type=int, default=100)
    words.add_argument("--targets", type=int, default=3)
    words.add_argument("--physics", default="home")
    said = words.parse_args()
    hits, near, chances, came, reached = [], [], [], [], []
    ten: dict[str, list[list[float]]] = {"nearest by expected ΔE00": [], "shown": [], "nearest by mean": []}
    for seed in range(said.first, said.first + said.studios):
        studio = studios.make_studio(seed, said.physics, 16)
        random = np.random.default_rng([seed, 7])
        data = studios.fire(studio, studios.plan_tiles(studio, said.tiles, random), random).data
        fit = shifts.fit_studio(data, silent)
        every = np.ones(16, dtype=bool)
        means = all_means(fit, Space(every, every, every), 0, studio.main_cone, silent)
        together = joint.Together(fit, means.spread, studio.main_cone)
        real = np.flatnonzero(means.channels[0] < NO_LAYERING)
        for _ in range(said.targets):
            pick = means.layers_of(random.choice(real, 1))
            target = _truth(studio, pick[0][0], pick[1][0]) + random.normal(0, 0.3, 3)
            ranked = rank(fit, means, target, top=POOL, tolerance=WITHIN)
            mean, off = together.strays(ranked.material, ranked.coats, np.zeros(len(ranked.mean), int))
            drawn = joint.both_ways(mean, off)
            apart = delta_e_2000(drawn, target)[None]
            chosen = next_tests.for_targets(apart, TILES, np.full((1, len(drawn)), 50.0)).index
            true = np.array([_truth(studio, m, c) for m, c in zip(ranked.material, ranked.coats, strict=True)])
            off_by = delta_e_2000(true, target)
            hits.append(off_by[chosen].min() <= WITHIN)
            near.append(off_by[:TILES].min() <= WITHIN)
            ten["nearest by expected ΔE00"].append(off_by[:10].tolist())
            ten["shown"].append(off_by[different(ranked, 10)].tolist())
            ten["nearest by mean"].append(_of_nearest_means(studio, means, target).tolist())
            reached.append(float((apart[0].min(axis=1) <= WITHIN).mean()))
            rows = np.concatenate([np.arange(30), random.choice(len(mean), 30)])
            plan = [
                ([(int(m), int(c)) for m, c in zip(ranked.material[r], ranked.coats[r], strict=True) if m >= 0], 0,
                 studio.main_cone)
                for r in rows
            ]  # fmt: skip
            fired = studios.fire(studio, plan, random, load=1).data.lab
            chances += ranked.near.within[rows].tolist()
            came += (delta_e_2000(fired, target) <= WITHIN).tolist()
        print(f"{seed}: hits {np.mean(hits):.2f}, six nearest {np.mean(near):.2f}", flush=True)
    print(f"{len(hits)} targets: six chosen together hit {np.mean(hits):.2f}, six nearest {np.mean(near):.2f},")
    print(f"  said to be within reach {np.mean(reached):.2f}")
    for name, rows in ten.items():
        off = np.array(rows)
        best = off.min(axis=1)
        print(
            f"  ten {name}: best, median {np.median(best):.2f}, mean {best.mean():.2f};"
            f" first, median {np.median(off[:, 0]):.2f}, mean {off[:, 0].mean():.2f};"
            f" all ten, mean {off.mean():.2f}"
        )
    said_, held = np.array(chances), np.array(came)
    for low, high in ((0.0, 0.1), (0.1, 0.3), (0.3, 0.5), (0.5, 0.7), (0.7, 1.0)):
        on = (said_ >= low) & (said_ < high)
        if on.any():
            print(
                f"  said {low:.1f}–{high:.1f}: {on.sum()} said {said_[on].mean():.2f}, held {held[on].mean():.2f}"
            )


if __name__ == "__main__":
    main()
