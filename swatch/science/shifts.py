"""From a studio's tiles to the fired colour of layerings: `fit_studio` learns, `StudioFit` is what was learnt."""

from __future__ import annotations

from dataclasses import dataclass, field, fields

import numpy as np

from swatch.science import fit, predicting, priors, solving
from swatch.science.fit import Group, Layout, Problem
from swatch.science.layered import Latents, Stack
from swatch.science.optics import FloatArray
from swatch.science.predicting import Predicted
from swatch.science.priors import Beliefs
from swatch.science.solving import Mode
from swatch.science.studio_data import MAKER, RAW, StudioData, layers_of, merge_repeats, raw_colours
from swatch.terms.report import Report

__all__ = ["Predicted", "StudioData", "StudioFit", "fit_studio"]

DRAWS = 64
LEARNING_FORM = 1
"""Raised whenever the same tiles would be learnt otherwise than before, so that kept fits are not mixed up."""
_SEED = 20_060_601


@dataclass(frozen=True)
class StudioFit:
    """What a studio's tiles have taught. Keep it with `arrays`; it answers through `predict`."""

    kind: np.ndarray
    raw_lab: FloatArray
    rated: FloatArray
    z: FloatArray
    """(p,) the most probable latents, as `Layout` orders them."""
    colour_draws: FloatArray
    """(64, q) draws of the latents that colour depends on: materials, bodies, shared."""
    pair_draws: FloatArray
    """(64, k, 3) draws of the latents of pairs."""
    pairs: np.ndarray
    """(k, 2) ordered pairs of materials seen touching, lower first."""
    sizes: np.ndarray
    """(6,) sizes of `Layout`."""
    tile_material: np.ndarray
    tile_coats: FloatArray
    tile_wiped: np.ndarray
    tile_body: np.ndarray
    tile_cone: FloatArray
    tile_stage: np.ndarray
    tile_lab: FloatArray
    measuring: FloatArray
    """(3, 3) usual covariance of measuring in this studio."""
    thickness_sd: FloatArray
    """(1,) usual scatter of ln thickness in this studio."""
    scale: FloatArray = field(default_factory=lambda: np.array([1.1, 1.15, 1.35, 1.35]))
    """(4,) factor on the standard deviations by novelty, so that d² ≤ 7.815 holds for 95 % of new tiles."""
    beliefs: Beliefs = field(init=False, repr=False)
    layout: Layout = field(init=False, repr=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "beliefs", priors.believe(self.kind, self.raw_lab, self.rated))
        object.__setattr__(self, "layout", Layout(*(int(size) for size in self.sizes)))

    @property
    def learnt_from(self) -> int:
        """Number of fired tiles behind the fit."""
        return len(self.tile_cone)

    @property
    def latents(self) -> Latents:
        """The most probable latents, shaped."""
        return self.layout.latents(self.z)

    def predict(
        self, layers: np.ndarray, coats: FloatArray, wiped: np.ndarray, body: np.ndarray, cone: FloatArray
    ) -> Predicted:
        """Colour of the next tile fired, as measured, for each question.

        Parameters
        ----------
        layers : (k, l) int
            Materials from the body outward, −1 after the last.
        coats, wiped : (k, l) float, bool
            Coats of each layer, and whether it is wiped back.
        body : (k,) int
        cone : (k,) float
            Cone position asked for.

        Returns
        -------
        Predicted
        """
        return predicting.predict(self, layers, coats, wiped, body, cone)

    def arrays(self) -> dict[str, np.ndarray]:
        """Everything needed to build the fit again, as plain arrays."""
        return {f.name: np.asarray(getattr(self, f.name)) for f in fields(self) if f.init}

    @classmethod
    def from_arrays(cls, arrays: dict[str, np.ndarray]) -> StudioFit:
        """Build a fit from what `arrays` gave."""
        return cls(**{f.name: np.asarray(arrays[f.name]) for f in fields(cls) if f.init})


def fit_studio(data: StudioData, report: Report, start: StudioFit | None = None) -> StudioFit:
    """Learn a studio from its tiles.

    Parameters
    ----------
    data : StudioData
    report : Report
        Called at each step; may raise `Stopped`.
    start : StudioFit, optional
        A fit of nearly the same tiles to start from.

    Returns
    -------
    StudioFit
        The same for the same data, on every run.
    """
    kept, problem, bases, pairs, raw = set_up(data)
    first = None if start is None else carry_over(start, problem.layout, pairs)
    mode = solving.find_mode(problem, bases, report, first, len(kept.lab))
    return finish(data, kept, problem, mode, pairs, raw)


def usable(data: StudioData) -> np.ndarray:
    """Which readings the fit can learn from (n,): fired, on a known body, with known layers."""
    fired = data.stage != RAW
    return np.asarray(fired & (data.body >= 0) & np.isfinite(data.lab).all(axis=1))


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


