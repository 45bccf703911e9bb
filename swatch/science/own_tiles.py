"""What a studio's own tiles of a layering say of the next one, beside what the model says.

The model carries its doubt through latents that few tiles tie down loosely; of a layering that was fired several
times the tiles themselves say more: the next is about their mean, as far off as they are from each other.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from swatch.science import fit
from swatch.science.optics import FloatArray
from swatch.science.studio_data import MAKER

if TYPE_CHECKING:
    from swatch.science.shifts import StudioFit

SAME_HEAT = 0.25
"""Tiles of a layering count as the same up to so many cones apart."""

WORTH = 4.0
"""The scatter expected beforehand counts as much as this many tiles."""

TAIL_FREEDOM = 8.0
"""Freedom of the Student-t that weighs a tile down which the model finds improbable: mislabelled ones are rare."""


class OwnTiles:
    """The studio's own fired tiles, ready to be asked for those of one layering."""

    def __init__(self, fit_: StudioFit) -> None:
        self._cone = fit_.tile_cone
        self._own = np.flatnonzero(fit_.tile_stage != MAKER)
        self._key = _keys(fit_.tile_material, fit_.tile_coats, fit_.tile_wiped, fit_.tile_body)

    def of(
        self, material: np.ndarray, coats: FloatArray, wiped: np.ndarray, body: np.ndarray, cone: float
    ) -> list[np.ndarray]:
        """Rows of the fit's tiles with each layering (k arrays), fired at the cone."""
        here = self._own[np.abs(self._cone[self._own] - cone) <= SAME_HEAT]
        found: dict[bytes, list[int]] = {}
        for row in here:
            found.setdefault(self._key[row], []).append(int(row))
        return [np.array(found.get(key, []), dtype=np.intp) for key in _keys(material, coats, wiped, body)]


def _keys(material: np.ndarray, coats: FloatArray, wiped: np.ndarray, body: np.ndarray) -> list[bytes]:
    layers = (material >= 0).sum(axis=1)
    whole = np.concatenate([material, coats, wiped], axis=1).astype(float)
    width = material.shape[1]
    out = []
    for row, count, beneath in zip(whole, layers, body, strict=True):
        used = [row[part * width : part * width + count] for part in range(3)]
        out.append(np.concatenate([[float(beneath)], *used]).tobytes())
    return out


def with_own_tiles(
    fit_: StudioFit,
    rows: np.ndarray,
    mean: FloatArray,
    covariance: FloatArray,
    by_making: FloatArray,
    noise: FloatArray,
) -> tuple[FloatArray, FloatArray]:
    """Join the model's answer on a layering with that of its own tiles.

    Parameters
    ----------
    rows : (n,) int
        The fit's tiles of this very layering, body and cone; at least one.
    mean, covariance : (3,), (3, 3)
        The model's answer, as doubtful as calibration makes it.
    by_making : (3, 3)
        Covariance that thickness and heat give the next tile, at the most probable latents.
    noise : (3, 3)
        The rest of a tile's scatter: measuring, and what the model has no cause for.

    Returns
    -------
    mean, covariance : (3,), (3, 3)
        Never more doubtful than the tiles themselves, in any direction of colour; in the directions where the
        model knows more, as doubtful as the model.
    """
    lab = fit_.tile_lab[rows] - fit_.tile_offset[rows]
    usual = by_making + noise
    off = lab - mean
    far = np.einsum("ni,ni->n", off, np.linalg.solve(covariance + usual, off.T).T)
    weight = np.minimum((TAIL_FREEDOM + 3.0) / (TAIL_FREEDOM + far), 1.0)
    count = float(weight.sum())
    centre = weight @ lab / count
    stray = (lab - centre) * np.sqrt(weight)[:, None]
    freedom = WORTH + max(count - 1.0, 0.0)
    scatter = (WORTH * usual + stray.T @ stray) / freedom
    # Few tiles tell their own scatter roughly: the next one is off by a Student-t, not by a normal.
    scatter = scatter * (1.0 + 1.0 / count) * (1.0 + 4.0 / freedom)
    scatter = scatter + fit.OFFSET_SD**2 * (1.0 + 1.0 / len(rows)) * np.eye(3)
    root = np.linalg.cholesky(scatter)
    half = np.linalg.solve(root, covariance)
    ratio, turn = np.linalg.eigh(np.linalg.solve(root, half.T))
    ratio = np.maximum(ratio, 0.0)
    across = root @ turn
    back = turn.T @ np.linalg.solve(root, centre - mean)
    moved = mean + across @ (ratio / (1.0 + ratio) * back)
    return moved, (across * np.minimum(ratio, 1.0)) @ across.T
