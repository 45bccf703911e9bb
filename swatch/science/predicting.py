"""Answers from a fit: colour of the next tile fired, how sure, and on what it rests."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from swatch.science import fit, priors
from swatch.science.optics import FloatArray
from swatch.science.own_tiles import with_own_tiles
from swatch.science.states import State, colours, state_at
from swatch.science.studio_data import MAKER, layers_of

if TYPE_CHECKING:
    from swatch.science.shifts import StudioFit

ANOTHER_TILE, NEW_LAYERING, ANOTHER_CONE, UNSEEN_MATERIAL = range(4)
"""Novelty codes: how far a question lies from the tiles."""

ANSWERED, BODY_UNKNOWN, MATERIAL_UNKNOWN, CONE_BEYOND = range(4)
"""Why a question cannot be answered; 0 where it can."""

OWN_TILES, OWN_MATERIALS, RAW_ONLY, MAKERS_CHART = range(4)
"""Basis codes, strongest first."""

SAME_CONE = 0.75
BEYOND_CONES = 2.0
GAP_SD = 0.2
UNSEEN_PAIR_SD = 2.5
"""Offset of colour of two materials never seen touching: most pairs behave, some react to another colour."""

NEAR = 0.25
"""Share of the way from the mode at which a draw is looked at; what it does there is scaled up.

Laplace's covariance holds near the mode only. The tiles leave narrow curved valleys (K against S, the cone at
which a glaze matures), and a whole draw steps out of them: on a glaze with 17 tiles it gave L* a standard
deviation of 9 where the tiles leave 1.
"""
_SEED = 19_480_501
_CHUNK = 96


@dataclass(frozen=True)
class Predicted:
    """Predictions of k questions.

    ``mean`` (k, 3) CIELAB and ``covariance`` (k, 3, 3), scaled so that d² ≤ 7.815 holds for 95 % of new tiles;
    both NaN where ``refused`` (k,) is not 0. ``novelty`` and ``basis`` (k,) are codes; ``refused_material``
    (k,) the material in the way, −1 none; ``same_layering`` and ``same_materials`` (k,) count own tiles.
    """

    mean: FloatArray
    covariance: FloatArray
    novelty: np.ndarray
    refused: np.ndarray
    refused_material: np.ndarray
    basis: np.ndarray
    same_layering: np.ndarray
    same_materials: np.ndarray


def pair_index(pairs: np.ndarray, materials: int) -> np.ndarray:
    """Index of each ordered pair in ``pairs`` (m, m), −1 where never seen touching."""
    index = np.full((materials, materials), -1)
    if len(pairs):
        index[pairs[:, 0], pairs[:, 1]] = np.arange(len(pairs))
    return index


def gaps(fit_: StudioFit, cone: float) -> FloatArray:
    """Cones from ``cone`` to each material's nearest fired one (m,); infinite where it was never fired."""
    nearest = np.full(len(fit_.kind), np.inf)
    for j in range(fit_.tile_material.shape[1]):
        material = fit_.tile_material[:, j]
        on = material >= 0
        np.minimum.at(nearest, material[on], np.abs(fit_.tile_cone[on] - cone))
    return nearest


@dataclass(frozen=True)
class Spread:
    """The draws that carry a prediction's doubt at one cone, kept for any number of layerings."""

    middle: State
    plain: State  # the middle, as roughly as the draws
    drawn: State
    thickness: FloatArray  # (d, most layers) standard, times NEAR
    thickness_sd: FloatArray  # (m,) of ln thickness
    pair: np.ndarray
    pair_middle: FloatArray  # (pairs, 3)
    pair_drawn: FloatArray  # (d, pairs, 3)
    unseen: FloatArray  # (d, 3) offsets of pairs never seen touching
    warmer: State  # the middle, one standard deviation of heat cooler and hotter


