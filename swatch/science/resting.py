"""On which tiles a prediction rests, and what one more tile would change."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from swatch.science import fit, predicting
from swatch.science.optics import FloatArray
from swatch.science.predicting import NEAR, Predicted
from swatch.science.states import colours, state_at
from swatch.science.studio_data import MAKER, layers_of

if TYPE_CHECKING:
    from swatch.science.shifts import StudioFit


@dataclass(frozen=True)
class Resting:
    """What one prediction rests on, strongest first.

    ``row`` (k,) in the studio's readings; ``pull`` (k,) the share by which the prediction follows a tile's colour;
    ``without`` (k, 3) how far it would move without the tile, about; ``one_more`` (3, 3) its covariance after one
    more tile of the very layering.
    """

    row: np.ndarray
    pull: FloatArray
    without: FloatArray
    one_more: FloatArray


def resting_on(
    fit_: StudioFit,
    question: tuple[np.ndarray, FloatArray, np.ndarray, np.ndarray, FloatArray],
    said: Predicted,
    top: int,
) -> Resting:
    """Tiles that one prediction rests on most, from how the draws move together.

    About the most probable latents a prediction follows a reading y by cov(f, g) N⁻¹, where f is what the draws
    say of the question, g what they say of the reading, and N the reading's own scatter (Gauss's normal
    equations); leaving it out moves the prediction by about −cov(f, g) N⁻¹ (y − g). The share stated has
    N + cov(g, g) in place of N, since draws overstate what few tiles leave open.

    Parameters
    ----------
    question : the arrays of `StudioFit.predict`, of one row
    said : Predicted
        Its answer, not refused.
    top : int
        How many tiles at most.
    """
    material, coats, wiped, body, cone = question
    count = int(layers_of(material)[0])
    asked = _moves(fit_, material[:, :count], coats[:, :count], wiped[:, :count], body, float(cone[0]))[0]
    used = material[0][material[0] >= 0]
    real = np.flatnonzero((fit_.tile_row >= 0) & (fit_.tile_stage != MAKER))
    akin = np.isin(fit_.tile_material[real], used).any(axis=1) if len(used) else fit_.tile_body[real] == body[0]
    real = real[akin]
    pull, without = np.zeros(len(real)), np.zeros((len(real), 3))
    layers = layers_of(fit_.tile_material[real])
    for at in np.unique(fit_.tile_cone[real]):
        for many in np.unique(layers):
            some = np.flatnonzero((fit_.tile_cone[real] == at) & (layers == many))
            if not len(some):
                continue
            tiles = real[some]
            of_tiles = (fit_.tile_material[tiles, :many], fit_.tile_coats[tiles, :many])
            moves = _moves(fit_, *of_tiles, fit_.tile_wiped[tiles, :many], fit_.tile_body[tiles], float(at))
            top_one = fit_.tile_material[tiles, many - 1] if many else np.full(len(tiles), -1)
            noise = fit.kind_noise(fit_.kind, top_one)[:, None, None] * np.eye(3) + fit_.measuring
            noise = noise + fit.OFFSET_SD**2 * np.eye(3)
            both = asked[None] @ moves.transpose(0, 2, 1) / moves.shape[2]
            own = moves @ moves.transpose(0, 2, 1) / moves.shape[2]
            pull[some] = np.trace(both @ np.linalg.inv(noise + own), axis1=1, axis2=2) / 3.0
            gain = both @ np.linalg.inv(noise)
            without[some] = -(gain @ fit_.tile_residual[tiles][:, :, None])[:, :, 0]
    order = np.argsort(-pull, kind="stable")[:top]
    order = order[pull[order] > 0.0]
    doubt = said.covariance[0]
    # Of the next tile's scatter this much no tile can take away.
    rest = fit_.measuring + (fit.OFFSET_SD**2 + 0.5) * np.eye(3)
    values, turn = np.linalg.eigh(doubt - rest)
    knowable = (turn * np.maximum(values, 0.0)) @ turn.T
    one_more = doubt - knowable @ np.linalg.solve(knowable + rest, knowable)
    return Resting(fit_.tile_row[real[order]], np.minimum(pull[order], 1.0), without[order], one_more)


def _moves(
    fit_: StudioFit, material: np.ndarray, coats: FloatArray, wiped: np.ndarray, body: np.ndarray, cone: float
) -> FloatArray:
    """What each draw of the latents does to layerings of one number of layers (k, 3, d), all made as asked."""
    mode = fit_.z[: fit_.colour_draws.shape[1]]
    near = mode + NEAR * (fit_.colour_draws - mode)
    drawn = state_at(fit_, fit_.layout.latents(near), np.full(len(near), cone)).quick()
    middle = state_at(fit_, fit_.layout.latents(fit_.z[None]), np.array([cone])).quick()
    lab, shows = colours(drawn, material, coats[None], wiped, body)
    centre, seen = colours(middle, material, coats[None], wiped, body)
    index = predicting.pair_index(fit_.pairs, len(fit_.kind))
    start = fit_.layout.starts["pair"]
    pair_mode = fit_.z[start:].reshape(-1, 3)
    pair_near = pair_mode + NEAR * (fit_.pair_draws - pair_mode)
    for j in range(1, material.shape[1]):
        pair = index[material[:, j - 1], material[:, j]]
        on = np.flatnonzero(pair >= 0)
        lab[:, on] += shows[:, on, j, None] * (fit.PAIR_SD * pair_near[:, pair[on]])
        centre[:, on] += seen[:, on, j, None] * (fit.PAIR_SD * pair_mode[pair[on]])
    return np.asarray(((lab - centre) / NEAR).transpose(1, 2, 0), dtype=np.float64)
