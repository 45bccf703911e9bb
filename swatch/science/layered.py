"""The layered model: from latents of materials and a body to the colour of a layering, with derivatives.

A layer's light is set by ln K (eight bands), ln S (one number, tilted over the bands) and its coats; heat moves
both; colour creeps from each layer into the one above it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swatch.science import optics, priors
from swatch.science.optics import FloatArray
from swatch.science.priors import (
    ATTACK,
    BURN_CONE,
    BURN_SHARE,
    CONES_PER_T,
    DULL_CONE,
    DULL_POWER,
    HEAT_LEVEL,
    HEAT_SCATTER,
    HEAT_SHAPES,
    LATENTS,
    LEVEL,
    MIDDLE_CONE,
    MODES,
    SCATTER,
    SCATTER_TILT,
    SHAPES,
    YIELD,
    Beliefs,
)

INNER_ROUGH, INNER_MELTED = 0.30, 0.25
"""Inner reflection of a dry surface, and what melting adds."""

CREEP_STARTS, CREEP_WIDTH = 5.0, 2.0
"""Cones below its rated cone at which a layer begins to take up colour, and how gradually."""


def logistic(x: FloatArray) -> FloatArray:
    """1 / (1 + e^−x), safe far out."""
    return np.asarray(0.5 * (1.0 + np.tanh(0.5 * x)))


def material_values(beliefs: Beliefs, z: FloatArray, index: np.ndarray) -> tuple[FloatArray, FloatArray]:
    """Latents to physical values, with the diagonal slopes (those of level and shapes are `colour_root`).

    Parameters
    ----------
    z : (..., k, 16) float
        Standard latents of the materials ``index`` (k,).
    """
    value = beliefs.mean[index] + beliefs.sd[index] * z
    slope = np.broadcast_to(beliefs.sd[index], z.shape).copy()
    value[..., :5] = beliefs.colour_mean[index] + np.einsum(
        "kij,...kj->...ki", beliefs.colour_root[index], z[..., :5]
    )
    for kind, table in ((priors.GLAZE, priors.scatter_table), (priors.UNKNOWN_KIND, priors.any_scatter_table)):
        jar = beliefs.kind[index] == kind
        if jar.any():
            mixed, mixed_slope = table()(z[..., SCATTER])
            value[..., SCATTER] = np.where(jar, mixed, value[..., SCATTER])
            slope[..., SCATTER] = np.where(jar, mixed_slope, slope[..., SCATTER])
    value[..., BURN_CONE], slope[..., BURN_CONE] = priors.burn_table()(z[..., BURN_CONE])
    dull, slope[..., DULL_CONE] = priors.dull_table()(z[..., DULL_CONE])
    value[..., DULL_CONE] = dull + beliefs.rated[index]
    return value, slope


def material_state(
    value: FloatArray, cone: FloatArray, ratio: np.ndarray, matures: np.ndarray
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Ln K (..., 8), ln S at 550 nm (...) and inner reflection (...) of materials at a cone."""
    t = (cone - MIDDLE_CONE) / CONES_PER_T
    log_s = value[..., SCATTER] + value[..., HEAT_SCATTER] * t
    melted = logistic(cone - value[..., DULL_CONE])
    burnt = (1.0 - np.exp(-value[..., BURN_SHARE])) * logistic(cone - value[..., BURN_CONE])
    log_k = value[..., LEVEL : SHAPES.stop] @ MODES
    log_k = log_k + t[..., None] * (value[..., HEAT_LEVEL, None] + value[..., HEAT_SHAPES] @ MODES[1:3])
    log_k = log_k + (np.log1p(-burnt) + np.where(ratio, log_s, 0.0))[..., None]
    dull = np.exp(value[..., DULL_POWER]) * (1.0 - melted)
    log_s = np.where(matures, np.log(np.exp(log_s) + dull), log_s)
    return log_k, log_s, INNER_ROUGH + INNER_MELTED * melted * matures