def spread_at(fit_: StudioFit, cone: float, most_layers: int) -> Spread:
    """Draw what the next firing at a cone may do: latents, heat, thickness, the way from the nearest cone."""
    d = len(fit_.colour_draws)
    random = np.random.Generator(np.random.PCG64(_SEED))
    m = len(fit_.kind)
    heat = np.sqrt(fit.FIRING_HEAT_SD**2 + fit.SHELF_HEAT_SD**2 + fit.WITHIN_HEAT_SD**2)
    cones = cone + NEAR * heat * _standard(random, (d,))
    thickness = NEAR * _standard(random, (d, max(most_layers, 8)))
    unseen = NEAR * UNSEEN_PAIR_SD * _standard(random, (d, 3))
    astray = NEAR * _standard(random, (d, m, 2))
    start = fit_.layout.starts["pair"]
    middle = state_at(fit_, fit_.layout.latents(fit_.z[None]), np.array([cone]))
    gap = np.minimum(np.where(np.isfinite(gaps(fit_, cone)), gaps(fit_, cone), 0.0), 20.0)
    astray *= (GAP_SD * np.sqrt(gap / priors.CONES_PER_T))[:, None]
    pairs = fit_.layout.pairs
    pair_mode = fit_.z[start : start + 3 * pairs].reshape(pairs, 3)
    mode = fit_.z[: fit_.colour_draws.shape[1]]
    cooler_hotter = cone + heat * np.array([-1.0, 1.0])
    near_draws = mode + NEAR * (fit_.colour_draws - mode)
    drawn = state_at(fit_, fit_.layout.latents(near_draws), cones, astray).quick()
    return Spread(
        middle,
        middle.quick(),
        drawn,
        thickness.astype(np.float32),
        fit_.thickness_sd.astype(np.float32),
        pair_index(fit_.pairs, m),
        fit.PAIR_SD * fit_.z[start : start + 3 * pairs].reshape(pairs, 3),
        (fit.PAIR_SD * (pair_mode + NEAR * (fit_.pair_draws - pair_mode))).astype(np.float32),
        unseen.astype(np.float32),
        state_at(fit_, fit_.layout.latents(np.stack([fit_.z, fit_.z])), cooler_hotter),
    )


def _standard(random: np.random.Generator, shape: tuple[int, ...]) -> FloatArray:
    """Standard normals whose mean is 0 and variance 1 over the draws, so that few draws do for many."""
    x = random.standard_normal(shape)
    return np.asarray((x - x.mean(axis=0)) / x.std(axis=0))


def middle_colours(
    spread: Spread, material: np.ndarray, coats: FloatArray, wiped: np.ndarray, body: np.ndarray
) -> FloatArray:
    """Plug-in colour (k, 3) at the most probable latents."""
    lab, shows = colours(spread.middle, material, coats[None], wiped, body)
    out: FloatArray = lab[0]
    for j in range(1, material.shape[1]):
        pair = spread.pair[material[:, j - 1], material[:, j]]
        seen = pair >= 0
        out[seen] += shows[0, seen, j, None] * spread.pair_middle[pair[seen]]
    return out


def scatter_about(
    fit_: StudioFit,
    spread: Spread,
    material: np.ndarray,
    coats: FloatArray,
    wiped: np.ndarray,
    body: np.ndarray,
) -> FloatArray:
    """Unscaled covariance (k, 3, 3) of the next tile about the plug-in colour."""
    k, layers = material.shape
    out = np.empty((k, 3, 3))
    thick = np.exp(spread.thickness[:, None, :layers] * spread.thickness_sd[material])
    thick *= coats.astype(np.float32)
    for at in range(0, k, _CHUNK):
        part = slice(at, at + _CHUNK)
        lab, shows = colours(spread.drawn, material[part], thick[:, part], wiped[part], body[part])
        centre, seen = colours(spread.plain, material[part], coats[None, part], wiped[part], body[part])
        for j in range(1, layers):
            pair = spread.pair[material[part, j - 1], material[part, j]]
            offset = np.where(pair[None, :, None] >= 0, _taken(spread.pair_drawn, pair), spread.unseen[:, None, :])
            lab += shows[:, :, j, None] * offset
            known = np.where(pair[:, None] >= 0, _taken(spread.pair_middle[None], pair)[0], 0.0)
            centre += seen[:, :, j, None] * known.astype(np.float32)
        off = ((lab - centre) / np.float32(NEAR)).transpose(1, 2, 0)
        out[part] = off @ off.transpose(0, 2, 1) / off.shape[2]
    top = material[:, -1] if layers else np.full(k, -1)
    every = fit.kind_noise(fit_.kind, top) + fit.FIRING_SD**2 + fit.SESSION_SD**2
    return np.asarray(out + every[:, None, None] * np.eye(3) + fit_.measuring)


def _taken(drawn: FloatArray, pair: np.ndarray) -> FloatArray:
    if not drawn.shape[1]:
        return np.zeros((1, 1, 3))
    return np.asarray(drawn[:, np.maximum(pair, 0)])


