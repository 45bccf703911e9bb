"""Which tiles to fire next, chosen together: for a target, or to learn the most."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swatch.science.optics import FloatArray


@dataclass(frozen=True)
class Chosen:
    """Candidates in the order chosen, and what each adds: ΔE00 off the expected best, or doubt taken away."""

    index: np.ndarray
    adds: FloatArray
    left: float
    """Expected ΔE00 of the best in the end, or the share of doubt that is left."""


def for_targets(apart: FloatArray, count: int, start: FloatArray) -> Chosen:
    """Choose tiles that together lower the expected ΔE00 of the best one, for each of some uses.

    Parameters
    ----------
    apart : (u, d, k) float
        ΔE00 of each candidate from each use's target in each draw; infinite where it does not serve the use.
    count : int
    start : (u, d) float
        The best there is already.

    Returns
    -------
    Chosen
        Each tile in turn lowers the sum over uses of the expected best most; then each is exchanged for any that
        does better beside the others, until none does.
    """
    best = start.copy()
    chosen: list[int] = []
    count = min(count, apart.shape[2])

    def expected(against: FloatArray) -> FloatArray:
        return np.asarray(np.minimum(apart, against[:, :, None]).mean(axis=1).sum(axis=0))

    for _ in range(count):
        price = expected(best)
        price[chosen] = np.inf
        chosen.append(int(np.argmin(price)))
        best = np.minimum(best, apart[:, :, chosen[-1]])
    for _ in range(3):
        before = list(chosen)
        for place in range(count):
            others = chosen[:place] + chosen[place + 1 :]
            without = np.minimum(start, apart[:, :, others].min(axis=2)) if others else start
            price = expected(without)
            price[others] = np.inf
            if price.min() < price[chosen[place]] - 1e-9:
                chosen[place] = int(np.argmin(price))
        if chosen == before:
            break
    return _in_order(apart, start, chosen)


def _in_order(apart: FloatArray, start: FloatArray, chosen: list[int]) -> Chosen:
    """The chosen, what helps most first, with what each adds to those before it."""
    left, best, order, adds = list(chosen), start.copy(), [], []
    at = float(best.mean(axis=1).sum())
    while left:
        price = [float(np.minimum(best, apart[:, :, c]).mean(axis=1).sum()) for c in left]
        pick = int(np.argmin(price))
        adds.append(at - price[pick])
        at = price[pick]
        order.append(left.pop(pick))
        best = np.minimum(best, apart[:, :, order[-1]])
    return Chosen(np.array(order, dtype=np.intp), np.array(adds), at)


def to_teach(
    candidates: FloatArray, noise: FloatArray, asked: FloatArray, metric: FloatArray, count: int
) -> Chosen:
    """Choose tiles that together take most of the doubt out of some questions.

    Parameters
    ----------
    candidates, asked : (d, k, 3), (d, q, 3) float
        How far each draw strays from the mean of each tile that may be fired, and of each question.
    noise : (k, 3, 3) float
        Scatter of one fired tile about its average.
    metric : (q, 3, 3) float
        Local metric of ΔE00 at each question.

    Returns
    -------
    Chosen

    References
    ----------
    Whitaker & Hamill (2002), Monthly Weather Review 130, 1913: square-root update of an ensemble, one observed
    number at a time; remembered, not looked up.
    """
    ours, theirs = candidates.copy(), asked.copy()
    root = np.linalg.cholesky(metric)
    theirs = np.einsum("dqi,qij->dqj", theirs, root)
    draws = len(ours)
    whole = float((theirs**2).sum() / draws)
    chosen: list[int] = []
    adds: list[float] = []
    now = whole
    for _ in range(min(count, ours.shape[1])):
        inner = np.einsum("dki,dkj->kij", ours, ours) / draws + noise
        flat = theirs.reshape(draws, -1)
        cross = np.einsum("dki,dq->kiq", ours, flat) / draws
        gain = np.einsum("kiq,kiq->k", cross, np.linalg.solve(inner, cross))
        gain[chosen] = -np.inf
        best = int(np.argmax(gain))
        chosen.append(best)
        turn, spread = np.linalg.eigh(noise[best])[::-1]
        for axis in range(3):
            seen = ours[:, best] @ turn[:, axis]
            variance = float(seen @ seen) / draws + float(spread[axis])
            share = 1.0 / (1.0 + np.sqrt(float(spread[axis]) / variance))
            for one in (ours, theirs):
                pull = np.einsum("d,dki->ki", seen, one) / (draws * variance)
                one -= share * seen[:, None, None] * pull
        after = float((theirs**2).sum() / draws)
        adds.append((now - after) / max(whole, 1e-12))
        now = after
    return Chosen(np.array(chosen, dtype=np.intp), np.array(adds), now / max(whole, 1e-12))
