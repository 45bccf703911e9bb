"""1,000,000 layerings ranked, prefixes shared and not: `OPENBLAS_NUM_THREADS=1 python -m bench.search`.

Also counts how many of the fifty best the short list finds, by scoring every layering of small libraries.
"""

from __future__ import annotations

import argparse
import resource
import time

import numpy as np

from bench import studios
from swatch.science import predicting, ranking, shifts
from swatch.science.search import AllMeans, Space, all_means, rank
from swatch.science.studio_data import layers_of
from swatch.terms.report import silent

TARGETS = np.array([[50, 20, 20], [40, -10, -20], [70, 0, 10], [30, 5, 5], [60, -20, 30], [45, 35, 20]], float)

ALIKE = 1e-6


def fitted(materials: int, tiles: int, seed: int = 3) -> shifts.StudioFit:
    """A fit of an invented studio."""
    studio = studios.make_studio(seed, "home", materials)
    random = np.random.default_rng(seed)
    data = studios.fire(studio, studios.plan_tiles(studio, tiles, random), random).data
    return shifts.fit_once(data, silent)


def every(fit: shifts.StudioFit) -> AllMeans:
    """Plug-in colours of all layerings."""
    all_ = np.ones(len(fit.kind), dtype=bool)
    return all_means(fit, Space(all_, all_, all_), 0, 6.0, silent)


def without_prefixes(means: AllMeans) -> np.ndarray:
    """The same colours from the same model, each layering worked out on its own."""
    out = np.empty_like(means.lab)
    index = np.flatnonzero(means.lab[:, 0] < 1e5)
    for at in range(0, len(index), 20_000):
        rows = index[at : at + 20_000]
        material, coats = means.layers_of(rows)
        layers = layers_of(material)
        for count in np.unique(layers):
            on = layers == count
            one = material[on, :count], coats[on, :count], np.zeros((on.sum(), count), bool)
            out[rows[on]] = predicting.middle_colours(means.spread, *one, np.full(on.sum(), means.body))
    return out


def main() -> None:
    """Print times, the ratio, memory and recall."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--materials", type=int, default=65)
    words.add_argument("--tiles", type=int, default=400)
    words.add_argument("--libraries", type=int, default=20)
    said = words.parse_args()
    fit = fitted(said.materials, said.tiles)
    cpu, began = time.process_time(), time.perf_counter()
    means = every(fit)
    cpu, wall = time.process_time() - cpu, time.perf_counter() - began
    print(f"{means.searched} layerings: all colours {cpu:.2f} s processor, {wall:.2f} s wall")
    spent = []
    for target in TARGETS:
        one, began = time.process_time(), time.perf_counter()
        found = rank(fit, means, target)
        spent.append(time.process_time() - one)
        print(
            f"  target {target}: {spent[-1]:.2f} s processor, {time.perf_counter() - began:.2f} s wall,"
            f" {found.scored} scored, best expected {found.near.expected[0]:.2f}"
        )
    alone = time.process_time()
    without_prefixes(means)
    alone = time.process_time() - alone
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    total, plain = cpu + float(np.median(spent)), alone + float(np.median(spent))
    print(
        f"without shared prefixes {alone:.2f} s; ranked ÷ ranked without {total / plain:.3f}; peak {peak:.0f} MB"
    )
    hits = asked = 0
    for seed in range(said.libraries):
        small = fitted(14, 100 + 10 * (seed % 5), seed)
        means = every(small)
        index = np.flatnonzero(means.channels[0] < 1e5)
        for target in TARGETS:
            expected = ranking.score(small, means, index, target, None)
            last = np.partition(expected, 49)[49]
            found = ranking.best_of(small, means, target, None, 50, 4000)[0]
            # layerings under an opaque top can be alike to the last digit: each of them is as good as the fiftieth
            hits += int((expected[np.searchsorted(index, found)] <= last + ALIKE).sum())
            asked += 50
    if asked:
        print(f"fifty best by the full rule found, {said.libraries} libraries × 6 targets: {hits / asked:.4f}")


if __name__ == "__main__":
    main()
