"""All layerings of the materials at hand, and those that come nearest a target colour.

Plug-in colours are worked out once for a body and a cone, prefixes shared; a target then costs a short list.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import permutations, product
from math import comb, perm
from typing import TYPE_CHECKING

import numpy as np

from swatch.science import predicting
from swatch.science.blocks import Blocks, Patterns
from swatch.science.nearness import Nearness, nearness
from swatch.science.optics import FloatArray
from swatch.science.predicting import Spread
from swatch.science.quick_spread import Strays, strays_of
from swatch.terms.report import Report

if TYPE_CHECKING:
    from swatch.science.shifts import StudioFit

NO_LAYERING = 1e5
"""L* from which a slot holds no layering."""
_TOLD_EVERY = 16
_MOST = 40_000_000


class TooManyLayerings(ValueError):
    """The limits allow more layerings than can be gone through."""


@dataclass(frozen=True)
class Space:
    """Which layerings to go through. Masks are over the fit's materials.

    ``allowed`` may be used at all; ``may_top`` may lie uppermost; ``may_under`` may have another over it;
    each of ``must_use`` is in every layering. Layers are of different materials, coats whole.
    """

    allowed: np.ndarray
    may_top: np.ndarray
    may_under: np.ndarray
    must_use: tuple[int, ...] = ()
    max_layers: int = 3
    max_coats: int = 4


@dataclass(frozen=True)
class AllMeans:
    """Plug-in colours of every layering of a space on one body at one cone. Build with `all_means`."""

    space: Space
    body: int
    cone: float
    spread: Spread
    channels: FloatArray  # (3, n) float32 L*, a*, b*; L* is far out where the slot holds no layering
    singles: np.ndarray  # (s, 2) material, coats
    unders: np.ndarray
    tops: np.ndarray
    prefixes: np.ndarray  # (blocks, max_layers) materials below the two uppermost layers, −1 else
    patterns: np.ndarray  # (blocks, max_layers) coats, 0 after the last
    searched: int

    @cached_property
    def strays(self) -> Strays:
        """How far each draw strays at this cone: tables for quick scores, made with the first target."""
        return strays_of(self.spread)

    @property
    def lab(self) -> FloatArray:
        """The colours as (n, 3)."""
        return self.channels.T

    def layers_of(self, index: np.ndarray) -> tuple[np.ndarray, FloatArray]:
        """Materials (k, max_layers) and coats of layerings by index, −1 and 0 after the last."""
        width = max(self.space.max_layers, 1)
        material, coats = np.full((len(index), width), -1), np.zeros((len(index), width))
        single = index < len(self.singles)
        material[single, 0], coats[single, 0] = self.singles[index[single]].T
        rows = np.flatnonzero(~single)
        if len(rows):
            block, within = np.divmod(index[rows] - len(self.singles), len(self.unders) * len(self.tops))
            under, top = np.divmod(within, len(self.tops))
            material[rows], coats[rows] = self.prefixes[block], self.patterns[block]
            depth = (self.patterns[block] > 0).sum(axis=1)
            material[rows, depth - 2], material[rows, depth - 1] = self.unders[under], self.tops[top]
        return material, coats

    def index_of(self, material: np.ndarray, coats: FloatArray) -> np.ndarray:
        """Indices of those layerings (k, layers, padded with −1 and 0) that the space holds, in no order."""
        width = max(self.space.max_layers, 1)
        fits = ((material >= 0).sum(axis=1) <= width) & (material >= 0).any(axis=1)
        singles = {(int(m), int(c)): i for i, (m, c) in enumerate(self.singles)}
        under, top = ({int(m): i for i, m in enumerate(which)} for which in (self.unders, self.tops))
        blocks = {_block_key(one, coat): i for i, (one, coat) in enumerate(zip(self.prefixes, self.patterns))}
        found: set[int] = set()
        for row, of_row in zip(material[fits], coats[fits], strict=True):
            used, worn = row[row >= 0], of_row[row >= 0]
            if len(used) == 1:
                found.add(singles.get((int(used[0]), int(worn[0])) if worn[0] % 1 == 0 else (-1, -1), -1))
                continue
            below, lower, upper = used[:-2], under.get(int(used[-2]), -1), top.get(int(used[-1]), -1)
            block = blocks.get(_block_key(_filled(below, width, -1), _filled(worn, width, 0.0)), -1)
            if min(block, lower, upper) >= 0:
                at = block * len(self.unders) * len(self.tops) + lower * len(self.tops) + upper
                found.add(len(self.singles) + at)
        index = np.array(sorted(found - {-1}), dtype=np.intp)
        return np.asarray(index[self.channels[0, index] < NO_LAYERING])


def _block_key(prefix: np.ndarray, pattern: FloatArray) -> bytes:
    return prefix.astype(float).tobytes() + pattern.astype(float).tobytes()


def _filled(row: np.ndarray, width: int, fill: float) -> np.ndarray:
    return np.concatenate([row, np.full(width - len(row), fill)])


def _coat_patterns(layers: int, most: int) -> list[tuple[int, ...]]:
    return [c for c in product(range(1, most + 1), repeat=layers) if sum(c) <= most]


def all_means(fit: StudioFit, space: Space, body: int, cone: float, report: Report) -> AllMeans:
    """Work out the plug-in colour of every layering.

    Raises
    ------
    TooManyLayerings
        More than 40 million slots; narrow the limits or the stock.
    """
    spread = predicting.spread_at(fit, cone, space.max_layers)
    allowed = np.flatnonzero(space.allowed)
    tops = allowed[space.may_top[allowed]]
    unders = allowed[space.may_under[allowed]]
    must = set(space.must_use)
    bare = spread.plain.body[0, body]
    singles = [(m, c) for m in tops for c in range(1, space.max_coats + 1) if must <= {int(m)}]
    if space.max_layers < 1:
        singles = []
    one = np.array(singles, dtype=np.intp).reshape(-1, 2)
    size = len(unders) * len(tops)
    if size * slots_below(len(unders), space) > _MOST:
        raise TooManyLayerings("the limits allow more layerings than can be gone through")
    jobs = list(_prefixes(unders, space, must)) if size else []
    slots = len(one) + size * sum(len(job.coats) for job in jobs)
    lab = np.empty((3, slots), dtype=np.float32)
    if len(one):
        coats = one[:, 1:].astype(float)
        lab[:, : len(one)] = predicting.middle_colours(
            spread, one[:, :1], coats, np.zeros((len(one), 1), dtype=bool), np.full(len(one), body)
        ).T
    blocks = [(job.prefix, pattern) for job in jobs for pattern in job.coats]
    prefixes = np.full((len(blocks), max(space.max_layers, 1)), -1)
    counts = np.zeros((len(blocks), max(space.max_layers, 1)))
    for i, (prefix, pattern) in enumerate(blocks):
        prefixes[i, : len(prefix)], counts[i, : len(pattern)] = prefix, pattern
    worker = Blocks(spread, bare, unders, tops, space.max_coats, frozenset(must)) if blocks else None
    searched = len(one) + (_fill(worker, jobs, lab[:, len(one) :], report) if worker else 0)
    return AllMeans(space, body, cone, spread, lab, one, unders, tops, prefixes, counts, searched)


def _fill(worker: Blocks, jobs: Sequence[Patterns], out: FloatArray, report: Report) -> int:
    """All blocks, a prefix at a time; how many layerings are real.

    In one thread: passes are so short that two threads mostly wait for each other.
    """
    size = len(worker.unders) * len(worker.tops)
    starts = np.cumsum([0, *(size * len(job.coats) for job in jobs)])

    def one(n: int) -> int:
        job, shape = jobs[n], (3, len(jobs[n].coats), len(worker.unders), len(worker.tops))
        return worker.fill(job, out[:, starts[n] : starts[n + 1]].reshape(shape))

    done = 0
    for n in range(len(jobs)):
        if n % _TOLD_EVERY == 0:
            report(n, len(jobs), "layerings")
        done += one(n)
    return done


def slots_below(unders: int, space: Space) -> int:
    """How many prefixes below the two uppermost layers, times their coats, a space has at most."""
    most = min(space.max_layers, space.max_coats)
    return sum(perm(unders, layers - 2) * comb(space.max_coats, layers) for layers in range(2, most + 1))


def _prefixes(unders: np.ndarray, space: Space, must: set[int]) -> Iterator[Patterns]:
    """Prefixes below the two uppermost layers, with the coats the whole layering may have."""
    for layers in range(2, min(space.max_layers, space.max_coats) + 1):
        patterns = tuple(_coat_patterns(layers, space.max_coats))
        for prefix in permutations(unders.tolist(), layers - 2):
            if len(must - set(prefix)) <= 2:
                yield Patterns(prefix, patterns)


@dataclass(frozen=True)
class Ranked:
    """Layerings nearest a target, best first: materials, coats, and how near each is."""

    material: np.ndarray
    coats: FloatArray
    mean: FloatArray
    covariance: FloatArray
    near: Nearness
    searched: int
    scored: int
    nearest_mean: float


def rank(
    fit: StudioFit,
    means: AllMeans,
    target: FloatArray,
    *,
    target_covariance: FloatArray | None = None,
    tolerance: float = 2.0,
    top: int = 10,
    different: bool = False,
    short_list: int = 24_000,
) -> Ranked:
    """Rank every layering by its expected ΔE00 from a target.

    Layerings are scored in the order of their plug-in colours' difference, until even `STOP_SHARE` of that
    difference is more than the expected difference of the last of the best.

    Parameters
    ----------
    fit : StudioFit
    means : AllMeans
        From `all_means` of the same fit.
    target : (3,) float
        CIELAB.
    target_covariance : (3, 3) float, optional
        The target's own doubt.
    tolerance : float
        ΔE00 that the chance is stated for.
    top : int
        How many to give.
    different : bool
        Give only the best of each set of materials, so that the answers differ from each other.
    short_list : int
        How many are looked at closely before all are.

    Returns
    -------
    Ranked
        Refused layerings are left out of it.
    """
    from swatch.science.ranking import best_of, first_of_each

    # Some more, since the short list is ordered by few points and single precision, the answers by many.
    most = max(120, top + top // 5) if not different else max(400, 40 * top)
    index, scored, nearest = best_of(fit, means, target, target_covariance, most, short_list)
    if different:
        index = index[first_of_each(means.layers_of(index)[0])][: max(2 * top, 20)]
    material, coats = means.layers_of(index)
    wiped = np.zeros(material.shape, dtype=bool)
    k = len(index)
    said = fit.predict(material, coats, wiped, np.full(k, means.body), np.full(k, means.cone))
    fine = said.refused == 0
    near = nearness(said.mean[fine], said.covariance[fine], target, target_covariance, tolerance)
    order = np.argsort(near.expected, kind="stable")
    keep = np.flatnonzero(fine)[order][:top]
    return Ranked(
        material[keep],
        coats[keep],
        said.mean[keep],
        said.covariance[keep],
        near.only(order[:top]),
        means.searched,
        scored,
        nearest,
    )
