"""Scatter that a studio's own tiles tell of: of thickness by method, and of makers' charts."""

from __future__ import annotations

import numpy as np

from swatch.science import fit, solving
from swatch.science.fit import Group, Problem
from swatch.science.layered import Slopes
from swatch.science.optics import FloatArray
from swatch.science.solving import Mode

_FACTORS: FloatArray = np.geomspace(0.4, 2.5, 23)
_USUAL_SPREAD = 0.35
"""Standard deviation of ln of a studio's scatter about the usual one for its method."""
_MOST_FITTED = 0.7
_CHART_SPREAD = 0.5


def learnt_by_method(problem: Problem, mode: Mode, method: np.ndarray) -> FloatArray:
    """Standard deviation of ln thickness by method (5,), from the residuals of a fit.

    For each method the likelihood of its tiles' residuals, with the fit's own heavy tails, is weighed against the
    usual scatter; a method that no tile used keeps that.

    Parameters
    ----------
    mode : Mode
        Its residuals are smaller than those of new tiles by what the latents took up, which is made good.
    method : (n,) int
        Method code of each reading.
    """
    found: FloatArray = np.array(fit.THICKNESS_SD, dtype=float)
    wider = 1.0 / (1.0 - min(_taken_up(mode) / max(3 * len(method), 1), _MOST_FITTED))
    for code in np.unique(method):
        score = -0.5 * (np.log(_FACTORS) / _USUAL_SPREAD) ** 2
        for group, (_lab, slopes) in zip(problem.groups, mode.seen):
            rows = np.flatnonzero(method[group.rows] == code)
            if len(rows) and group.thickness.shape[1]:
                score += _likelihood(group, slopes, mode.residual[group.rows], rows, wider)
        found[code] *= float(np.exp(_mean_log(score)))
    return found


def _mean_log(score: FloatArray) -> float:
    weight = np.exp(score - score.max())
    return float(weight @ np.log(_FACTORS) / weight.sum())


def _likelihood(group: Group, slopes: Slopes, residual: FloatArray, rows: np.ndarray, wider: float) -> FloatArray:
    """Log likelihood by factor, up to a constant."""
    by_thickness = slopes.thickness[rows]
    thick = np.einsum("nil,nl,njl->nij", by_thickness, group.thickness[rows], by_thickness)
    rest = fit.reading_noise(group, slopes)[rows] - thick
    out = np.zeros(len(_FACTORS))
    for i, factor in enumerate(_FACTORS):
        noise = rest + factor**2 * thick
        left = residual[rows]
        far = wider * np.einsum("ni,ni->n", left, np.linalg.solve(noise, left[:, :, None])[:, :, 0])
        tails = (solving.TAIL_FREEDOM + 3.0) * np.log1p(far / solving.TAIL_FREEDOM)
        out[i] = -0.5 * float((np.linalg.slogdet(noise)[1] + tails).sum())
    return out


def _taken_up(mode: Mode) -> float:
    """How many latents the tiles have tied down: each counts as the share of its variance that is gone."""
    from scipy.linalg import solve_triangular

    inverse = solve_triangular(mode.root, np.eye(len(mode.root)), lower=True, check_finite=False)
    main = len(mode.root) - float((inverse**2).sum())
    own = (mode.pair_root**2).sum()
    return main + max(3.0 * len(mode.pair_root) - float(own), 0.0)


def scatter_of_materials(
    material: np.ndarray, method: np.ndarray, scatter: FloatArray, materials: int
) -> FloatArray:
    """Scatter of each material's thickness (m,) in the next tile: that of the methods it was put on by.

    A material that was never put on gets the studio's usual one.
    """
    variance = scatter[method] ** 2
    laid = material >= 0
    usual = float(np.average(variance, weights=laid.sum(axis=1))) if laid.any() else float(scatter[0] ** 2)
    # Two tiles' worth of the usual, since the next tile may be made another way.
    total, count = np.full(materials, 2.0 * usual), np.full(materials, 2.0)
    for j in range(material.shape[1]):
        on = laid[:, j]
        np.add.at(total, material[on, j], variance[on])
        np.add.at(count, material[on, j], 1.0)
    return np.asarray(np.sqrt(total / count))


def learnt_chart_noise(problem: Problem, mode: Mode, charts: np.ndarray) -> float:
    """Scatter of makers' charts about their own bias, in CIELAB units, from how they fit the studio's own tiles.

    Parameters
    ----------
    charts : (n,) bool
        Which readings are of a maker's chart; they were fitted with the usual scatter.
    """
    score = -0.5 * (np.log(_FACTORS) / _CHART_SPREAD) ** 2
    for group, (_lab, slopes) in zip(problem.groups, mode.seen):
        rows = np.flatnonzero(charts[group.rows])
        if len(rows):
            left = mode.residual[group.rows][rows]
            rest = fit.reading_noise(group, slopes)[rows] - fit.MAKER_NOISE**2 * np.eye(3)
            for i, factor in enumerate(_FACTORS):
                noise = rest + (factor * fit.MAKER_NOISE) ** 2 * np.eye(3)
                far = np.einsum("ni,ni->n", left, np.linalg.solve(noise, left[:, :, None])[:, :, 0])
                tails = (solving.TAIL_FREEDOM + 3.0) * np.log1p(far / solving.TAIL_FREEDOM)
                score[i] -= 0.5 * float((np.linalg.slogdet(noise)[1] + tails).sum())
    return float(fit.MAKER_NOISE * np.exp(_mean_log(score)))