def creep_gate(cone: FloatArray, rated: FloatArray) -> FloatArray:
    """How far a layer rated for a cone has begun to melt into the one below, 0 to 1."""
    return logistic((cone - rated + CREEP_STARTS) / CREEP_WIDTH)


def body_log_ratio(value: FloatArray, cone: FloatArray) -> FloatArray:
    """Ln K/S of bare bodies at a cone: (..., 8) from (..., 7)."""
    t = (cone - MIDDLE_CONE) / CONES_PER_T
    log: FloatArray = value[..., :5] @ MODES + t[..., None] * (value[..., 5:6] + value[..., 6:7] * MODES[1])
    return log


@dataclass(frozen=True, slots=True)
class Stack:
    """Layerings of one number of layers, as indices: bottom layer first."""

    material: np.ndarray  # (n, L)
    coats: FloatArray  # (n, L)
    wiped: np.ndarray  # (n, L) bool
    body: np.ndarray  # (n,)

    @property
    def layers(self) -> int:
        """Number of layers."""
        return int(self.material.shape[1])


@dataclass(frozen=True, slots=True)
class Slopes:
    """Derivatives of CIELAB of n layerings."""

    material: FloatArray  # (n, 3, L, 16) by the standard latents of each layer's material
    body: FloatArray  # (n, 3, 7)
    shared: FloatArray  # (n, 3, 3): creep into glaze, creep into underglaze, wiped share
    heat: FloatArray  # (n, 3) by the cone reached
    thickness: FloatArray  # (n, 3, L) by ln coats of each layer
    seen: FloatArray  # (n, L) how much of what happens at each layer's top still shows from above
    log_k: FloatArray  # (n, 3, L) by an even change of ln K of each layer
    log_s: FloatArray  # (n, 3, L) by a change of ln S


@dataclass(frozen=True, slots=True)
class Latents:
    """One point of the latents the colour depends on: materials (m, 16), bodies (b, 7), shared (3,)."""

    material: FloatArray
    body: FloatArray
    shared: FloatArray


def creep_logit(beliefs: Beliefs, upper: np.ndarray) -> tuple[np.ndarray, FloatArray]:
    """Which of the two shared latents rules creep into a material, and the mean logit of its strength."""
    into_slip = beliefs.ratio[upper]
    mean = np.where(into_slip, priors.INTO_UNDERGLAZE, priors.INTO_GLAZE)
    return into_slip.astype(np.intp), mean