def scatter_of_making(
    spread: Spread, material: np.ndarray, coats: FloatArray, wiped: np.ndarray, body: np.ndarray
) -> FloatArray:
    """Covariance (k, 3, 3) that heat and thickness give a tile at the most probable latents."""
    lab, _ = colours(spread.warmer, material, coats[None], wiped, body)
    slopes = [(lab[1] - lab[0]) / 2.0]
    for j in range(material.shape[1]):
        sd = spread.thickness_sd[material[:, j]].astype(float)
        thin, thick = coats.copy(), coats.copy()
        thin[:, j] *= np.exp(-sd)
        thick[:, j] *= np.exp(sd)
        more, _ = colours(spread.middle, material, thick[None], wiped, body)
        less, _ = colours(spread.middle, material, thin[None], wiped, body)
        slopes.append((more[0] - less[0]) / 2.0)
    by = np.stack(slopes, axis=2)
    return np.asarray(by @ by.transpose(0, 2, 1))


def beside_own_tiles(
    fit_: StudioFit,
    spread: Spread,
    cone: float,
    layering: tuple[np.ndarray, FloatArray, np.ndarray, np.ndarray],
    mean: FloatArray,
    covariance: FloatArray,
) -> tuple[FloatArray, FloatArray]:
    """Mean and scaled covariance of layerings of one number of layers, joined with what their own tiles say."""
    mean, covariance = mean.copy(), covariance.copy()
    tiles = fit_.own_tiles.of(*layering, cone)
    fired = np.array([i for i, rows in enumerate(tiles) if len(rows)], dtype=np.intp)
    if not len(fired):
        return mean, covariance
    material = layering[0]
    making = scatter_of_making(spread, *(part[fired] for part in layering))
    top = material[fired, -1] if material.shape[1] else np.full(len(fired), -1)
    noise = fit.kind_noise(fit_.kind, top)[:, None, None] * np.eye(3) + fit_.measuring
    for at, i in enumerate(fired):
        mean[i], covariance[i] = with_own_tiles(fit_, tiles[i], mean[i], covariance[i], making[at], noise[at])
    return mean, covariance


def novelty_of(
    fit_: StudioFit, material: np.ndarray, coats: FloatArray, wiped: np.ndarray, body: np.ndarray, cone: FloatArray
) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """Novelty and basis codes, and own tiles of the same layering and of the same materials (each (k,))."""
    own = fit_.tile_stage != MAKER
    width = max(material.shape[1], fit_.tile_material.shape[1])
    asked, tiles = _padded(material, width, -1), _padded(fit_.tile_material, width, -1)
    asked_coats, tile_coats = _padded(coats, width, 0.0), _padded(fit_.tile_coats, width, 0.0)
    asked_wiped, tile_wiped = _padded(wiped, width, 0.0), _padded(fit_.tile_wiped, width, 0.0)
    fired = np.zeros(len(fit_.kind), dtype=bool)
    fired[np.unique(tiles[own][tiles[own] >= 0])] = True
    charted = np.zeros(len(fit_.kind), dtype=bool)
    charted[np.unique(tiles[tiles >= 0])] = True
    same = np.zeros(len(material), dtype=int)
    akin = np.zeros(len(material), dtype=int)
    novelty = np.full(len(material), NEW_LAYERING)
    basis = np.full(len(material), OWN_MATERIALS)
    nearest = {float(c): gaps(fit_, float(c)) for c in np.unique(cone)}
    for i in range(len(material)):
        used = asked[i][asked[i] >= 0]
        near = own & (np.abs(fit_.tile_cone - cone[i]) <= SAME_CONE)
        alike = (tiles == asked[i]).all(axis=1) & (tile_wiped == asked_wiped[i]).all(axis=1) & own
        exact = alike & near & (tile_coats == asked_coats[i]).all(axis=1) & (fit_.tile_body == body[i])
        same[i] = int(exact.sum())
        akin[i] = int((own & np.isin(tiles, used).any(axis=1)).sum()) if len(used) else int(exact.sum())
        if same[i]:
            novelty[i], basis[i] = ANOTHER_TILE, OWN_TILES
        elif len(used) and not fired[used].all():
            novelty[i] = UNSEEN_MATERIAL
            basis[i] = MAKERS_CHART if charted[used].all() else RAW_ONLY
        elif len(used) and (nearest[float(cone[i])][used] > SAME_CONE).any():
            novelty[i] = ANOTHER_CONE
    return novelty, basis, same, akin


