"""The most probable latents of a studio: damped Gauss–Newton on all tiles at once, with Laplace's covariance."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swatch.science import layered, priors
from swatch.science.layered import Latents, Slopes, Stack
from swatch.science.optics import FloatArray
from swatch.science.priors import BODY_LATENTS, LATENTS, Beliefs
from swatch.terms.report import Report

FIRING_HEAT_SD, SHELF_HEAT_SD, WITHIN_HEAT_SD = 0.35, 0.2, 0.15
REACHED_SD, PROGRAMME_SD, UNKNOWN_HEAT_SD, WITNESS_SD = 0.15, 0.45, 2.5, 0.2
"""Doubt of a firing's heat in cones: asked, read off, from a programme, and not known at all."""

FIRING_SD, SESSION_SD, PAIR_SD = 0.35, 0.8, 1.5
"""Offsets of colour in CIELAB units: of a firing, of a photo session, of two materials touching."""

BARE_NOISE, MAKER_NOISE = 0.72, 6.0
THICKNESS_SD: FloatArray = np.array([0.2, 0.15, 0.3, 0.2, 0.25])
"""Scatter of ln thickness by method: unknown, brushed, sprayed, dipped, poured."""

TAIL_FREEDOM = 8.0
_ANNEAL = (6.0, 3.0, 1.5)
_MOST_STEPS = 60
_SMALL_STEP = 2e-4


@dataclass(frozen=True)
class Group:
    """Readings with one number of layers, ready for the model. Indices are of the fit's own lists; −1 none."""

    rows: np.ndarray
    stack: Stack
    lab: FloatArray
    measured: FloatArray
    pair: np.ndarray  # (n, L-1)
    firing: np.ndarray
    shelf: np.ndarray
    session: np.ndarray
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
    sessions: int

    @property
    def starts(self) -> dict[str, int]:
        """First index of each kind, and ``end``."""
        sizes = {
            "material": self.materials * LATENTS,
            "body": self.bodies * BODY_LATENTS,
            "shared": 3,
            "pair": self.pairs * 3,
            "firing": self.firings * 3,
            "session": self.sessions * 3,
            "firing_heat": self.firings,
            "shelf_heat": self.shelves,
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
            z[..., s["shared"] : s["pair"]],
        )


@dataclass(frozen=True)
class Problem:
    """All that the search for the most probable latents needs."""

    beliefs: Beliefs
    layout: Layout
    groups: tuple[Group, ...]
    firing_base: FloatArray
    firing_sd: FloatArray
    witness: FloatArray  # (w, 3): firing, shelf index or −1, cone


@dataclass(frozen=True)
class Mode:
    """The most probable latents, the lower root of their precision, and how each reading fits."""

    z: FloatArray
    root: FloatArray
    residual: FloatArray
    distance: FloatArray
    weight: FloatArray


def group_cone(problem: Problem, group: Group, z: FloatArray, base: FloatArray) -> FloatArray:
    """Cone reached at each reading of a group."""
    s = problem.layout.starts
    cone = base.copy()
    named = group.firing >= 0
    heat = z[s["firing_heat"] : s["shelf_heat"]] * problem.firing_sd
    cone[named] = (problem.firing_base + heat)[group.firing[named]]
    on = group.shelf >= 0
    cone[on] += SHELF_HEAT_SD * z[s["shelf_heat"] :][group.shelf[on]]
    return cone


def _columns(problem: Problem, group: Group) -> np.ndarray:
    """Indices of the latents each reading touches (n, c); the dummy one after the end stands for none."""
    s = problem.layout.starts
    n = len(group.rows)
    none = s["end"]

    def block(name: str, index: np.ndarray, size: int) -> np.ndarray:
        at = s[name] + index[..., None] * size + np.arange(size)
        return np.where(index[..., None] >= 0, at, none).reshape(n, -1)

    return np.concatenate(
        [
            block("material", group.stack.material, LATENTS),
            block("body", group.stack.body, BODY_LATENTS),
            np.broadcast_to(s["shared"] + np.arange(3), (n, 3)),
            block("pair", group.pair, 3),
            block("firing", group.firing, 3),
            block("session", group.session, 3),
            block("firing_heat", group.firing, 1),
            block("shelf_heat", group.shelf, 1),
        ],
        axis=1,
    )


def _offsets(problem: Problem, group: Group, z: FloatArray, slopes: Slopes) -> FloatArray:
    s = problem.layout.starts
    out = np.zeros((len(group.rows), 3))
    for name, index, sd in (("firing", group.firing, FIRING_SD), ("session", group.session, SESSION_SD)):
        on = index >= 0
        size = (problem.layout.firings if name == "firing" else problem.layout.sessions) * 3
        table = z[s[name] : s[name] + size].reshape(-1, 3)
        out[on] += sd * table[index[on]]
    pairs = z[s["pair"] : s["firing"]].reshape(-1, 3)
    for j in range(group.pair.shape[1]):
        out += PAIR_SD * slopes.seen[:, j + 1, None] * pairs[group.pair[:, j]]
    return out


