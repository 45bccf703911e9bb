"""From a studio's tiles to the fired colour of layerings: `fit_studio` learns, `StudioFit` is what was learnt."""

from __future__ import annotations

from dataclasses import dataclass, field, fields, replace

import numpy as np

from swatch.science import calibrating, predicting, priors, scatter, solving
from swatch.science.fit import Layout, sessions_of
from swatch.science.layered import Latents
from swatch.science.optics import FloatArray
from swatch.science.own_tiles import OwnTiles
from swatch.science.predicting import Predicted
from swatch.science.priors import Beliefs
from swatch.science.setting_up import SetUp, middle_cone, set_up, usual_measuring
from swatch.science.solving import Mode
from swatch.science.studio_data import FIRED, MAKER, StudioData
from swatch.terms.report import Report

__all__ = ["Predicted", "StudioData", "StudioFit", "fit_studio"]

DRAWS = 64
LEARNING_FORM = 7
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
    tile_row: np.ndarray
    """Where each tile stood in the studio's own list of readings; −1 for a bare body."""
    tile_offset: FloatArray
    """(n, 3) offset of colour of each tile's photo session or firing."""
    tile_residual: FloatArray
    """(n, 3) measured less fitted colour."""
    tile_distance: FloatArray
    """(n,) squared distance of that in the noise of one reading; mostly below 7.815."""
    measuring: FloatArray
    """(3, 3) usual covariance of measuring in this studio."""
    thickness_sd: FloatArray
    """(m,) scatter of ln thickness of each material, as it is put on in this studio."""
    method_sd: FloatArray
    """(5,) scatter of ln thickness by method, learnt from the tiles."""
    scale: FloatArray = field(default_factory=lambda: np.repeat([[1.1], [1.15], [1.35], [1.35]], 3, axis=1))
    """(4, 3) factor on the standard deviations by novelty and by layers (one, two, more), so that d² ≤ 7.815
    holds for 95 % of new tiles."""
    beliefs: Beliefs = field(init=False, repr=False)
    layout: Layout = field(init=False, repr=False)
    own_tiles: OwnTiles = field(init=False, repr=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "beliefs", priors.believe(self.kind, self.raw_lab, self.rated))
        object.__setattr__(self, "layout", Layout(*(int(size) for size in self.sizes)))
        object.__setattr__(self, "own_tiles", OwnTiles(self))

    @property
    def learnt_from(self) -> int:
        """Number of fired tiles behind the fit."""
        return len(self.tile_cone)

    @property
    def latents(self) -> Latents:
        """The most probable latents, shaped."""
        return self.layout.latents(self.z)

    def scale_of(self, novelty: np.ndarray, material: np.ndarray) -> FloatArray:
        """Factor (k,) on the standard deviations of questions with these materials (k, l)."""
        return np.asarray(self.scale[novelty, calibrating.depth_of(material)])

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
    """Learn a studio from its tiles, and from leaving some of them out how sure to be.

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
    fitted = fit_once(data, report, start)
    return replace(fitted, scale=calibrating.scales(data, fitted, fit_once, report))


def refit(data: StudioData, report: Report, last: StudioFit) -> StudioFit:
    """Learn from nearly the same tiles as before: from the last fit on, with its scale of doubt."""
    return replace(fit_once(data, report, last, solving.HASTY_GAIN), scale=last.scale)


def fit_once(
    data: StudioData, report: Report, start: StudioFit | None = None, small: float = solving.SMALL_GAIN
) -> StudioFit:
    """Learn a studio from its tiles, with the usual scale of doubt; the search ends at a gain of ``small``."""
    ready = set_up(data)
    first = None if start is None else carry_over(start, ready.problem.layout, ready.pairs)
    if first is not None and not solving.nearer(ready.problem, ready.bases, first):
        first = None
    mode = solving.find_mode(ready.problem, ready.bases, report, first, len(ready.kept.lab), small)
    charts = ready.kept.stage == MAKER
    if charts.any():
        noise = scatter.learnt_chart_noise(ready.problem, mode, charts)
        ready = set_up(data, noise)
        mode = solving.find_mode(ready.problem, ready.bases, report, mode.z, len(ready.kept.lab), small)
    return finish(data, ready, mode)


def carry_over(start: StudioFit, layout: Layout, pairs: np.ndarray) -> FloatArray | None:
    """Latents of an earlier fit where they still mean the same, zero elsewhere; None where none do."""
    z = np.zeros(layout.starts["end"])
    old, new = start.layout, layout
    if (old.materials, old.bodies) != (new.materials, new.bodies):
        return None
    a, b = old.starts, new.starts
    z[: b["offset"]] = start.z[: a["offset"]]
    index = predicting.pair_index(start.pairs, old.materials)
    for k, (lower, upper) in enumerate(pairs):
        was = index[lower, upper]
        if was >= 0:
            z[b["pair"] + 3 * k : b["pair"] + 3 * k + 3] = start.z[a["pair"] + 3 * was : a["pair"] + 3 * was + 3]
    # Firings and sessions are known by their place only; what is out of place is soon put right.
    for name, was, now in (
        ("offset", old.offsets * 3, new.offsets * 3),
        ("firing_heat", old.firings, new.firings),
    ):
        size = min(was, now)
        z[b[name] : b[name] + size] = start.z[a[name] : a[name] + size]
    return z


def finish(data: StudioData, ready: SetUp, mode: Mode) -> StudioFit:
    """Draw about the mode and keep what predictions need."""
    kept, problem = ready.kept, ready.problem
    colour, pair = problem.layout.starts["offset"], problem.layout.starts["pair"]
    normals = np.random.Generator(np.random.PCG64(_SEED)).standard_normal((DRAWS, problem.layout.starts["end"]))
    drawn = solving.draws_about(mode, normals)
    asked = kept.cones_asked()
    layout = problem.layout
    offset = np.zeros((len(kept.lab), 3))
    for group in problem.groups:
        offset[group.rows] = sessions_of(problem, group, mode.z)
    sizes = (layout.materials, layout.bodies, layout.pairs, layout.firings, layout.shelves, layout.offsets)
    method_sd = scatter.learnt_by_method(problem, mode, kept.method)
    laid = kept.stage == FIRED
    material_sd = scatter.scatter_of_materials(kept.material[laid], kept.method[laid], method_sd, layout.materials)
    return StudioFit(
        kind=np.asarray(kept.kind),
        raw_lab=ready.raw,
        rated=np.asarray(kept.rated, dtype=float),
        z=mode.z,
        colour_draws=drawn[:, :colour],
        pair_draws=drawn[:, pair:].reshape(DRAWS, problem.layout.pairs, 3),
        pairs=ready.pairs,
        sizes=np.array(sizes),
        tile_material=kept.material,
        tile_coats=kept.coats,
        tile_wiped=kept.wiped.astype(bool),
        tile_body=kept.body,
        tile_cone=np.where(np.isnan(asked), middle_cone(asked), asked),
        tile_stage=kept.stage,
        tile_lab=kept.lab,
        tile_row=ready.rows,
        tile_offset=offset,
        tile_residual=mode.residual,
        tile_distance=mode.distance,
        measuring=usual_measuring(data),
        thickness_sd=material_sd,
        method_sd=method_sd,
    )
