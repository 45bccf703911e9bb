"""All layerings of the materials at hand, and those that come nearest a target colour.

Plug-in colours are worked out once for a body and a cone, prefixes shared; a target then costs a short list.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import permutations, product
from math import comb, perm
from typing import TYPE_CHECKING

import numpy as np

from swatch.science import optics, predicting, priors
from swatch.science.nearness import Nearness, nearness
from swatch.science.optics import FloatArray
from swatch.science.predicting import Spread
from swatch.terms.report import Report

if TYPE_CHECKING:
    from swatch.science.shifts import StudioFit

_FAR = np.float32(1e6)
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
    lab: FloatArray  # (n, 3) float32; far out where the slot holds no layering
    singles: np.ndarray  # (s, 2) material, coats
    unders: np.ndarray
    tops: np.ndarray
    prefixes: np.ndarray  # (blocks, max_layers) materials below the two uppermost layers, −1 else
    patterns: np.ndarray  # (blocks, max_layers) coats, 0 after the last
    searched: int

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


def _coat_patterns(layers: int, most: int) -> list[tuple[int, ...]]:
    return [c for c in product(range(1, most + 1), repeat=layers) if sum(c) <= most]


@dataclass(frozen=True)
class _Tables:
    """Single-precision tables of one state: what each layer does between given neighbours."""

    ratio: FloatArray  # (m, 8)
    s: FloatArray  # (m,)
    inner: FloatArray  # (m,)
    kept: FloatArray  # (m, m)
    gained: FloatArray  # (m, m)

    def coat(self, ratio: FloatArray, material: np.ndarray | int, coats: int) -> tuple[FloatArray, FloatArray]:
        """R₀ and T² of layers of ``material`` (...) with K/S ``ratio`` (..., 8)."""
        tilt = np.exp(priors.SCATTER_TILT).astype(np.float32) * np.float32(coats)
        return optics.thin_coat(ratio, self.s[material, None] * tilt)


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
    state = spread.middle
    parts = (state.ratio, state.s, state.inner, state.kept, state.gained)
    tables = _Tables(*(part[0].astype(np.float32) for part in parts))
    bare = state.body[0, body].astype(np.float32)
    singles = [(m, c) for m in tops for c in range(1, space.max_coats + 1) if must <= {int(m)}]
    if space.max_layers < 1:
        singles = []
    one = np.array(singles, dtype=np.intp).reshape(-1, 2)
    size = len(unders) * len(tops)
    if size * slots_below(len(unders), space) > _MOST:
        raise TooManyLayerings("the limits allow more layerings than can be gone through")
    jobs = list(_prefixes(unders, space, must)) if size else []
    slots = len(one) + size * sum(len(patterns) for _, patterns in jobs)
    lab = np.empty((slots, 3), dtype=np.float32)
    if len(one):
        coats = one[:, 1:].astype(float)
        lab[: len(one)] = predicting.middle_colours(
            spread, one[:, :1], coats, np.zeros((len(one), 1), dtype=bool), np.full(len(one), body)
        )
    at = len(one)
    blocks = [(prefix, pattern) for prefix, patterns in jobs for pattern in patterns]
    prefixes = np.full((len(blocks), max(space.max_layers, 1)), -1)
    counts = np.zeros((len(blocks), max(space.max_layers, 1)))
    for i, (prefix, pattern) in enumerate(blocks):
        prefixes[i, : len(prefix)], counts[i, : len(pattern)] = prefix, pattern
    searched = len(one)
    worker = _Blocks(tables, spread, bare, unders, tops, space, must)
    for step, (prefix, patterns) in enumerate(jobs):
        if step % 16 == 0:
            report(step, len(jobs), "layerings")
        out = lab[at : at + size * len(patterns)].reshape(len(patterns), len(unders), len(tops), 3)
        searched += worker.fill(prefix, patterns, out)
        at += size * len(patterns)
    return AllMeans(space, body, cone, spread, lab, one, unders, tops, prefixes, counts, searched)


def slots_below(unders: int, space: Space) -> int:
    """How many prefixes below the two uppermost layers, times their coats, a space has at most."""
    most = min(space.max_layers, space.max_coats)
    return sum(perm(unders, layers - 2) * comb(space.max_coats, layers) for layers in range(2, most + 1))


def _prefixes(
    unders: np.ndarray, space: Space, must: set[int]
) -> Iterator[tuple[tuple[int, ...], list[tuple[int, ...]]]]:
    """Prefixes below the two uppermost layers, with the coats the whole layering may have."""
    for layers in range(2, min(space.max_layers, space.max_coats) + 1):
        patterns = _coat_patterns(layers, space.max_coats)
        for prefix in permutations(unders.tolist(), layers - 2):
            if len(must - set(prefix)) <= 2:
                yield prefix, patterns


@dataclass
class _Blocks:
    """Fills blocks of (second layer from above × uppermost layer) for each prefix below them."""

    tables: _Tables
    spread: Spread
    bare: FloatArray
    unders: np.ndarray
    tops: np.ndarray
    space: Space
    must: set[int]

    def __post_init__(self) -> None:
        t, unders, tops = self.tables, self.unders, self.tops
        low, high = unders[:, None], tops[None, :]
        most = self.space.max_coats
        self.ratio_low = t.ratio[low] * t.kept[low, high][..., None]
        ratio_top = t.ratio[high] + t.ratio[low] * t.gained[low, high][..., None]
        self.top = [t.coat(ratio_top, high, c) for c in range(1, most + 1)]
        self.shows = [through.mean(axis=-1) for _, through in self.top]
        self.same = low == high
        self.inner = t.inner[high][..., None]
        pair = self.spread.pair[low, high]
        known = self.spread.pair_middle if len(self.spread.pair_middle) else np.zeros((1, 3))
        self.offset = np.where((pair >= 0)[..., None], known[np.maximum(pair, 0)], 0.0).astype(np.float32)
        self.has = np.isin(low, list(self.must)).astype(int) + np.isin(high, list(self.must))

    def fill(self, prefix: tuple[int, ...], patterns: list[tuple[int, ...]], out: FloatArray) -> int:
        """Colours of all patterns over one prefix into ``out`` (patterns, unders, tops, 3); how many are real."""
        bad = self.same | np.isin(self.unders, prefix)[:, None] | np.isin(self.tops, prefix)[None, :]
        if self.must:
            bad = bad | (self.has < len(self.must - set(prefix)))
        ratio_middle = self.ratio_low
        if prefix:
            into = self.tables.gained[prefix[-1], self.unders]
            ratio_middle = ratio_middle + (self.tables.ratio[prefix[-1]] * into[:, None])[:, None, :]
        below: dict[tuple[int, ...], FloatArray] = {}
        middle: dict[int, tuple[FloatArray, FloatArray]] = {}
        reached: dict[tuple[int, ...], FloatArray] = {}
        for i, pattern in enumerate(patterns):
            lower, second, top = pattern[:-2], pattern[-2], pattern[-1]
            if pattern[:-1] not in reached:
                if lower not in below:
                    below[lower] = self._below(prefix, lower)
                if second not in middle:
                    middle[second] = self.tables.coat(ratio_middle, self.unders[:, None], second)
                reached[pattern[:-1]] = optics.laid(*middle[second], below[lower][:, None, :])
            inside = optics.laid(*self.top[top - 1], reached[pattern[:-1]])
            lab = optics.bands_to_lab(optics.through_surface(inside, self.inner))
            lab += self.offset
            if prefix:
                lab += self.shows[top - 1][..., None] * self._lower_offset(prefix[-1])
                lab += self._deep_offsets(prefix, pattern, middle)
            lab[bad] = _FAR
            out[i] = lab
        return int((~bad).sum()) * len(patterns)

    def _below(self, prefix: tuple[int, ...], coats: tuple[int, ...]) -> FloatArray:
        """Reflectance under the second layer for each choice of that layer: (unders, 8)."""
        t = self.tables
        reached = np.broadcast_to(self.bare, (len(self.unders), 8))
        for j, material in enumerate(prefix):
            above = np.full(len(self.unders), prefix[j + 1]) if j + 1 < len(prefix) else self.unders
            ratio = t.ratio[material] * t.kept[material, above][:, None]
            if j:
                ratio = ratio + t.ratio[prefix[j - 1]] * t.gained[prefix[j - 1], material]
            reached = optics.laid(*t.coat(ratio, material, coats[j]), reached)
        return reached

    def _lower_offset(self, lower: int) -> FloatArray:
        pair = self.spread.pair[lower, self.unders]
        known = self.spread.pair_middle if len(self.spread.pair_middle) else np.zeros((1, 3))
        found = np.where((pair >= 0)[:, None], known[np.maximum(pair, 0)], 0.0).astype(np.float32)
        return np.asarray(found[:, None, :])

    def _deep_offsets(
        self, prefix: tuple[int, ...], pattern: tuple[int, ...], middle: dict[int, tuple[FloatArray, FloatArray]]
    ) -> FloatArray | float:
        """Offsets of pairs further down, seen through every layer above them."""
        if len(prefix) < 2:
            return 0.0
        t = self.tables
        total: FloatArray | float = 0.0
        through = self.shows[pattern[-1] - 1] * middle[pattern[-2]][1].mean(axis=-1)
        for j in range(len(prefix) - 1, 0, -1):
            pair = int(self.spread.pair[prefix[j - 1], prefix[j]])
            if pair >= 0:
                total = total + through[..., None] * self.spread.pair_middle[pair].astype(np.float32)
            above = np.full(len(self.unders), prefix[j + 1]) if j + 1 < len(prefix) else self.unders
            ratio = t.ratio[prefix[j]] * t.kept[prefix[j], above][:, None]
            ratio = ratio + t.ratio[prefix[j - 1]] * t.gained[prefix[j - 1], prefix[j]]
            passed = t.coat(ratio, prefix[j], pattern[j])[1].mean(axis=-1)
            through = through * passed[:, None]
        return total


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
    short_list: int = 60_000,
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

    most = max(50, top) if not different else max(400, 40 * top)
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