def _design(problem: Problem, group: Group, slopes: Slopes) -> FloatArray:
    """Derivatives (n, 3, c) by the columns of `_columns`."""
    n, layers = group.stack.material.shape
    eye = np.broadcast_to(np.eye(3), (n, 3, 3))
    sd = np.where(group.firing >= 0, problem.firing_sd[group.firing], 0.0) if len(problem.firing_sd) else 0.0
    pairs = [PAIR_SD * slopes.seen[:, j + 1, None, None] * eye for j in range(group.pair.shape[1])]
    design: FloatArray = np.concatenate(
        [
            slopes.material.reshape(n, 3, layers * LATENTS),
            slopes.body,
            slopes.shared,
            *pairs,
            FIRING_SD * eye,
            SESSION_SD * eye,
            slopes.heat[:, :, None] * np.broadcast_to(sd, n)[:, None, None],
            slopes.heat[:, :, None] * SHELF_HEAT_SD,
        ],
        axis=2,
    )
    return design


def reading_noise(group: Group, slopes: Slopes) -> FloatArray:
    """Covariance (n, 3, 3) of one reading about the model: measuring, model, thickness and heat."""
    noise = group.measured + group.noise[:, None, None] * np.eye(3)
    noise = noise + np.einsum("nil,nl,njl->nij", slopes.thickness, group.thickness, slopes.thickness)
    return noise + group.heat[:, None, None] * slopes.heat[:, :, None] * slopes.heat[:, None, :]


def _whiten(covariance: FloatArray) -> FloatArray:
    return np.linalg.inv(np.linalg.cholesky(covariance))


def find_mode(
    problem: Problem, bases: tuple[FloatArray, ...], report: Report, start: FloatArray | None = None, n: int = 0
) -> Mode:
    """Most probable latents by Levenberg–Marquardt with Student-t weights.

    Parameters
    ----------
    bases : one (n_g,) array a group
        Cone of readings without a firing.
    start : (p,) float, optional
        Latents to start from; without it the search starts at the prior, with the noise first held wide so
        that no early tile pulls the others into a corner.
    n : int
        Number of readings in all.
    """
    end = problem.layout.starts["end"]
    z = np.zeros(end) if start is None else start.copy()
    widths = list(_ANNEAL) if start is None else []
    damping = 1e-2
    now = _look(problem, bases, z)
    for step in range(_MOST_STEPS):
        report(step, _MOST_STEPS, "learning")
        wide = widths.pop(0) if widths else 0.0
        whiteners = tuple(
            _whiten(reading_noise(g, s) + wide**2 * np.eye(3)) for g, (_, s) in zip(problem.groups, now)
        )
        robust = step >= 4 or start is not None
        weights = tuple(_weights(w, g, lab, robust) for w, g, (lab, _) in zip(whiteners, problem.groups, now))
        precision, gradient = _normal(problem, z, now, whiteners, weights)
        cost = _cost(problem, z, now, whiteners, weights)
        moved = 0.0
        for _ in range(8):
            lower = np.linalg.cholesky(precision + damping * np.eye(end))
            change = _solve(lower, gradient)
            change *= min(1.0, 2.5 / max(float(np.abs(change).max()), 1e-12))
            tried = _look(problem, bases, z + change)
            if _cost(problem, z + change, tried, whiteners, weights) < cost:
                z, now, moved = z + change, tried, float(np.abs(change).max())
                damping = max(damping * 0.2, 1e-9)
                break
            damping = max(damping * 8.0, 1e-3)
        if not widths and moved < _SMALL_STEP and robust:
            break
    whiteners = tuple(_whiten(reading_noise(g, s)) for g, (_, s) in zip(problem.groups, now))
    weights = tuple(_weights(w, g, lab, True) for w, g, (lab, _) in zip(whiteners, problem.groups, now))
    precision, _gradient = _normal(problem, z, now, whiteners, weights)
    residual, distance, weight = np.zeros((n, 3)), np.zeros(n), np.zeros(n)
    for g, (lab, _), w, share in zip(problem.groups, now, whiteners, weights):
        residual[g.rows] = g.lab - lab
        distance[g.rows] = (np.einsum("nij,nj->ni", w, g.lab - lab) ** 2).sum(axis=1)
        weight[g.rows] = share
    return Mode(z, np.linalg.cholesky(precision), residual, distance, weight)