def colour_with_slopes(beliefs: Beliefs, at: Latents, stack: Stack, cone: FloatArray) -> tuple[FloatArray, Slopes]:
    """CIELAB (n, 3) of layerings at their cones (n,), with derivatives by every latent they touch."""
    n, layers = stack.material.shape
    body_value = priors.BODY_MEAN + priors.BODY_SD * at.body[stack.body]
    body_log = body_log_ratio(body_value, cone)
    body_ratio = np.exp(body_log)
    below = optics.infinite_reflectance(body_ratio)
    body_by_log = -below * body_ratio / np.sqrt(body_ratio * (body_ratio + 2.0))
    t = (cone - MIDDLE_CONE) / CONES_PER_T

    z = at.material[stack.material]
    value, value_slope = material_values(beliefs, z.reshape(-1, LATENTS), stack.material.ravel())
    value = value.reshape(n, layers, LATENTS)
    value_slope = value_slope.reshape(n, layers, LATENTS)
    ratio, matures = beliefs.ratio[stack.material], beliefs.matures[stack.material]
    cones = np.broadcast_to(cone[:, None], (n, layers))
    log_k, log_s, inner = material_state(value, cones, ratio, matures)

    # Creep: what share of each layer's K goes into the layer above.
    k = np.exp(log_k)
    share = np.zeros((n, layers))
    share_logit, share_heat = np.zeros((n, layers)), np.zeros((n, layers))
    which = np.zeros((n, layers), dtype=np.intp)
    if layers > 1:
        upper = stack.material[:, 1:]
        into, mean = creep_logit(beliefs, upper)
        which[:, :-1] = into
        logit = mean + priors.INTO_SD * at.shared[into] + value[:, 1:, ATTACK] + value[:, :-1, YIELD]
        strength = logistic(logit)
        gate = creep_gate(cone[:, None], beliefs.rated[upper])
        share[:, :-1] = strength * gate
        share_logit[:, :-1] = strength * (1.0 - strength) * gate
        share_heat[:, :-1] = strength * gate * (1.0 - gate) / CREEP_WIDTH
    kept = k * (1.0 - share)[..., None]
    got = np.zeros_like(k)
    got[:, 1:] = k[:, :-1] * share[:, :-1, None]
    total = kept + got
    log_wiped = priors.WIPED_LEFT + priors.WIPED_SD * at.shared[2]
    log_coats = np.log(stack.coats) + np.where(stack.wiped, log_wiped, 0.0)

    power = np.exp(log_s + log_coats)[..., None] * np.exp(SCATTER_TILT)
    # K carries no tilt, S does: the tilt belongs to the ratio too.
    ratio_kS = total / np.exp(log_s[..., None] + SCATTER_TILT)
    by_below, by_ratio, by_power, passed = [], [], [], []
    reached = below
    for j in range(layers):
        one = optics.coat(ratio_kS[:, j], power[:, j])
        reached, d_below, d_ratio, d_power = optics.lay_over_slopes(one, reached)
        passed.append(one.passed.mean(axis=-1))
        by_below.append(d_below)
        by_ratio.append(d_ratio)
        by_power.append(d_power)
    top_inner = inner[:, -1] if layers else np.full(n, INNER_ROUGH)
    seen, by_inside, by_inner = optics.through_surface_slopes(reached, top_inner[:, None])
    lab, lab_by_seen = optics.bands_to_lab_slopes(seen)
    lab_by_inner = np.einsum("ncb,nb->nc", lab_by_seen, by_inner)

    material = np.zeros((n, 3, layers, LATENTS))
    shared = np.zeros((n, 3, 3))
    heat = np.zeros((n, 3))
    thickness = np.zeros((n, 3, layers))
    shows = np.ones((n, layers))
    g_k = np.zeros((n, 3, layers, 8))  # by ln of the layer's total K
    g_s = np.zeros((n, 3, layers))
    through = lab_by_seen * by_inside[:, None, :]
    for j in range(layers - 1, -1, -1):
        g_k[:, :, j] = through * by_ratio[j][:, None, :]
        by_s = through * (by_power[j] - by_ratio[j])[:, None, :]
        g_s[:, :, j] = by_s.sum(axis=-1)
        thickness[:, :, j] = np.einsum("ncb,nb->nc", through, by_power[j])
        if j:
            shows[:, j - 1] = shows[:, j] * passed[j]
        through = through * by_below[j][:, None, :]
    body_g = through * body_by_log[:, None, :]
    body = np.empty((n, 3, priors.BODY_LATENTS))
    body[:, :, :5] = body_g @ MODES.T
    body[:, :, 5] = t[:, None] * body_g.sum(axis=-1)
    body[:, :, 6] = t[:, None] * (body_g @ MODES[1])
    heat += (body_g * (body_value[:, 5:6] + body_value[:, 6:7] * MODES[1])[:, None, :]).sum(axis=-1) / CONES_PER_T
    body *= priors.BODY_SD

    # From each layer's total K back to its own K, the one below it and the creep between them.
    own = kept / total
    from_below = got / total
    g_log_k = g_k * own[:, None]
    if layers > 1:
        g_log_k[:, :, :-1] += g_k[:, :, 1:] * from_below[:, None, 1:]
        by_share = (g_k[:, :, 1:] * (from_below[:, 1:] / np.maximum(share[:, :-1, None], 1e-12))[:, None]).sum(-1)
        lost = own[:, :-1] / np.maximum(1.0 - share[:, :-1, None], 1e-12)
        by_share -= (g_k[:, :, :-1] * lost[:, None]).sum(axis=-1)
        by_logit = by_share * share_logit[:, None, :-1]
        material[:, :, 1:, ATTACK] = by_logit
        material[:, :, :-1, YIELD] += by_logit
        for s in (0, 1):
            shared[:, :, s] = (by_logit * (which[:, None, :-1] == s)).sum(axis=-1) * priors.INTO_SD
        heat += (by_share * share_heat[:, None, :-1]).sum(axis=-1)
    shared[:, :, 2] = (thickness * stack.wiped[:, None, :]).sum(axis=-1) * priors.WIPED_SD

    _material_slopes(material, heat, value, cones, ratio, matures, g_log_k, g_s, lab_by_inner)
    colour = material[..., : SHAPES.stop].copy()
    material *= value_slope[:, None]
    material[..., : SHAPES.stop] = np.einsum("ncli,nlij->nclj", colour, beliefs.colour_root[stack.material])
    even = g_log_k.sum(axis=-1)
    return lab, Slopes(material, body, shared, heat, thickness, shows, even, g_s)


