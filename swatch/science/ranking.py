"""The short list: which of many layerings have the smallest expected difference from a target."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import TYPE_CHECKING

import numpy as np

from swatch.science import predicting
from swatch.science.colour_math import de00_metric, delta_e_2000
from swatch.science.fit import FIRING_SD, SESSION_SD, kind_noise
from swatch.science.nearness import COARSE_POINTS, QUICK_POINTS, differences, expected_difference, with_target
from swatch.science.optics import FloatArray
from swatch.science.quick_spread import Strays, quick_scatter
from swatch.science.search import NO_LAYERING, AllMeans
from swatch.science.studio_data import MAKER, layers_of

if TYPE_CHECKING:
    from swatch.science.shifts import StudioFit

STOP_SHARE = 0.9
"""An expected difference is never below this share of `least_expected`; found by scoring everything."""

CARE_MARGIN = 0.03
"""How much further off than on any layering seen so far a quick score is allowed to be."""

GUESS_MARGIN = 0.04
"""The same for a guess from layerings alike."""

MOST_QUICK = 16_384
"""Quick scores at most, for the same reason; those that are guessed best come first."""

MOST_CARE = 1536
"""Careful scores at most: under an opaque top layer thousands of layerings are alike to a hundredth of a unit."""

_BLOCK = 1024
_CARE_BLOCK = 192
_THREADS = 2
_ROWS = 1 << 18


def best_of(
    fit: StudioFit,
    means: AllMeans,
    target: FloatArray,
    target_covariance: FloatArray | None,
    best: int,
    short_list: int,
) -> tuple[np.ndarray, int, float]:
    """Layerings with the smallest expected ΔE00 (indices), how many were scored, and the least plug-in ΔE00."""
    if not means.searched:
        return np.zeros(0, dtype=np.intp), 0, float("nan")
    rough = _rough(means, target)
    fired = fired_before(fit, means)
    found, scored, nearest, whole = np.zeros(0, dtype=np.intp), 0, float("nan"), False
    while not whole:
        short = np.arange(len(rough))
        if len(rough) > short_list:
            short = np.sort(np.argpartition(rough, short_list)[:short_list])
        found, scored, nearest, whole = _score(fit, means, short, fired, target, target_covariance, best)
        whole = whole or len(short) == len(rough)
        short_list *= 4
    return found, scored, nearest


def fired_before(fit: StudioFit, means: AllMeans) -> np.ndarray:
    """Indices of the layerings that own tiles were fired of, on this body near this cone."""
    here = (fit.tile_body == means.body) & (np.abs(fit.tile_cone - means.cone) <= predicting.SAME_CONE)
    here &= (fit.tile_stage != MAKER) & ~fit.tile_wiped.any(axis=1)
    return means.index_of(fit.tile_material[here], fit.tile_coats[here])


def _rough(means: AllMeans, target: FloatArray) -> FloatArray:
    """Squared difference (n,) of each plug-in colour in the target's own metric."""
    root = np.linalg.cholesky(de00_metric(target)).T.astype(np.float32)
    at = (root @ target.astype(np.float32))[:, None]
    rough = np.empty(means.channels.shape[1], dtype=np.float32)
    for start in range(0, len(rough), _ROWS):
        off = root @ means.channels[:, start : start + _ROWS]
        off -= at
        off *= off
        off.sum(axis=0, out=rough[start : start + _ROWS])
    return rough


def least_expected(
    fit: StudioFit, target: FloatArray, target_covariance: FloatArray | None, apart: FloatArray
) -> FloatArray:
    """What is expected at the least of a colour so far from the target: as if only kiln and camera strayed.

    Whatever is not known of the materials comes on top of it.
    """
    least = min(float(noise) for noise in np.unique(kind_noise(fit.kind, np.arange(len(fit.kind)))))
    every = (least + FIRING_SD**2 + SESSION_SD**2) * np.eye(3) + fit.measuring
    spread = with_target(every * float(fit.scale.min()) ** 2, target_covariance)[None]
    alone = float(differences(target[None], spread, target, COARSE_POINTS).mean())
    return np.asarray(np.sqrt(apart * apart + np.float32(alone * alone)))


def _score(
    fit: StudioFit,
    means: AllMeans,
    short: np.ndarray,
    fired: np.ndarray,
    target: FloatArray,
    target_covariance: FloatArray | None,
    best: int,
) -> tuple[np.ndarray, int, float, bool]:
    """Score a short list; the last answer says whether nothing outside it can be among the best.

    Those ``fired`` before are scored in any case: their own tiles may say what their plug-in colours do not.

    The nearest are scored quickly, then those that layerings like them leave some hope for; then those that may
    yet be among the best with care, best first, until the quick score, taken to be as far off as the worst seen
    and a little more, leaves the rest no hope.
    """
    short = short[means.channels[0, short] < NO_LAYERING]
    apart = np.asarray(delta_e_2000(means.channels[:, short].T, target.astype(np.float32)))
    order = np.argsort(apart, kind="stable")
    short, apart = short[order], apart[order]
    nearest = float(apart[0]) if len(apart) else float("nan")
    least = STOP_SHARE * least_expected(fit, target, target_covariance, apart)

    def quickly(rows: np.ndarray) -> FloatArray:
        return quick_score(fit, means, means.strays, short[rows], target, target_covariance)

    def carefully(index: np.ndarray) -> FloatArray:
        return score(fit, means, index, target, target_covariance)

    with ThreadPoolExecutor(_THREADS) as threads:
        rows, quick = _quick_scores(means, short, apart, least, best, lambda part: _split(threads, quickly, part))
        limit = np.partition(quick, best - 1)[best - 1] if len(quick) >= best else np.inf
        whole = bool(len(least) and least[-1] > limit)
        index, quick = _with_fired(fit, means, short[rows], quick, fired, target, target_covariance)
        order = np.argsort(quick, kind="stable")
        quick, index = quick[order], index[order]
        expected = np.zeros(0)
        for at in range(0, min(len(index), max(MOST_CARE, 2 * best)), _CARE_BLOCK):
            if len(expected) >= best:
                share = float((expected / quick[: len(expected)]).min()) - CARE_MARGIN
                if quick[at] * share > np.partition(expected, best - 1)[best - 1]:
                    break
            expected = np.concatenate([expected, _split(threads, carefully, index[at : at + _CARE_BLOCK])])
    return index[np.argsort(expected, kind="stable")[:best]], len(quick), nearest, whole


