"""The most probable latents of a studio: damped Gauss–Newton on all tiles at once, with Laplace's covariance."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swatch.science import fit, layered
from swatch.science.fit import Group, Problem
from swatch.science.layered import Slopes
from swatch.science.optics import FloatArray
from swatch.terms.report import Report

TAIL_FREEDOM = 8.0
SESSION_FREEDOM = 4.0
"""Freedom of the Student-t of tiles about the model, and of photo sessions about each other."""
_ANNEAL = (6.0, 3.0, 1.5)
_MOST_STEPS = 60
SMALL_GAIN, HASTY_GAIN = 0.02, 0.5
"""Steps end when twice the log posterior gains less than this; from a fit of nearly the same tiles on, in haste.

The last gains come slowly, along valleys in which predictions hardly move: with six tiles more on 1,000, twelve of
sixteen steps moved the median prediction by 0.02 ΔE00.
"""
_LONGEST_STEP = 2.5

Seen = tuple[tuple[FloatArray, Slopes], ...]


@dataclass(frozen=True)
class Normal:
    """Normal equations with the offsets of pairs set apart: those couple to the rest, not to each other."""

    square: FloatArray  # (m, m) precision of all but the pairs, the pairs marginalised
    slope: FloatArray  # (m,)
    pair_root: FloatArray  # (k, 3, 3) lower root of each pair's covariance
    pair_cross: FloatArray  # (k, 3, m)
    pair_slope: FloatArray  # (k, 3)


@dataclass(frozen=True)
class Mode:
    """The most probable latents, the roots of their covariance, and how each reading fits."""

    z: FloatArray
    root: FloatArray
    pair_root: FloatArray
    pair_cross: FloatArray
    residual: FloatArray
    distance: FloatArray
    seen: Seen
    """Colours of the groups at the mode, with their derivatives."""


def find_mode(
    problem: Problem,
    bases: tuple[FloatArray, ...],
    report: Report,
    start: FloatArray | None = None,
    n: int = 0,
    small: float = SMALL_GAIN,
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
    small : float
        Gain of twice the log posterior at which the search ends.
    """
    z = np.zeros(problem.layout.starts["end"]) if start is None else start.copy()
    widths = list(_ANNEAL) if start is None else []
    damping = 1e-2
    now = look(problem, bases, z)
    for step in range(_MOST_STEPS):
        report(step, _MOST_STEPS, "learning")
        wide = widths.pop(0) if widths else 0.0
        robust = not widths
        whiteners = whitened(problem, now, wide)
        weights = tuple(_weights(w, g, lab, robust) for w, g, (lab, _) in zip(whiteners, problem.groups, now))
        held = prior_weights(problem, z, robust)
        normal = normal_equations(problem, z, now, whiteners, weights, held)
        cost = cost_of(problem, z, now, whiteners, weights, held)
        gain = 0.0
        for _ in range(8):
            change = step_of(normal, damping)
            change *= min(1.0, _LONGEST_STEP / max(float(np.abs(change).max()), 1e-12))
            tried = look(problem, bases, z + change)
            gain = cost - cost_of(problem, z + change, tried, whiteners, weights, held)
            if gain > 0:
                z, now = z + change, tried
                damping = max(damping * 0.3, 1e-6)
                break
            damping = max(damping * 6.0, 1e-3)
        if robust and gain < small:
            break
    whiteners = whitened(problem, now, 0.0)
    weights = tuple(_weights(w, g, lab, True) for w, g, (lab, _) in zip(whiteners, problem.groups, now))
    normal = normal_equations(problem, z, now, whiteners, weights, prior_weights(problem, z, True))
    residual, distance = np.zeros((n, 3)), np.zeros(n)
    for g, (lab, _), w in zip(problem.groups, now, whiteners):
        residual[g.rows] = g.lab - lab
        distance[g.rows] = _squares(w, g.lab - lab)
    root = np.linalg.cholesky(normal.square)
    return Mode(z, root, normal.pair_root, normal.pair_cross, residual, distance, now)


