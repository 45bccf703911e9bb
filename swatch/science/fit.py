"""A studio's tiles as a problem in latents: what each reading depends on, and how far it may stray."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swatch.science import priors
from swatch.science.layered import Latents, Slopes, Stack
from swatch.science.optics import FloatArray
from swatch.science.priors import BODY_LATENTS, LATENTS, Beliefs

FIRING_HEAT_SD, SHELF_HEAT_SD, WITHIN_HEAT_SD = 0.35, 0.2, 0.15
REACHED_SD, PROGRAMME_SD, UNKNOWN_HEAT_SD, WITNESS_SD = 0.15, 0.45, 2.5, 0.2
"""Doubt of a firing's heat in cones: asked, read off, from a programme, and not known at all."""

FIRING_SD, SESSION_SD, PAIR_SD = 0.35, 0.8, 1.5
"""Offsets of colour in CIELAB units: of a firing, of a photo session, of two materials touching."""

OFFSET_SD = float(np.hypot(FIRING_SD, SESSION_SD))
"""A firing is mostly photographed in one session, so the two offsets are learnt as one."""

BARE_NOISE, MAKER_NOISE = 0.72, 6.0
MAKER_BIAS_SD = 4.0
"""Makers' charts are off together (print, clay, kiln), and each colour by itself; the studio's own tiles tell."""

THICKNESS_SD: FloatArray = np.array([0.2, 0.15, 0.3, 0.2, 0.25])
"""Scatter of ln thickness by method: unknown, brushed, sprayed, dipped, poured."""


@dataclass(frozen=True)
class Group:
    """Readings with one number of layers, ready for the model. Indices are of the fit's own lists; −1 none."""

    rows: np.ndarray
    stack: Stack
    lab: FloatArray
    measured: FloatArray
    pair: np.ndarray  # (n,) the two uppermost materials
    firing: np.ndarray
    shelf: np.ndarray  # places with a witness cone
    offset: np.ndarray
    noise: FloatArray  # variance of the model, of offsets without a name, of a maker's chart
    thickness: FloatArray  # variance of ln thickness
    heat: FloatArray  # variance of heat without a name


@dataclass(frozen=True)
class Layout:
    """Where each kind of latent lies in the one long vector."""

    materials: int
    bodies: int
    pairs: int
    firings: int
    shelves: int
    offsets: int

    @property
    def starts(self) -> dict[str, int]:
        """First index of each kind, and ``end``."""
        sizes = {
            "material": self.materials * LATENTS,
            "body": self.bodies * BODY_LATENTS,
            "shared": 3,
            "offset": self.offsets * 3,
            "firing_heat": self.firings,
            "shelf_heat": self.shelves,
            "pair": self.pairs * 3,
        }
        starts, at = {}, 0
        for name, size in sizes.items():
            starts[name] = at
            at += size
        return starts | {"end": at}

    def latents(self, z: FloatArray) -> Latents:
        """The part of the vector (..., p) that the colour model reads, shaped."""
        s = self.starts
        lead = z.shape[:-1]
        return Latents(
            z[..., : s["body"]].reshape(*lead, self.materials, LATENTS),
            z[..., s["body"] : s["shared"]].reshape(*lead, self.bodies, BODY_LATENTS),
            z[..., s["shared"] : s["offset"]],
        )


@dataclass(frozen=True)
class Problem:
    """All that the search for the most probable latents needs."""

    beliefs: Beliefs
    layout: Layout
    groups: tuple[Group, ...]
    firing_base: FloatArray
    firing_sd: FloatArray
    offset_sd: FloatArray
    witness: FloatArray  # (w, 4): firing, shelf index or −1, cone, its doubt; of witness cones and of logs


