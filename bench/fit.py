"""Fit of tiles against scikit-learn's exact Gaussian process, without restarts, on the same tiles.

`OPENBLAS_NUM_THREADS=1 python -m bench.fit --tiles 300`; also what six more tiles take, from the last fit on.
"""

from __future__ import annotations

import argparse
import time

import numpy as np

from bench import studios
from swatch.science import shifts
from swatch.science.studio_data import StudioData
from swatch.terms.report import silent

MOST_LENGTHS = 300
"""Above so many tiles the process with a length for each feature takes too long to wait for."""


def features(data: StudioData) -> np.ndarray:
    """What a Gaussian process can be told of a tile: coats of each material, which lies uppermost, body, cone."""
    m, n = len(data.kind), len(data.lab)
    coats, top = np.zeros((n, m)), np.zeros((n, m))
    for i in range(n):
        used = data.material[i][data.material[i] >= 0]
        coats[i, used] = data.coats[i, : len(used)]
        top[i, used[-1:]] = 1.0
    return np.hstack([coats, top, data.body[:, None], data.cones_asked()[:, None] / 5.0])


def seconds(work: object) -> float:
    """Processor seconds of one call: other programs on the machine do not count."""
    began = time.process_time()
    work()  # type: ignore[operator]
    return time.process_time() - began


def main() -> None:
    """Print both times and their ratio."""
    from sklearn.gaussian_process import GaussianProcessRegressor
    from sklearn.gaussian_process.kernels import RBF, ConstantKernel, WhiteKernel

    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--tiles", type=int, default=300)
    words.add_argument("--materials", type=int, default=25)
    words.add_argument("--seed", type=int, default=1)
    said = words.parse_args()
    studio = studios.make_studio(said.seed, "home", said.materials)
    random = np.random.default_rng(said.seed)
    data = studios.fire(studio, studios.plan_tiles(studio, said.tiles, random), random).data
    x, y = features(data), (data.lab - data.lab.mean(axis=0)) / data.lab.std(axis=0)
    kernel = ConstantKernel(1.0) * RBF(np.full(x.shape[1], 2.0)) + WhiteKernel(0.05)
    kept: list[shifts.StudioFit] = []
    before = data.only(np.arange(len(data.lab) - 6))
    ours_once = seconds(lambda: shifts.fit_once(data, silent))
    ours = seconds(lambda: kept.append(shifts.fit_studio(before, silent)))
    six_more = seconds(lambda: shifts.refit(data, silent, kept[0]))
    isotropic = ConstantKernel(1.0) * RBF(2.0) + WhiteKernel(0.05)
    plain = seconds(lambda: GaussianProcessRegressor(isotropic, random_state=0).fit(x, y))
    print(f"{said.tiles} tiles, {said.materials} materials, processor seconds on one thread")
    print(f"learning without calibration {ours_once:.2f}, with it {ours:.2f}; six tiles more {six_more:.2f}")
    print(
        f"Gaussian process, one length {plain:.2f}: ratio {ours_once / plain:.2f}, calibrated {ours / plain:.2f}"
    )
    if said.tiles <= MOST_LENGTHS:
        each = seconds(lambda: GaussianProcessRegressor(kernel, random_state=0).fit(x, y))
        print(f"a length for each feature {each:.2f}: ratio {ours_once / each:.2f}, calibrated {ours / each:.2f}")


if __name__ == "__main__":
    main()