def _material_slopes(
    material: FloatArray,
    heat: FloatArray,
    value: FloatArray,
    cones: FloatArray,
    ratio: np.ndarray,
    matures: np.ndarray,
    g_log_k: FloatArray,
    g_s: FloatArray,
    lab_by_inner: FloatArray,
) -> None:
    """Fill in the derivatives by each material's values, and add those by the cone reached."""
    t = ((cones - MIDDLE_CONE) / CONES_PER_T)[:, None]
    even = g_log_k.sum(axis=-1)
    shaped = g_log_k @ MODES.T
    material[..., : SHAPES.stop] = shaped
    material[..., HEAT_LEVEL] = t * even
    material[..., HEAT_SHAPES] = t[..., None] * shaped[..., 1:3]
    tied = ratio[:, None]
    plain = value[..., SCATTER] + value[..., HEAT_SCATTER] * (cones - MIDDLE_CONE) / CONES_PER_T
    melted = logistic(cones - value[..., DULL_CONE])
    dull = np.exp(value[..., DULL_POWER]) * (1.0 - melted) * matures
    part = (np.exp(plain) / (np.exp(plain) + dull))[:, None]
    by_plain = np.where(tied, even, 0.0) + g_s * part
    material[..., SCATTER] = by_plain
    material[..., HEAT_SCATTER] = t * by_plain
    by_dull = g_s * (1.0 - part)
    melted = melted[:, None]
    material[..., DULL_POWER] = by_dull
    melting = melted * (1.0 - melted) * matures[:, None]
    material[..., DULL_CONE] = by_dull * melted
    material[:, :, -1:, DULL_CONE] -= INNER_MELTED * lab_by_inner[:, :, None] * melting[:, :, -1:]
    share = 1.0 - np.exp(-value[..., BURN_SHARE])
    at = logistic(cones - value[..., BURN_CONE])
    left = 1.0 - share * at
    by_share = even * (-at / left)[:, None]
    by_at = even * (-share / left * at * (1.0 - at))[:, None]
    material[..., BURN_SHARE] = by_share * np.exp(-value[..., BURN_SHARE])[:, None]
    material[..., BURN_CONE] = -by_at
    slopes = value[..., HEAT_LEVEL, None] + value[..., HEAT_SHAPES] @ MODES[1:3]
    by_heat = (g_log_k * slopes[:, None]).sum(axis=-1) + by_plain * value[..., HEAT_SCATTER][:, None]
    heat += by_heat.sum(axis=-1) / CONES_PER_T
    heat += (by_at - by_dull * melted).sum(axis=-1)
    if melting.shape[2]:
        heat += INNER_MELTED * lab_by_inner * melting[:, :, -1]