def group_cone(problem: Problem, group: Group, z: FloatArray, base: FloatArray) -> FloatArray:
    """Cone reached at each reading of a group."""
    s = problem.layout.starts
    cone = base.copy()
    named = group.firing >= 0
    heat = z[s["firing_heat"] : s["shelf_heat"]] * problem.firing_sd
    cone[named] = (problem.firing_base + heat)[group.firing[named]]
    on = group.shelf >= 0
    cone[on] += SHELF_HEAT_SD * z[s["shelf_heat"] : s["pair"]][group.shelf[on]]
    return cone


def columns_of(problem: Problem, group: Group) -> np.ndarray:
    """Indices of the latents each reading touches (n, c), pairs apart; the first pair's index stands for none."""
    s = problem.layout.starts
    n = len(group.rows)

    def block(name: str, index: np.ndarray, size: int) -> np.ndarray:
        at = s[name] + index[..., None] * size + np.arange(size)
        return np.where(index[..., None] >= 0, at, s["pair"]).reshape(n, -1)

    return np.concatenate(
        [
            block("material", group.stack.material, LATENTS),
            block("body", group.stack.body, BODY_LATENTS),
            np.broadcast_to(s["shared"] + np.arange(3), (n, 3)),
            block("offset", group.offset, 3),
            block("firing_heat", group.firing, 1),
            block("shelf_heat", group.shelf, 1),
        ],
        axis=1,
    )


def offsets_of(problem: Problem, group: Group, z: FloatArray) -> FloatArray:
    """Offsets of colour (n, 3) of each reading's session (or firing) and of its two uppermost materials."""
    s = problem.layout.starts
    return sessions_of(problem, group, z) + _of_index(PAIR_SD * z[s["pair"] : s["end"]].reshape(-1, 3), group.pair)


def sessions_of(problem: Problem, group: Group, z: FloatArray) -> FloatArray:
    """Offsets of colour (n, 3) of each reading's session, or firing."""
    s = problem.layout.starts
    offset = problem.offset_sd[:, None] * z[s["offset"] : s["firing_heat"]].reshape(-1, 3)
    return _of_index(offset, group.offset)


def _of_index(values: FloatArray, index: np.ndarray) -> FloatArray:
    out = np.zeros((len(index), 3))
    out[index >= 0] = values[index[index >= 0]]
    return out


def design_of(problem: Problem, group: Group, slopes: Slopes) -> FloatArray:
    """Derivatives (n, 3, c) by the columns of `columns_of`."""
    n, layers = group.stack.material.shape
    eye = np.broadcast_to(np.eye(3), (n, 3, 3))
    sd = np.zeros(n)
    on = group.firing >= 0
    sd[on] = problem.firing_sd[group.firing[on]]
    off = np.zeros(n)
    off[group.offset >= 0] = problem.offset_sd[group.offset[group.offset >= 0]]
    design: FloatArray = np.concatenate(
        [
            slopes.material.reshape(n, 3, layers * LATENTS),
            slopes.body,
            slopes.shared,
            off[:, None, None] * eye,
            slopes.heat[:, :, None] * sd[:, None, None],
            slopes.heat[:, :, None] * SHELF_HEAT_SD,
        ],
        axis=2,
    )
    return design


def reading_noise(group: Group, slopes: Slopes) -> FloatArray:
    """Covariance (n, 3, 3) of one reading about the model: measuring, model, thickness, heat, lower pairs."""
    lower = (slopes.seen[:, 1:-1] ** 2).sum(axis=1) * PAIR_SD**2
    noise = group.measured + (group.noise + lower)[:, None, None] * np.eye(3)
    noise = noise + np.einsum("nil,nl,njl->nij", slopes.thickness, group.thickness, slopes.thickness)
    return np.asarray(noise + group.heat[:, None, None] * slopes.heat[:, :, None] * slopes.heat[:, None, :])


def kind_noise(kind: np.ndarray, top: np.ndarray) -> FloatArray:
    """Variance of the model for layerings whose top material is ``top`` (−1: bare body)."""
    noise = np.where(top >= 0, priors.TILE_NOISE[kind[top]] if len(kind) else BARE_NOISE, BARE_NOISE)
    return np.asarray(noise**2, dtype=np.float64)
