"""1,000,000 layerings ranked, prefixes shared and not: `OPENBLAS_NUM_THREADS=1 python -m bench.search`.

Also counts how many of the fifty best the short list finds, by scoring every layering of small libraries.
"""

from __future__ import annotations

import argparse
import resource
import time

import numpy as np

from bench import studios
from swatch.science import predicting, shifts
from swatch.science.nearness import expected_difference, nearness
from swatch.science.search import NO_LAYERING, AllMeans, Space, all_means, rank
from swatch.science.studio_data import layers_of
from swatch.terms.report import silent

TARGETS = np.array([[50, 20, 20], [40, -10, -20], [70, 0, 10], [30, 5, 5], [60, -20, 30], [45, 35, 20]], float)

ALIKE = 5e-3
"""Expected ΔE00 that close are one another: half of the last decimal that is printed."""


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
    words.add_argument("--first", type=int, default=0, help="seed of the first small library")
    words.add_argument("--small-only", action="store_true", help="leave the million out")
    said = words.parse_args()
    if not said.small_only:
        times(said)
    recall(said)


def times(said: argparse.Namespace) -> None:
    """Print times, the ratio and memory of a large library."""
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
        f"without shared prefixes {alone:.2f} s: colours ÷ colours {cpu / alone:.3f};"
        f" with a target's own work on both sides {total / plain:.3f}; peak {peak:.0f} MB"
    )


def recall(said: argparse.Namespace) -> None:
    """Count the fifty best by the full rule, as `StudioFit.predict` answers it, that the short list finds."""
    hits = asked = whole = 0
    for seed in range(said.first, said.first + said.libraries):
        small = fitted(14, 100 + 10 * (seed % 5), seed)
        means = every(small)
        index = np.flatnonzero(means.channels[0] < NO_LAYERING)
        mean, covariance = answered(small, means, index)
        for target in TARGETS:
            expected = expected_difference(mean, covariance, target, None)
            hopeful = np.flatnonzero(expected <= 1.06 * np.partition(expected, 49)[49])
            fine = nearness(mean[hopeful], covariance[hopeful], target).expected
            last = np.partition(fine, 49)[49]
            ranked = rank(small, means, target, top=50, short_list=4000)
            found = means.index_of(ranked.material, ranked.coats)
            # under an opaque top layerings are alike to the last digit: each of them is as good as the fiftieth
            best = index[hopeful[fine <= last + ALIKE]]
            good = int(np.isin(found, best).sum())
            hits, asked, whole = hits + good, asked + 50, whole + (good == 50)
        print(f"{seed}: {hits} of {asked}", flush=True)
    if asked:
        print(f"fifty best by the full rule found, {said.libraries} libraries × 6 targets: {hits / asked:.4f},")
        print(f"  all of them for {whole} of {asked // 50} targets")


def answered(fit: shifts.StudioFit, means: AllMeans, index: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """What `predict` says of layerings by index: means and covariances, own tiles counted in."""
    mean, covariance = np.empty((len(index), 3)), np.empty((len(index), 3, 3))
    for at in range(0, len(index), 2000):
        material, coats = means.layers_of(index[at : at + 2000])
        none, k = np.zeros(material.shape, bool), len(material)
        said = fit.predict(material, coats, none, np.full(k, means.body), np.full(k, means.cone))
        mean[at : at + k], covariance[at : at + k] = said.mean, said.covariance
    return mean, covariance


if __name__ == "__main__":
    main()
