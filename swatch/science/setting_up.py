"""A studio's readings sorted into the groups, indices and noise that the fit works with."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swatch.science import fit, heatlog, priors
from swatch.science.fit import Group, Layout, Problem
from swatch.science.layered import Stack
from swatch.science.optics import FloatArray
from swatch.science.studio_data import FIRED, MAKER, RAW, StudioData, layers_of, merge_repeats, raw_colours


@dataclass(frozen=True)
class SetUp:
    """A studio ready to be fitted.

    ``kept`` are the readings learnt from, bare bodies last; ``rows`` (n,) where each stood in the studio's
    own list, −1 for a bare body; ``bases`` the cone of readings without a firing, a group each; ``pairs``
    (k, 2) the uppermost pairs seen touching; ``raw`` (m, 3) raw colours.
    """

    kept: StudioData
    rows: np.ndarray
    problem: Problem
    bases: tuple[FloatArray, ...]
    pairs: np.ndarray
    raw: FloatArray


def usable(data: StudioData) -> np.ndarray:
    """Which readings the fit can learn from (n,): fired at a known cone, on a known body, with known layers."""
    fired = (data.stage != RAW) & np.isfinite(data.cones_asked())
    return np.asarray(fired & (data.body >= 0) & np.isfinite(data.lab).all(axis=1))


def charts_on_usual_body(data: StudioData) -> StudioData:
    """Makers' charts that name no body as if on the body the studio uses most."""
    own = data.body[(data.stage == FIRED) & (data.body >= 0)]
    nameless = (data.stage == MAKER) & (data.body < 0)
    if not len(own) or not nameless.any():
        return data
    return data.with_readings({"body": np.where(nameless, np.bincount(own).argmax(), data.body)})


def with_bare_bodies(data: StudioData) -> StudioData:
    """The bodies' own colours as readings without layers."""
    rows = np.flatnonzero(np.isfinite(data.bare_lab).all(axis=1))
    k = len(rows)
    if not k:
        return data
    width = data.material.shape[1]
    usual = np.broadcast_to(usual_measuring(data), (k, 3, 3))
    none = np.full(k, -1)
    added = {
        "lab": data.bare_lab[rows],
        "covariance": usual,
        "material": np.full((k, width), -1),
        "coats": np.zeros((k, width)),
        "wiped": np.zeros((k, width), dtype=bool),
        "body": data.bare_body[rows],
        "cone": data.bare_cone[rows],
        "firing": none,
        "shelf": none,
        "session": none,
        "method": np.zeros(k, dtype=int),
        "stage": np.zeros(k, dtype=int),
        "zone": none,
    }
    return data.with_readings(
        {name: np.concatenate([getattr(data, name), value]) for name, value in added.items()}
    )


def usual_measuring(data: StudioData) -> FloatArray:
    """The studio's usual covariance of measuring (3, 3): the median of each entry over its readings."""
    if not len(data.covariance):
        return np.asarray(np.diag([0.4, 0.5, 0.5]))
    middle = np.median(data.covariance, axis=0)
    values, vectors = np.linalg.eigh(0.5 * (middle + middle.T))
    return np.asarray(vectors @ np.diag(np.maximum(values, 0.01)) @ vectors.T)


def set_up(data: StudioData, maker_noise: float = fit.MAKER_NOISE) -> SetUp:
    """Sort a studio's readings into groups of one number of layers, with their noise and their indices.

    ``maker_noise`` is the scatter of a maker's chart about its own bias, in CIELAB units.
    """
    data = charts_on_usual_body(data)
    raw = raw_colours(data)
    rows_used = np.flatnonzero(usable(data))
    merged, first = merge_repeats(data.only(rows_used))
    kept = with_bare_bodies(merged)
    origin = np.full(len(kept.lab), -1)
    origin[: len(first)] = rows_used[first]
    beliefs = priors.believe(kept.kind, raw, kept.rated)
    asked = kept.cones_asked()
    base, base_sd, named = _heat_known(kept, asked)
    layers = layers_of(kept.material)
    pairs, pair_of = _pairs(kept.material, layers)
    shelf_of, shelves = _shelves(kept, named)
    offset_of, offset_noise, offset_sd = _offsets(kept)
    groups, bases = [], []
    for count in np.unique(layers):
        rows = np.flatnonzero(layers == count)
        material = kept.material[rows, :count]
        stack = Stack(material, kept.coats[rows, :count], kept.wiped[rows, :count].astype(bool), kept.body[rows])
        top = material[:, -1] if count else np.full(len(rows), -1)
        noise = fit.kind_noise(kept.kind, top) + np.where(kept.stage[rows] == MAKER, maker_noise**2, 0.0)
        noise = noise + offset_noise[rows]
        unnamed = np.where(
            np.isnan(asked[rows]), fit.UNKNOWN_HEAT_SD, np.hypot(fit.FIRING_HEAT_SD, fit.SHELF_HEAT_SD)
        )
        heat = np.where(named[rows] >= 0, 0.0, unnamed**2) + fit.WITHIN_HEAT_SD**2
        heat = heat + np.where((named[rows] >= 0) & (shelf_of[rows] < 0), fit.SHELF_HEAT_SD**2, 0.0)
        thickness = np.repeat(fit.THICKNESS_SD[kept.method[rows], None] ** 2, count, axis=1)
        groups.append(
            Group(
                rows,
                stack,
                kept.lab[rows],
                kept.covariance[rows],
                pair_of[rows],
                named[rows],
                shelf_of[rows],
                offset_of[rows],
                noise,
                thickness,
                heat,
            )
        )
        bases.append(np.where(np.isnan(asked[rows]), middle_cone(asked), asked[rows]))
    layout = Layout(len(kept.kind), kept.bodies, len(pairs), len(base), len(shelves), len(offset_sd))
    problem = Problem(beliefs, layout, tuple(groups), base, base_sd, offset_sd, _witness(kept, shelves))
    return SetUp(kept, origin, problem, tuple(bases), pairs, raw)