def nearer(problem: Problem, bases: tuple[FloatArray, ...], start: FloatArray) -> bool:
    """Whether latents to start from are more probable than those believed beforehand."""

    def unlikely(z: FloatArray) -> float:
        now = look(problem, bases, z)
        cost = float(z @ (prior_weights(problem, z, True) * z))
        for w, group, (lab, _) in zip(whitened(problem, now, 0.0), problem.groups, now):
            cost += (TAIL_FREEDOM + 3.0) * float(np.log1p(_squares(w, group.lab - lab) / TAIL_FREEDOM).sum())
        return cost

    return unlikely(start) < unlikely(np.zeros_like(start))


def look(problem: Problem, bases: tuple[FloatArray, ...], z: FloatArray) -> Seen:
    """Colours of all readings at some latents, with derivatives, group by group."""
    at = problem.layout.latents(z)
    seen = []
    for group, base in zip(problem.groups, bases):
        cone = fit.group_cone(problem, group, z, base)
        lab, slopes = layered.colour_with_slopes(problem.beliefs, at, group.stack, cone)
        seen.append((lab + fit.offsets_of(problem, group, z), slopes))
    return tuple(seen)


def whitened(problem: Problem, now: Seen, wide: float) -> tuple[FloatArray, ...]:
    """For each group the matrices (n, 3, 3) that make its readings' noise the identity."""
    extra = wide**2 * np.eye(3)
    return tuple(
        np.linalg.inv(np.linalg.cholesky(fit.reading_noise(g, s) + extra))
        for g, (_, s) in zip(problem.groups, now)
    )


def _squares(whitener: FloatArray, residual: FloatArray) -> FloatArray:
    return np.asarray(((whitener @ residual[:, :, None])[:, :, 0] ** 2).sum(axis=1))


def _weights(whitener: FloatArray, group: Group, lab: FloatArray, robust: bool) -> FloatArray:
    if not robust:
        return np.ones(len(lab))
    return np.asarray((TAIL_FREEDOM + 3.0) / (TAIL_FREEDOM + _squares(whitener, group.lab - lab)))


def prior_weights(problem: Problem, z: FloatArray, robust: bool) -> FloatArray:
    """Weight (p,) of each latent's own prior: 1, but less for the offset of a session that is far off.

    Most sessions agree; one taken in other light is off by more than any normal says, and must not pull materials.
    """
    out = np.ones(len(z))
    if robust:
        s = problem.layout.starts
        offset = z[s["offset"] : s["firing_heat"]].reshape(-1, 3)
        weight = (SESSION_FREEDOM + 3.0) / (SESSION_FREEDOM + (offset**2).sum(axis=1))
        out[s["offset"] : s["firing_heat"]] = np.repeat(np.minimum(weight, 1.0), 3)
    return out


def cost_of(
    problem: Problem,
    z: FloatArray,
    now: Seen,
    whiteners: tuple[FloatArray, ...],
    weights: tuple[FloatArray, ...],
    held: FloatArray,
) -> float:
    """Twice the negative log posterior, up to a constant, at held noise and weights."""
    cost = float(z @ (held * z))
    for group, (lab, _), whitener, weight in zip(problem.groups, now, whiteners, weights):
        cost += float(weight @ _squares(whitener, group.lab - lab))
    for row, wanted in _witness_rows(problem):
        cost += (wanted - float(row @ z[: len(row)])) ** 2
    return cost


def _witness_rows(problem: Problem) -> list[tuple[FloatArray, float]]:
    s = problem.layout.starts
    rows: list[tuple[FloatArray, float]] = []
    for firing, shelf, cone, sd in problem.witness:
        row = np.zeros(s["pair"])
        row[s["firing_heat"] + int(firing)] = problem.firing_sd[int(firing)] / sd
        if shelf >= 0:
            row[s["shelf_heat"] + int(shelf)] = fit.SHELF_HEAT_SD / sd
        rows.append((row, float(cone - problem.firing_base[int(firing)]) / sd))
    return rows


