"""The colour of layerings from the latents: everything's state at a cone, and light through the layers."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TYPE_CHECKING

import numpy as np

from swatch.science import layered, optics, priors
from swatch.science.layered import Latents
from swatch.science.optics import FloatArray

if TYPE_CHECKING:
    from swatch.science.shifts import StudioFit


@dataclass(frozen=True)
class State:
    """Every material, body and touching pair at one cone, for several draws d of the latents.

    ``ratio`` (d, m, 8) is K/S, ``s`` (d, m) S a coat at 550 nm, ``inner`` (d, m) reflection, ``body``
    (d, b, 8) inside reflectance; ``kept`` (d, m, m) the share of its K that the first material keeps under
    the second, ``gained`` (d, m, m) what the second's K/S gains, as a share of the first's; ``wiped`` (d,)
    the share of the coats that wiping leaves.
    """

    ratio: FloatArray
    s: FloatArray
    inner: FloatArray
    body: FloatArray
    kept: FloatArray
    gained: FloatArray
    wiped: FloatArray

    def quick(self) -> State:
        """The same in single precision: twice as fast, and fine enough for a doubt.

        All bands stay: the tiles tie colours down, not bands, and averaged bands are not tied down at all.
        """
        return State(*(getattr(self, part.name).astype(np.float32) for part in fields(self)))


def state_at(fit_: StudioFit, at: Latents, cone: FloatArray, astray: FloatArray | None = None) -> State:
    """State of everything at a cone for each draw (d,); ``astray`` (d, m, 2) is added to ln K and ln S."""
    beliefs = fit_.beliefs
    index = np.arange(len(beliefs.kind))
    value, _ = layered.material_values(beliefs, at.material, index)
    cones = np.broadcast_to(cone[:, None], value.shape[:-1])
    log_k, log_s, inner = layered.material_state(value, cones, beliefs.ratio, beliefs.matures)
    if astray is not None:
        log_k, log_s = log_k + astray[..., :1], log_s + astray[..., 1]
    body_value = priors.BODY_MEAN + priors.BODY_SD * at.body
    body_cone = np.broadcast_to(cone[:, None], body_value.shape[:-1])
    body = optics.infinite_reflectance(np.exp(layered.body_log_ratio(body_value, body_cone)))
    into, mean = layered.creep_logit(beliefs, index)
    logit = mean + priors.INTO_SD * at.shared[:, into]
    logit = (logit + value[..., priors.ATTACK])[:, None, :] + value[..., priors.YIELD][:, :, None]
    share = layered.logistic(logit) * layered.creep_gate(cone[:, None], beliefs.rated)[:, None, :]
    wiped = np.exp(priors.WIPED_LEFT + priors.WIPED_SD * at.shared[:, 2])
    # All scatter with the same tilt over the bands, so K moves between layers as K/S times a number.
    gained = share * np.exp(log_s[:, :, None] - log_s[:, None, :])
    ratio = np.exp(log_k - log_s[..., None] - priors.SCATTER_TILT)
    return State(ratio, np.exp(log_s), inner, body, 1.0 - share, gained, wiped)


def colours(
    state: State, material: np.ndarray, coats: FloatArray, wiped: np.ndarray, body: np.ndarray
) -> tuple[FloatArray, FloatArray]:
    """CIELAB (d, k, 3) of layerings of one number of layers for each draw, and what shows of each touching.

    ``coats`` is (d, k, l) or broadcasts to it; the second answer is (d, k, l).
    """
    layers = material.shape[1]
    kind = state.s.dtype
    d = len(state.wiped)
    reached = state.body[:, body]
    power = state.s[:, material] * coats.astype(kind)
    if wiped.any():
        power = power * np.where(wiped, state.wiped[:, None, None], np.ones(1, kind))
    bands = state.ratio.shape[-1]
    tilt = np.exp(priors.SCATTER_TILT.reshape(bands, -1).mean(axis=1)).astype(kind)
    even = np.full(bands, 1.0 / bands, kind)
    shows = np.ones((d, len(body), layers), kind)
    lower: FloatArray | None = None
    for j in range(layers):
        own = state.ratio[:, material[:, j]]
        ratio = own
        if j + 1 < layers:
            ratio = own * state.kept[:, material[:, j], material[:, j + 1], None]
        if lower is not None:
            ratio = ratio + lower * state.gained[:, material[:, j - 1], material[:, j], None]
        lower = own
        reflected, through = optics.thin_coat(ratio, power[:, :, j, None] * tilt)
        reached = optics.laid(reflected, through, reached)
        if j:
            shows[:, :, :j] *= (through @ even)[..., None]
    inner = state.inner[:, material[:, -1]] if layers else np.full((d, len(body)), layered.INNER_ROUGH, kind)
    return optics.bands_to_lab(optics.through_surface(reached, inner[..., None])), shows