def _look(problem: Problem, bases: tuple[FloatArray, ...], z: FloatArray) -> tuple[tuple[FloatArray, Slopes], ...]:
    at = problem.layout.latents(z)
    seen = []
    for group, base in zip(problem.groups, bases):
        cone = group_cone(problem, group, z, base)
        lab, slopes = layered.colour_with_slopes(problem.beliefs, at, group.stack, cone)
        seen.append((lab + _offsets(problem, group, z, slopes), slopes))
    return tuple(seen)


def _weights(whitener: FloatArray, group: Group, lab: FloatArray, robust: bool) -> FloatArray:
    if not robust:
        return np.ones(len(lab))
    distance = (np.einsum("nij,nj->ni", whitener, group.lab - lab) ** 2).sum(axis=1)
    return np.asarray((TAIL_FREEDOM + 3.0) / (TAIL_FREEDOM + distance))


def _cost(
    problem: Problem,
    z: FloatArray,
    now: tuple[tuple[FloatArray, Slopes], ...],
    whiteners: tuple[FloatArray, ...],
    weights: tuple[FloatArray, ...],
) -> float:
    cost = float(z @ z)
    for group, (lab, _), whitener, weight in zip(problem.groups, now, whiteners, weights):
        cost += float((weight * (np.einsum("nij,nj->ni", whitener, group.lab - lab) ** 2).sum(axis=1)).sum())
    for row, wanted in _witness_rows(problem):
        cost += (wanted - float(row @ z)) ** 2
    return cost


def _witness_rows(problem: Problem) -> list[tuple[FloatArray, float]]:
    s = problem.layout.starts
    rows: list[tuple[FloatArray, float]] = []
    for firing, shelf, cone in problem.witness:
        row = np.zeros(s["end"])
        row[s["firing_heat"] + int(firing)] = problem.firing_sd[int(firing)] / WITNESS_SD
        if shelf >= 0:
            row[s["shelf_heat"] + int(shelf)] = SHELF_HEAT_SD / WITNESS_SD
        rows.append((row, float(cone - problem.firing_base[int(firing)]) / WITNESS_SD))
    return rows


def _normal(
    problem: Problem,
    z: FloatArray,
    now: tuple[tuple[FloatArray, Slopes], ...],
    whiteners: tuple[FloatArray, ...],
    weights: tuple[FloatArray, ...],
) -> tuple[FloatArray, FloatArray]:
    """Precision (p, p) and gradient (p,) at the present latents."""
    end = problem.layout.starts["end"]
    wide = end + 1
    precision, gradient = np.zeros(wide * wide), np.zeros(wide)
    for group, (lab, slopes), whitener, weight in zip(problem.groups, now, whiteners, weights):
        root = np.sqrt(weight)[:, None, None] * whitener
        design = root @ _design(problem, group, slopes)
        left = np.einsum("nij,nj->ni", root, group.lab - lab)
        columns = _columns(problem, group)
        for rows in np.array_split(np.arange(len(columns)), max(1, len(columns) // 128)):
            block = design[rows].transpose(0, 2, 1) @ design[rows]
            at = columns[rows][:, :, None] * wide + columns[rows][:, None, :]
            precision += np.bincount(at.ravel(), block.ravel(), minlength=wide * wide)
        gradient += np.bincount(columns.ravel(), np.einsum("nic,ni->nc", design, left).ravel(), minlength=wide)
    square = precision.reshape(wide, wide)[:end, :end]
    slope = gradient[:end] - z
    for row, wanted in _witness_rows(problem):
        square = square + np.outer(row, row)
        slope = slope + row * (wanted - float(row @ z))
    return square + np.eye(end), slope


def _solve(lower: FloatArray, right: FloatArray) -> FloatArray:
    from scipy.linalg import cho_solve

    return np.asarray(cho_solve((lower, True), right, check_finite=False), dtype=np.float64)


def draws_about(mode: Mode, normals: FloatArray) -> FloatArray:
    """Latents drawn from Laplace's covariance about the mode: (d, p) from standard normals (d, p)."""
    from scipy.linalg import solve_triangular

    spread = solve_triangular(mode.root, normals.T, lower=True, trans="T", check_finite=False)
    return np.asarray(mode.z + spread.T, dtype=np.float64)


def kind_noise(kind: np.ndarray, top: np.ndarray) -> FloatArray:
    """Variance of the model for layerings whose top material is ``top`` (−1: bare body)."""
    noise = np.where(top >= 0, priors.TILE_NOISE[kind[top]] if len(kind) else BARE_NOISE, BARE_NOISE)
    return np.asarray(noise**2, dtype=np.float64)
