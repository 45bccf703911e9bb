"""What many layerings may fire to, drawn together: they share materials, so they are off together.

For choices that concern several layerings at once: whether any of them meets a target, and which to fire next.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from swatch.science import fit, predicting, priors
from swatch.science.nearness import normal_points
from swatch.science.optics import FloatArray
from swatch.science.predicting import NEAR, UNSEEN_PAIR_SD, Spread
from swatch.science.states import State, colours, state_at
from swatch.science.studio_data import layers_of

if TYPE_CHECKING:
    from swatch.science.shifts import StudioFit

_SEED = 20_240_607


class Together:
    """Draws of the average next tile of layerings on bodies at one cone; the same for the same fit."""

    def __init__(self, fit_: StudioFit, spread: Spread, cone: float) -> None:
        self._fit, self._spread, self._cone = fit_, spread, cone
        mode = fit_.z[: fit_.colour_draws.shape[1]]
        near = mode + NEAR * (fit_.colour_draws - mode)
        self.count = len(near)
        random = np.random.Generator(np.random.PCG64(_SEED))
        gap = predicting.gaps(fit_, cone)
        gap = np.minimum(np.where(np.isfinite(gap), gap, 0.0), 20.0)
        astray = NEAR * random.standard_normal((self.count, len(gap), 2))
        astray *= (predicting.GAP_SD * np.sqrt(gap / priors.CONES_PER_T))[:, None]
        cones = np.full(self.count, cone)
        self._drawn: State = state_at(fit_, fit_.layout.latents(near), cones, astray).quick()

    def strays(self, material: np.ndarray, coats: FloatArray, body: np.ndarray) -> tuple[FloatArray, FloatArray]:
        """Means (k, 3) and what each draw adds to them (d, k, 3), for layerings padded with −1."""
        k, wiped = len(material), np.zeros(material.shape, dtype=bool)
        asked = np.full(k, self._cone)
        said = self._fit.predict(material, coats, wiped, body, asked)
        off = np.zeros((self.count, k, 3))
        layers = layers_of(material)
        for count in np.unique(layers):
            rows = np.flatnonzero(layers == count)
            off[:, rows] = self._of_one_depth(material[rows, :count], coats[rows, :count], body[rows])
        off *= self._fit.scale_of(said.novelty, material)[:, None]
        # A layering fired before is known better than its materials are: no further off than its answer says.
        wide = np.einsum("dki,dki->k", off, off) / self.count
        told = np.maximum(np.trace(said.covariance, axis1=1, axis2=2) - np.trace(self.noise(material)[0]), 0.2)
        off *= np.where(said.same_layering > 0, np.sqrt(np.minimum(told / np.maximum(wide, 1e-9), 1.0)), 1.0)[
            :, None
        ]
        return said.mean, off

    def noise(self, material: np.ndarray) -> FloatArray:
        """Covariance (k, 3, 3) of one fired and measured tile about its average."""
        top = material[np.arange(len(material)), np.maximum(layers_of(material) - 1, 0)]
        every = fit.kind_noise(self._fit.kind, top) + fit.FIRING_SD**2 + fit.SESSION_SD**2
        return np.asarray(every[:, None, None] * np.eye(3) + self._fit.measuring)

    def _of_one_depth(self, material: np.ndarray, coats: FloatArray, body: np.ndarray) -> FloatArray:
        spread, wiped = self._spread, np.zeros(material.shape, dtype=bool)
        off = np.empty((self.count, len(material), 3))
        for at in range(0, len(material), 96):
            part = slice(at, at + 96)
            one = (material[part], coats[part].astype(np.float32)[None], wiped[part], body[part])
            lab, shows = colours(self._drawn, *one)
            centre, _ = colours(spread.plain, *one)
            off[:, part] = (lab - centre) / NEAR
            for j in range(1, material.shape[1]):
                off[:, part] += shows[:, :, j, None] * self._pairs(material[part, j - 1], material[part, j])
        return off

    def _pairs(self, lower: np.ndarray, upper: np.ndarray) -> FloatArray:
        """What pairs add (d, k, 3): each never seen touching may react in its own way."""
        pair = self._spread.pair[lower, upper]
        known, drawn = self._spread.pair_middle, self._spread.pair_drawn
        out = np.empty((self.count, len(pair), 3))
        for i, at in enumerate(pair):
            if at >= 0:
                out[:, i] = (drawn[:, at] - known[at]) / NEAR
            else:
                own = np.random.Generator(np.random.PCG64([_SEED, int(lower[i]), int(upper[i])]))
                out[:, i] = UNSEEN_PAIR_SD * own.standard_normal((self.count, 3))
        return out


def both_ways(mean: FloatArray, off: FloatArray) -> FloatArray:
    """Draws (2 d, k, 3) about the means, each with its mirror image."""
    return np.concatenate([mean + off, mean - off])


def scattered(noise: FloatArray, draws: int) -> FloatArray:
    """Scatter (draws, k, 3) of single tiles, another for each tile, even over the draws."""
    root = np.linalg.cholesky(noise)
    count = draws + draws % 2
    points = normal_points(count)[:draws]
    random = np.random.Generator(np.random.PCG64(_SEED + 1))
    mixed = np.stack([points[random.permutation(draws)] for _ in range(len(noise))], axis=1)
    return np.asarray(np.einsum("kij,dkj->dki", root, mixed))