def _with_fired(
    fit: StudioFit,
    means: AllMeans,
    index: np.ndarray,
    quick: FloatArray,
    fired: np.ndarray,
    target: FloatArray,
    target_covariance: FloatArray | None,
) -> tuple[np.ndarray, FloatArray]:
    """The layerings scored, and those fired before that are not among them, with their quick scores."""
    more = np.setdiff1d(fired, index)
    if not len(more):
        return index, quick
    theirs = quick_score(fit, means, means.strays, more, target, target_covariance)
    return np.concatenate([index, more]), np.concatenate([quick, theirs])


def _split(threads: ThreadPoolExecutor, work: Callable[[np.ndarray], FloatArray], rows: np.ndarray) -> FloatArray:
    return np.concatenate(list(threads.map(work, np.array_split(rows, _THREADS))))


def _quick_scores(
    means: AllMeans,
    short: np.ndarray,
    apart: FloatArray,
    least: FloatArray,
    best: int,
    quickly: Callable[[np.ndarray], FloatArray],
) -> tuple[np.ndarray, FloatArray]:
    """Rows of a short list, nearest first, that may be among the best, and their quick scores.

    After the nearest block the others are taken in the order of what is guessed of them, until a guess, taken to
    be as far off as the worst so far and a little more, leaves no hope.
    """
    rows = np.arange(min(max(_BLOCK, 2 * best), len(short)))
    quick = quickly(rows)
    if len(quick) < best:
        return rows, quick
    limit = np.partition(quick, best - 1)[best - 1]
    open_ = np.arange(len(rows), int(np.searchsorted(least, limit)))
    share = 1.0
    while len(open_) and len(rows) < MOST_QUICK:
        guess = _guesses(means, short, apart, rows, quick, open_)
        order = np.argsort(guess, kind="stable")
        open_, guess = open_[order], guess[order]
        if share < 1.0:
            hopeful = guess * (share - GUESS_MARGIN) <= limit
            open_, guess = open_[hopeful], guess[hopeful]
        part, guess = open_[:_BLOCK], guess[:_BLOCK]
        if not len(part):
            break
        scored = quickly(part)
        share = min(share, float((scored / guess).min()), 1.0 - 1e-9)
        rows, quick = np.concatenate([rows, part]), np.concatenate([quick, scored])
        limit = np.partition(quick, best - 1)[best - 1]
        open_ = open_[_BLOCK:]
        open_ = open_[least[open_] <= limit]
    return rows, quick


def _guesses(
    means: AllMeans, short: np.ndarray, apart: FloatArray, rows: np.ndarray, quick: FloatArray, asked: np.ndarray
) -> FloatArray:
    """Expected ΔE00 of rows from those scored: what a score has over the plug-in difference, in squares, goes with
    the uppermost layer, the one below it and the lowest."""
    marks = [_marks(means, short[part]) for part in (rows, asked)]
    over = np.log(np.maximum(quick**2 - apart[rows] ** 2, 0.3))
    middle = over.mean()
    left, size = over - middle, means.space.allowed.size * (means.space.max_coats + 1) + 1
    guess = np.full(len(asked), middle)
    for mine, theirs in zip(*marks, strict=True):
        effect = np.bincount(mine, left, size) / (np.bincount(mine, minlength=size) + 1.0)
        left = left - effect[mine]
        guess += effect[theirs]
    return np.asarray(np.sqrt(apart[asked] ** 2 + np.exp(guess)))


def _marks(means: AllMeans, index: np.ndarray) -> list[np.ndarray]:
    """Material and coats of the uppermost, the second and the lowest layer, as one number each."""
    material, coats = means.layers_of(index)
    marks = material * (means.space.max_coats + 1) + coats.astype(np.intp)
    at, depth, none = (
        np.arange(len(index)),
        layers_of(material),
        means.space.allowed.size * (means.space.max_coats + 1),
    )
    second = np.where(depth > 1, marks[at, np.maximum(depth - 2, 0)], none)
    return [marks[at, depth - 1], second, np.where(depth > 2, marks[at, 0], none)]


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
    covariance = covariance * fit.scale_of(novelty, material)[:, None, None] ** 2
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