def _padded(rows: np.ndarray, width: int, fill: float) -> np.ndarray:
    return np.pad(rows, ((0, 0), (0, width - rows.shape[1])), constant_values=fill)


def refusals(
    fit_: StudioFit, material: np.ndarray, body: np.ndarray, cone: FloatArray
) -> tuple[np.ndarray, np.ndarray]:
    """Why each question cannot be answered (k,), 0 where it can, and the material in the way (k,)."""
    refused, which = np.zeros(len(material), dtype=int), np.full(len(material), -1)
    fired = np.zeros(len(fit_.kind), dtype=bool)
    fired[np.unique(fit_.tile_material[fit_.tile_material >= 0])] = True
    known = fired | fit_.beliefs.from_raw
    for j in range(material.shape[1]):
        stranger = (material[:, j] >= 0) & ~known[material[:, j]] if len(known) else np.zeros(len(material), bool)
        which[stranger & (which < 0)] = material[stranger & (which < 0), j]
    refused[which >= 0] = MATERIAL_UNKNOWN
    if len(fit_.tile_cone):
        low, high = fit_.tile_cone.min() - BEYOND_CONES, fit_.tile_cone.max() + BEYOND_CONES
        refused[~((cone >= low) & (cone <= high))] = CONE_BEYOND
    else:
        refused[:] = CONE_BEYOND
    refused[~np.isin(body, np.unique(fit_.tile_body))] = BODY_UNKNOWN
    return refused, which


def predict(
    fit_: StudioFit,
    material: np.ndarray,
    coats: FloatArray,
    wiped: np.ndarray,
    body: np.ndarray,
    cone: FloatArray,
    by_the_model_alone: bool = False,
) -> Predicted:
    """See `StudioFit.predict`; by the model alone, own tiles of the very layering count through the model only."""
    k = len(material)
    mean, covariance = np.full((k, 3), np.nan), np.full((k, 3, 3), np.nan)
    refused, which = refusals(fit_, material, body, cone)
    novelty, basis, same, akin = novelty_of(fit_, material, coats, wiped, body, cone)
    layers = layers_of(material)
    for at in np.unique(cone[refused == 0]):
        spread = spread_at(fit_, float(at), int(layers.max(initial=0)))
        for count in np.unique(layers[(refused == 0) & (cone == at)]):
            rows = np.flatnonzero((refused == 0) & (cone == at) & (layers == count))
            one = (material[rows, :count], coats[rows, :count], wiped[rows, :count], body[rows])
            mean[rows] = middle_colours(spread, *one)
            covariance[rows] = scatter_about(fit_, spread, *one)
            covariance[rows] *= fit_.scale_of(novelty[rows], material[rows])[:, None, None] ** 2
            if not by_the_model_alone:
                joined = beside_own_tiles(fit_, spread, float(at), one, mean[rows], covariance[rows])
                mean[rows], covariance[rows] = joined
    return Predicted(mean, covariance, novelty, refused, which, basis, same, akin)


def quick_novelty(fit_: StudioFit, material: np.ndarray, coats: FloatArray, body: int, cone: float) -> np.ndarray:
    """Novelty codes (k,) of many layerings on one body at one cone."""
    own = fit_.tile_stage != MAKER
    fired = np.zeros(len(fit_.kind) + 1, dtype=bool)
    used = fit_.tile_material[own]
    fired[used[used >= 0]] = True
    fired[-1] = True
    far = np.append(gaps(fit_, cone) > SAME_CONE, False)
    novelty = np.where(far[material].any(axis=1), ANOTHER_CONE, NEW_LAYERING)
    novelty[~fired[material].all(axis=1)] = UNSEEN_MATERIAL
    width = max(material.shape[1], fit_.tile_material.shape[1])
    here = (
        own
        & (np.abs(fit_.tile_cone - cone) <= SAME_CONE)
        & (fit_.tile_body == body)
        & ~fit_.tile_wiped.any(axis=1)
    )
    rows = np.concatenate(
        [_padded(fit_.tile_material[here], width, -1), _padded(fit_.tile_coats[here], width, 0.0)], 1
    )
    tiles = {row.tobytes() for row in rows.astype(float)}
    asked = np.concatenate([_padded(material, width, -1), _padded(coats, width, 0.0)], axis=1).astype(float)
    novelty[[row.tobytes() in tiles for row in asked]] = ANOTHER_TILE
    return novelty