def set_up(
    data: StudioData,
) -> tuple[StudioData, Problem, tuple[FloatArray, ...], np.ndarray, FloatArray]:
    """Sort a studio's readings into groups of one number of layers, with their noise and their indices."""
    raw = raw_colours(data)
    kept = with_bare_bodies(merge_repeats(data.only(np.flatnonzero(usable(data)))))
    beliefs = priors.believe(kept.kind, raw, kept.rated)
    asked = kept.cones_asked()
    base, base_sd, named = _heat_known(kept, asked)
    layers = layers_of(kept.material)
    pairs, pair_of = _pairs(kept.material, layers)
    shelf_of, shelves = _shelves(kept, named)
    offset_of, offset_noise, offsets = _offsets(kept)
    groups, bases = [], []
    for count in np.unique(layers):
        rows = np.flatnonzero(layers == count)
        material = kept.material[rows, :count]
        stack = Stack(material, kept.coats[rows, :count], kept.wiped[rows, :count].astype(bool), kept.body[rows])
        top = material[:, -1] if count else np.full(len(rows), -1)
        noise = fit.kind_noise(kept.kind, top) + np.where(kept.stage[rows] == MAKER, fit.MAKER_NOISE**2, 0.0)
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
        bases.append(np.where(np.isnan(asked[rows]), _middle(asked), asked[rows]))
    layout = Layout(len(kept.kind), kept.bodies, len(pairs), len(base), len(shelves), offsets)
    return (
        kept,
        Problem(beliefs, layout, tuple(groups), base, base_sd, _witness(kept, shelves)),
        tuple(bases),
        pairs,
        raw,
    )


def _middle(cones: FloatArray) -> float:
    return float(np.nanmedian(cones)) if np.isfinite(cones).any() else priors.MIDDLE_CONE


def _heat_known(data: StudioData, asked: FloatArray) -> tuple[FloatArray, FloatArray, np.ndarray]:
    """Cone and its doubt for each firing, and each reading's firing."""
    base = data.firing_cones()
    sd = np.where(np.isfinite(data.firing_cone), fit.FIRING_HEAT_SD, fit.PROGRAMME_SD)
    for i in np.flatnonzero(np.isnan(base)):
        of_tiles = asked[(data.firing == i) & np.isfinite(asked)]
        base[i] = of_tiles[0] if len(of_tiles) else np.nan
        sd[i] = fit.FIRING_HEAT_SD
    unknown = np.isnan(base)
    base = np.where(unknown, _middle(asked), base)
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


def _offsets(data: StudioData) -> tuple[np.ndarray, FloatArray, int]:
    """Each reading's offset of colour (of its session, else its firing), what noise is left, and their number."""
    keys = np.where(data.session >= 0, 2 * data.session, np.where(data.firing >= 0, 2 * data.firing + 1, -1))
    found, index = np.unique(keys, return_inverse=True)
    index = index.ravel() - int((found == -1).any())
    noise = np.zeros(len(keys))
    noise[keys < 0] = fit.OFFSET_SD**2
    for one in np.unique(index[index >= 0]):
        here = index == one
        if len(np.unique(data.firing[here])) > 1:
            noise[here] = fit.FIRING_SD**2
    return index, noise, int(index.max(initial=-1)) + 1


def _witness(data: StudioData, shelves: np.ndarray) -> FloatArray:
    rows = np.zeros((len(data.witness_cone), 3))
    for i, (firing, shelf, cone) in enumerate(zip(data.witness_firing, data.witness_shelf, data.witness_cone)):
        same = np.flatnonzero((shelves == (firing, shelf)).all(axis=1))
        rows[i] = firing, same[0] if len(same) else -1, cone
    return rows


def carry_over(start: StudioFit, layout: Layout, pairs: np.ndarray) -> FloatArray:
    """Latents of an earlier fit where they still mean the same; zero elsewhere."""
    z = np.zeros(layout.starts["end"])
    old, new = start.layout, layout
    if (old.materials, old.bodies) != (new.materials, new.bodies):
        return z
    a, b = old.starts, new.starts
    z[: b["offset"]] = start.z[: a["offset"]]
    index = predicting.pair_index(start.pairs, old.materials)
    for k, (lower, upper) in enumerate(pairs):
        was = index[lower, upper]
        if was >= 0:
            z[b["pair"] + 3 * k : b["pair"] + 3 * k + 3] = start.z[a["pair"] + 3 * was : a["pair"] + 3 * was + 3]
    for name, size in (("offset", new.offsets * 3), ("firing_heat", new.firings)):
        if size <= start.z[a[name] :].size:
            z[b[name] : b[name] + size] = start.z[a[name] : a[name] + size]
    return z


def finish(
    data: StudioData, kept: StudioData, problem: Problem, mode: Mode, pairs: np.ndarray, raw: FloatArray
) -> StudioFit:
    """Draw about the mode and keep what predictions need."""
    colour, pair = problem.layout.starts["offset"], problem.layout.starts["pair"]
    normals = np.random.Generator(np.random.PCG64(_SEED)).standard_normal((DRAWS, problem.layout.starts["end"]))
    drawn = solving.draws_about(mode, normals)
    asked = kept.cones_asked()
    layout = problem.layout
    sizes = (layout.materials, layout.bodies, layout.pairs, layout.firings, layout.shelves, layout.offsets)
    usual = float(np.median(fit.THICKNESS_SD[kept.method])) if len(kept.method) else float(fit.THICKNESS_SD[0])
    return StudioFit(
        kind=np.asarray(kept.kind),
        raw_lab=raw,
        rated=np.asarray(kept.rated, dtype=float),
        z=mode.z,
        colour_draws=drawn[:, :colour],
        pair_draws=drawn[:, pair:].reshape(DRAWS, problem.layout.pairs, 3),
        pairs=pairs,
        sizes=np.array(sizes),
        tile_material=kept.material,
        tile_coats=kept.coats,
        tile_wiped=kept.wiped.astype(bool),
        tile_body=kept.body,
        tile_cone=np.where(np.isnan(asked), _middle(asked), asked),
        tile_stage=kept.stage,
        tile_lab=kept.lab,
        measuring=usual_measuring(data),
        thickness_sd=np.array([usual]),
    )
