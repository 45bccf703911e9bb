"""The spread of very many layerings at once: each one's slopes times what the draws do to materials and pairs.

Follows `predicting.scatter_about` to first order, for a tenth of its work; for choosing whom to ask carefully.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from swatch.science import fit, optics, priors
from swatch.science.optics import FloatArray
from swatch.science.predicting import NEAR, Spread

if TYPE_CHECKING:
    from swatch.science.shifts import StudioFit

_CHUNK = 128


@dataclass(frozen=True)
class Strays:
    """How far each draw strays from the middle at one cone, as tables (draws last)."""

    covered: FloatArray  # (m, m, 8, d) K/S of the first under the second
    bare: FloatArray  # (m, 8, d) K/S of a material with nothing over it
    gained: FloatArray  # (m, m, 8, d) K/S the second gains from the first below it
    log_s: FloatArray  # (m, d)
    inner: FloatArray  # (m, d)
    body: FloatArray  # (b, 8, d)
    log_coats: FloatArray  # (layers, d), to be times each material's own scatter
    pair: FloatArray  # (pairs, 3, d)
    unseen: FloatArray  # (3, d)


def strays_of(spread: Spread) -> Strays:
    """Tables for a cone; they grow with the square of the number of materials (17 MB for 65)."""
    one, many = spread.plain, spread.drawn

    def from_middle(drawn: FloatArray, middle: FloatArray) -> FloatArray:
        return np.ascontiguousarray(np.moveaxis(drawn - middle, 0, -1))

    covered = many.ratio[:, :, None] * many.kept[..., None]
    gained = many.ratio[:, :, None] * many.gained[..., None]
    return Strays(
        from_middle(covered, one.ratio[:, :, None] * one.kept[..., None]),
        from_middle(many.ratio, one.ratio),
        from_middle(gained, one.ratio[:, :, None] * one.gained[..., None]),
        from_middle(np.log(many.s), np.log(one.s)),
        from_middle(many.inner, one.inner),
        from_middle(many.body, one.body),
        np.ascontiguousarray(spread.thickness.T),
        from_middle(spread.pair_drawn, spread.pair_middle[None].astype(np.float32)),
        np.ascontiguousarray(spread.unseen.T),
    )


def quick_scatter(
    fit_: StudioFit, spread: Spread, strays: Strays, material: np.ndarray, coats: FloatArray, body: int
) -> FloatArray:
    """Unscaled covariance (k, 3, 3) of layerings of one number of layers on one body, to first order."""
    out = np.empty((len(material), 3, 3), dtype=np.float32)
    for at in range(0, len(material), _CHUNK):
        part = slice(at, at + _CHUNK)
        off = _strayed(spread, strays, material[part], coats[part].astype(np.float32), body)
        out[part] = off @ off.transpose(0, 2, 1) / np.float32(NEAR * NEAR * off.shape[2])
    every = fit.kind_noise(fit_.kind, material[:, -1]) + fit.FIRING_SD**2 + fit.SESSION_SD**2
    return np.asarray(out + every[:, None, None] * np.eye(3) + fit_.measuring)


def _strayed(spread: Spread, strays: Strays, material: np.ndarray, coats: FloatArray, body: int) -> FloatArray:
    """Colours of the draws less that of the middle, to first order: (k, 3, d)."""
    state = spread.plain
    k, layers = material.shape
    tilt = np.exp(priors.SCATTER_TILT).astype(np.float32)
    reached = np.broadcast_to(state.body[0, body], (k, 8))
    slopes, passed = [], []
    for j in range(layers):
        ratio = state.ratio[0, material[:, j]]
        if j + 1 < layers:
            ratio = ratio * state.kept[0, material[:, j], material[:, j + 1], None]
        if j:
            below = state.ratio[0, material[:, j - 1]]
            ratio = ratio + below * state.gained[0, material[:, j - 1], material[:, j], None]
        power = (state.s[0, material[:, j]] * coats[:, j])[:, None] * tilt
        one = optics.coat(ratio, power)
        reached, by_below, by_ratio, by_power = optics.lay_over_slopes(one, reached)
        slopes.append((by_below, by_ratio / ratio, by_power))
        passed.append(one.passed.mean(axis=-1))
    seen, by_inside, by_inner = optics.through_surface_slopes(reached, state.inner[0, material[:, -1], None])
    _lab, by_seen = optics.bands_to_lab_slopes(seen)
    by_seen = by_seen.astype(np.float32)
    off = (by_seen @ by_inner[:, :, None]) * strays.inner[material[:, -1], None]
    through = by_seen * by_inside[:, None]
    shows = np.ones((k, 1, 1), dtype=np.float32)
    for j in range(layers - 1, -1, -1):
        by_below, by_ratio, by_power = slopes[j]
        moved = (
            strays.covered[material[:, j], material[:, j + 1]] if j + 1 < layers else strays.bare[material[:, j]]
        )
        if j:
            moved = moved + strays.gained[material[:, j - 1], material[:, j]]
            pair = spread.pair[material[:, j - 1], material[:, j]]
            known = strays.pair[np.maximum(pair, 0)] if len(strays.pair) else strays.unseen
            off += shows * np.where((pair >= 0)[:, None, None], known, strays.unseen)
            shows = shows * passed[j][:, None, None]
        off += (through * by_ratio[:, None]) @ moved
        thicker = strays.log_s[material[:, j]] + spread.thickness_sd[material[:, j], None] * strays.log_coats[j]
        off += (through @ by_power[:, :, None]) * thicker[:, None]
        through = through * by_below[:, None]
    off += (through.reshape(3 * k, 8) @ strays.body[body]).reshape(k, 3, -1)
    return np.asarray(off)
