"""The short list: which of many layerings have the smallest expected difference from a target."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from typing import TYPE_CHECKING

import numpy as np

from swatch.science import predicting
from swatch.science.colour_math import de00_metric, delta_e_2000
from swatch.science.nearness import QUICK_POINTS, differences, expected_difference, with_target
from swatch.science.optics import FloatArray
from swatch.science.quick_spread import Strays, quick_scatter, strays_of
from swatch.science.studio_data import layers_of

if TYPE_CHECKING:
    from swatch.science.search import AllMeans
    from swatch.science.shifts import StudioFit

STOP_SHARE = 0.8
"""An expected difference is never below this share of the plug-in colour's; found by scoring everything."""

CARE_MARGIN = 0.03
"""How much further off than on any layering seen so far a quick score is allowed to be."""

MOST_CARE = 1536
"""Careful scores at most: under an opaque top layer thousands of layerings are alike to a hundredth of a unit."""

_SOMEWHERE = 1e5
_BLOCK = 2048
_CARE_BLOCK = 192
_THREADS = 2


def best_of(
    fit: StudioFit,
    means: AllMeans,
    target: FloatArray,
    target_covariance: FloatArray | None,
    best: int,
    short_list: int,
) -> tuple[np.ndarray, int, float]:
    """Layerings with the smallest expected ΔE00 (indices), how many were scored, and the least plug-in ΔE00."""
    lab = means.lab
    if not means.searched:
        return np.zeros(0, dtype=np.intp), 0, float("nan")
    away = lab - target.astype(np.float32)
    metric = de00_metric(target).astype(np.float32)
    rough = np.einsum("ni,ni->n", away @ metric, away)
    short = np.arange(len(lab))
    if len(lab) > short_list:
        short = np.argpartition(rough, short_list)[:short_list]
    found, scored, nearest, whole = _score(fit, means, np.sort(short), target, target_covariance, best)
    if not whole and len(short) < len(lab):
        found, scored, nearest, _ = _score(fit, means, np.arange(len(lab)), target, target_covariance, best)
    return found, scored, nearest


def _score(
    fit: StudioFit,
    means: AllMeans,
    short: np.ndarray,
    target: FloatArray,
    target_covariance: FloatArray | None,
    best: int,
) -> tuple[np.ndarray, int, float, bool]:
    """Score a short list nearest first; the last answer says whether the stop rule ended it.

    All are scored quickly; then those that may yet be among the best with care, best first, until the quick
    score, taken to be as far off as the worst seen and a little more, leaves the rest no hope.
    """
    short = short[means.lab[short, 0] < _SOMEWHERE]
    apart = np.asarray(delta_e_2000(means.lab[short], target.astype(np.float32)))
    order = np.argsort(apart, kind="stable")
    short, apart = short[order], apart[order]
    strays = strays_of(means.spread)

    def quickly(rows: np.ndarray) -> FloatArray:
        return quick_score(fit, means, strays, short[rows], target, target_covariance)

    def carefully(index: np.ndarray) -> FloatArray:
        return score(fit, means, index, target, target_covariance)

    quick = np.zeros(0)
    expected = np.zeros(0)
    stopped = False
    with ThreadPoolExecutor(_THREADS) as threads:
        for at in range(0, len(short), _BLOCK):
            if len(quick) >= best and STOP_SHARE * apart[at] > np.partition(quick, best - 1)[best - 1]:
                stopped = True
                break
            parts = np.array_split(np.arange(at, min(at + _BLOCK, len(short))), _THREADS)
            quick = np.concatenate([quick, *threads.map(quickly, parts)])
        order = np.argsort(quick, kind="stable")
        for at in range(0, min(len(order), max(MOST_CARE, 2 * best)), _CARE_BLOCK):
            if len(expected) >= best:
                least = float((expected / quick[order[: len(expected)]]).min()) - CARE_MARGIN
                if quick[order[at]] * least > np.partition(expected, best - 1)[best - 1]:
                    break
            parts = np.array_split(short[order[at : at + _CARE_BLOCK]], _THREADS)
            expected = np.concatenate([expected, *threads.map(carefully, parts)])
    found = np.argsort(expected, kind="stable")[:best]
    nearest = float(apart[0]) if len(apart) else float("nan")
    return short[order[found]], len(quick), nearest, stopped


def quick_score(
    fit: StudioFit,
    means: AllMeans,
    strays: Strays,
    index: np.ndarray,
    target: FloatArray,
    target_covariance: FloatArray | None,
) -> FloatArray:
    """`score` to first order and from fewer points: a few percent off, and quick."""
    material, coats = means.layers_of(index)
    covariance: FloatArray = np.empty((len(index), 3, 3))
    layers = layers_of(material)
    for count in np.unique(layers):
        rows = np.flatnonzero(layers == count)
        covariance[rows] = quick_scatter(
            fit, means.spread, strays, material[rows, :count], coats[rows, :count], means.body
        )
    mean, covariance = _scaled(fit, means, index, covariance)
    spread = with_target(covariance, target_covariance)
    off = differences(mean, spread, target, QUICK_POINTS)
    return np.asarray(off.mean(axis=1, dtype=np.float64))


def score(
    fit: StudioFit, means: AllMeans, index: np.ndarray, target: FloatArray, target_covariance: FloatArray | None
) -> FloatArray:
    """Expected ΔE00 of layerings by index, kiln, thickness, gap and measuring counted in."""
    material, coats = means.layers_of(index)
    covariance: FloatArray = np.empty((len(index), 3, 3))
    layers = layers_of(material)
    for count in np.unique(layers):
        rows = np.flatnonzero(layers == count)
        wiped = np.zeros((len(rows), count), dtype=bool)
        body = np.full(len(rows), means.body)
        one = (material[rows, :count], coats[rows, :count], wiped, body)
        covariance[rows] = predicting.scatter_about(fit, means.spread, *one)
    mean, covariance = _scaled(fit, means, index, covariance)
    return expected_difference(mean, covariance, target, target_covariance)


def _scaled(
    fit: StudioFit, means: AllMeans, index: np.ndarray, covariance: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Colours and covariances of layerings by index, calibrated, and joined with own tiles where there are any."""
    material, coats = means.layers_of(index)
    mean = means.lab[index].astype(np.float64)
    novelty = predicting.quick_novelty(fit, material, coats, means.body, means.cone)
    covariance = covariance * fit.scale[novelty, None, None] ** 2
    fired = np.flatnonzero(novelty == predicting.ANOTHER_TILE)
    layers = layers_of(material[fired])
    for count in np.unique(layers):
        rows = fired[layers == count]
        wiped, body = np.zeros((len(rows), count), dtype=bool), np.full(len(rows), means.body)
        one = (material[rows, :count], coats[rows, :count], wiped, body)
        mean[rows], covariance[rows] = predicting.beside_own_tiles(
            fit, means.spread, means.cone, one, mean[rows], covariance[rows]
        )
    return mean, covariance


def first_of_each(material: np.ndarray) -> np.ndarray:
    """Rows that are the first with their set of materials, in order."""
    seen: set[bytes] = set()
    rows = []
    for i, row in enumerate(np.sort(material, axis=1)):
        if row.tobytes() not in seen:
            seen.add(row.tobytes())
            rows.append(i)
    return np.array(rows, dtype=np.intp)