def middle_cone(cones: FloatArray) -> float:
    """The studio's usual cone, for readings without one."""
    return float(np.nanmedian(cones)) if np.isfinite(cones).any() else priors.MIDDLE_CONE


def _heat_known(data: StudioData, asked: FloatArray) -> tuple[FloatArray, FloatArray, np.ndarray]:
    """Cone and its doubt for each firing, and each reading's firing."""
    base = data.firing_cones()
    sd = np.full(len(base), fit.PROGRAMME_SD)
    if len(data.firing_logged):
        sd[np.isfinite(data.firing_logged)] = heatlog.LOG_SD
    # Where only witness cones tell of a firing they are weighed one by one: nothing else is known of it.
    sd[np.isfinite(data.witness_means())] = fit.UNKNOWN_HEAT_SD
    sd[np.isfinite(data.firing_cone)] = fit.FIRING_HEAT_SD
    for i in np.flatnonzero(np.isnan(base)):
        of_tiles = asked[(data.firing == i) & np.isfinite(asked)]
        base[i] = of_tiles[0] if len(of_tiles) else np.nan
        sd[i] = fit.FIRING_HEAT_SD
    unknown = np.isnan(base)
    base = np.where(unknown, middle_cone(asked), base)
    sd = np.where(unknown, fit.UNKNOWN_HEAT_SD, sd)
    reached = np.isfinite(data.firing_reached)
    return np.where(reached, data.firing_reached, base), np.where(reached, fit.REACHED_SD, sd), data.firing


def _pairs(material: np.ndarray, layers: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Ordered pairs of uppermost materials (k, 2) and each reading's pair (n,), −1 none."""
    on = np.flatnonzero(layers > 1)
    out = np.full(len(material), -1)
    if not len(on):
        return np.zeros((0, 2), dtype=np.intp), out
    top = layers[on] - 1
    found, index = np.unique(
        np.stack([material[on, top - 1], material[on, top]], axis=1), axis=0, return_inverse=True
    )
    out[on] = index.ravel()
    return found, out


def _shelves(data: StudioData, firing: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Places (firing, shelf) with a witness cone: an index for each reading, −1 none, and the list (s, 2)."""
    here = np.stack([firing, data.shelf], axis=1)
    told = {(int(f), int(s)) for f, s in zip(data.witness_firing, data.witness_shelf)}
    on = np.array([(int(f), int(s)) in told for f, s in here], dtype=bool) & (here >= 0).all(axis=1)
    found, index = np.unique(here[on], axis=0, return_inverse=True)
    out = np.full(len(here), -1)
    out[on] = index.ravel()
    return out, found.reshape(-1, 2)


def _offsets(data: StudioData) -> tuple[np.ndarray, FloatArray, FloatArray]:
    """Each reading's offset of colour (of its session, else its firing), what noise is left, and their sizes.

    All of makers' charts share one offset.
    """
    keys = np.where(data.session >= 0, 2 * data.session, np.where(data.firing >= 0, 2 * data.firing + 1, -1))
    charts = 1 + keys.max(initial=0)
    keys = np.where(data.stage == MAKER, charts, keys)
    found, index = np.unique(keys, return_inverse=True)
    index = index.ravel() - int((found == -1).any())
    noise = np.zeros(len(keys))
    noise[keys < 0] = fit.OFFSET_SD**2
    for one in np.unique(index[(index >= 0) & (keys != charts)]):
        here = index == one
        if len(np.unique(data.firing[here])) > 1:
            noise[here] = fit.FIRING_SD**2
    sizes = np.where(found[found >= 0] == charts, fit.MAKER_BIAS_SD, fit.OFFSET_SD)
    return index, noise, sizes


def _witness(data: StudioData, shelves: np.ndarray) -> FloatArray:
    """What tells of a firing's heat beside the cone it counts at: witness cones, and its log (w, 4)."""
    rows = np.zeros((len(data.witness_cone), 4))
    for i, (firing, shelf, cone) in enumerate(zip(data.witness_firing, data.witness_shelf, data.witness_cone)):
        same = np.flatnonzero((shelves == (firing, shelf)).all(axis=1))
        # A cone on a shelf without tiles of its own tells of the kiln only as well as shelves are alike.
        sd = fit.WITNESS_SD if len(same) else float(np.hypot(fit.WITNESS_SD, fit.SHELF_HEAT_SD))
        rows[i] = firing, same[0] if len(same) else -1, cone, sd
    if not len(data.firing_logged):
        return rows
    # Where nothing else is known of a firing its log is what it counts at already.
    else_known = (
        np.isfinite(data.firing_cone) | np.isfinite(data.firing_reached) | np.isfinite(data.witness_means())
    )
    beside = np.flatnonzero(np.isfinite(data.firing_logged) & else_known)
    logs = [(firing, -1, data.firing_logged[firing], heatlog.LOG_SD) for firing in beside]
    return np.concatenate([rows, np.array(logs, dtype=float).reshape(-1, 4)])