def normal_equations(
    problem: Problem,
    z: FloatArray,
    now: Seen,
    whiteners: tuple[FloatArray, ...],
    weights: tuple[FloatArray, ...],
    held: FloatArray,
) -> Normal:
    """Normal equations at the present latents."""
    m, k = problem.layout.starts["pair"], problem.layout.pairs
    square, slope = np.diag(held[:m]), -(held * z)[:m]
    cross, inner = np.zeros((k, 3, m)), np.tile(np.eye(3), (k, 1, 1))
    pair_slope = -z[m:].reshape(k, 3)
    for group, (lab, slopes), whitener, weight in zip(problem.groups, now, whiteners, weights):
        n = len(group.rows)
        root = np.sqrt(weight)[:, None, None] * whitener
        # One more column than there are latents: what belongs to none falls into it and is dropped.
        design = np.zeros((n, 3, m + 1))
        columns = fit.columns_of(problem, group)[:, None, :]
        touched = root @ fit.design_of(problem, group, slopes)
        np.put_along_axis(design, columns, touched, axis=2)
        flat = design[:, :, :m].reshape(3 * n, m)
        left = (root @ (group.lab - lab)[:, :, None])[:, :, 0]
        square += flat.T @ flat
        slope += flat.T @ left.ravel()
        on = np.flatnonzero(group.pair >= 0)
        if len(on):
            on = on[np.argsort(group.pair[on], kind="stable")]
            pair = group.pair[on]
            first = np.flatnonzero(np.append(True, pair[1:] != pair[:-1]))
            offset = fit.PAIR_SD * root[on].transpose(0, 2, 1)
            at = pair[first]
            cell = (pair[:, None, None] * 3 + np.arange(3)[:, None]) * (m + 1) + columns[on]
            sums = np.bincount(cell.ravel(), (offset @ touched[on]).ravel(), minlength=3 * k * (m + 1))
            cross += sums.reshape(k, 3, m + 1)[:, :, :m]
            inner[at] += np.add.reduceat(offset @ offset.transpose(0, 2, 1), first, axis=0)
            pair_slope[at] += np.add.reduceat((offset @ left[on, :, None])[:, :, 0], first, axis=0)
    for row, wanted in _witness_rows(problem):
        square += np.outer(row, row)
        slope += row * (wanted - float(row @ z[:m]))
    pair_root = np.linalg.cholesky(np.linalg.inv(inner))
    inward = (pair_root.transpose(0, 2, 1) @ cross).reshape(3 * k, m)
    square -= inward.T @ inward
    slope -= inward.T @ (pair_root.transpose(0, 2, 1) @ pair_slope[:, :, None]).ravel()
    return Normal(square, slope, pair_root, cross, pair_slope)


def step_of(normal: Normal, damping: float) -> FloatArray:
    """Damped step for all latents."""
    from scipy.linalg import cho_factor, cho_solve

    lower = cho_factor(normal.square + damping * np.eye(len(normal.slope)), lower=True, check_finite=False)
    main = cho_solve(lower, normal.slope, check_finite=False)
    left = normal.pair_slope - normal.pair_cross @ main
    pair = normal.pair_root @ (normal.pair_root.transpose(0, 2, 1) @ left[:, :, None])
    return np.concatenate([main, pair.ravel()])


def draws_about(mode: Mode, normals: FloatArray) -> FloatArray:
    """Latents drawn from Laplace's covariance about the mode: (d, p) from standard normals (d, p)."""
    from scipy.linalg import solve_triangular

    m, d = len(mode.root), len(normals)
    main = solve_triangular(mode.root, normals[:, :m].T, lower=True, trans="T", check_finite=False).T
    k = len(mode.pair_root)
    pulled = np.tensordot(main, mode.pair_cross, axes=(1, 2))
    turned = mode.pair_root.transpose(0, 2, 1) @ pulled[..., None]
    pair = (mode.pair_root @ (normals[:, m:].reshape(d, k, 3)[..., None] - turned)).reshape(d, 3 * k)
    return np.asarray(mode.z + np.concatenate([main, pair], axis=1), dtype=np.float64)
