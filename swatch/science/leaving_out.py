"""How far to trust a studio's predictions: questions asked of tiles left out, and tiles that do not fit."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swatch.science import calibrating, folds, likeness, predicting
from swatch.science.colour_math import delta_e_2000
from swatch.science.likeness import Setting
from swatch.science.optics import FloatArray
from swatch.science.shifts import StudioFit, fit_once
from swatch.science.studio_data import FIRED, StudioData, layers_of
from swatch.terms.report import Report

TILE, LAYERING, CONE, FIRING, MATERIAL = range(5)
"""Kinds of question: another tile, new layering, another cone, another firing, unseen material."""

WITHIN_80 = 4.642
"""80 % point of chi-squared with three degrees of freedom."""


@dataclass(frozen=True)
class LeftOut:
    """Predictions of tiles left out, one row each.

    ``question`` kind codes; ``row`` in the studio's readings; ``de00`` how far off the prediction was,
    ``nearest``, ``shifted`` and ``alike`` how far off the nearest tile, the nearest tile moved by mean shifts, and
    likeness alone;
    ``distance`` squared, in the predicted spread: 95 % should be 7.815 or less, 80 % 4.642; ``said_l``,
    ``said_a``, ``said_b`` the colour predicted.
    """

    question: np.ndarray
    row: np.ndarray
    de00: FloatArray
    nearest: FloatArray
    shifted: FloatArray
    alike: FloatArray
    distance: FloatArray
    said_l: FloatArray
    said_a: FloatArray
    said_b: FloatArray

    def of(self, question: int) -> LeftOut:
        """The rows of one kind of question."""
        on = self.question == question
        return LeftOut(*(getattr(self, name)[on] for name in self.__dataclass_fields__))

    def arrays(self) -> dict[str, np.ndarray]:
        """All of it as plain arrays."""
        return {name: getattr(self, name) for name in self.__dataclass_fields__}


def left_out_from(arrays: dict[str, np.ndarray], readings: int) -> LeftOut:
    """Build what `LeftOut.arrays` gave, for a studio with so many readings.

    Raises
    ------
    ValueError, KeyError
        The arrays are of anything else.
    """
    found = LeftOut(**{name: np.asarray(arrays[name]) for name in LeftOut.__dataclass_fields__})
    parts = list(found.arrays().values())
    if any(part.shape != found.row.shape or part.ndim != 1 for part in parts):
        raise ValueError("left-out errors come in columns of one length")
    if len(found.row) and not (found.row.min() >= 0 and found.row.max() < readings):
        raise ValueError("left-out errors are of the studio's readings")
    return found


def left_out(data: StudioData, fitted: StudioFit, report: Report) -> LeftOut:
    """Ask for every kind of question what is already known, from fits that have not seen it.

    Parameters
    ----------
    data : StudioData
    fitted : StudioFit
        The fit of all of ``data``; the others start from it and take its scale of doubt.
    report : Report
    """
    jobs: list[tuple[int, np.ndarray]] = [(TILE, folds.twins(data))]
    for fold in range(folds.FOLDS):
        jobs.append((LAYERING, folds.by_layering(data, fold)))
        jobs.append((CONE, folds.by_cone(data, fold)))
        jobs.append((FIRING, folds.by_firing(data, fold)))
        jobs.append((MATERIAL, folds.by_material(data, fold, fitted.beliefs.from_raw)))
    setting = likeness.best_setting(data)
    parts = []
    for step, (question, out) in enumerate(jobs):
        report(step, len(jobs), "leaving-out")
        if not out.any() or (~out).sum() < calibrating.FEWEST:
            continue
        part = _asked(data, fitted, question, out, setting, report)
        if len(part.row):
            parts.append(part)
    names = tuple(LeftOut.__dataclass_fields__)
    if not parts:
        none = np.zeros(0)
        return LeftOut(none.astype(int), none.astype(int), *(none for _ in names[2:]))
    return LeftOut(*(np.concatenate([getattr(part, name) for part in parts]) for name in names))


def _asked(
    data: StudioData, fitted: StudioFit, question: int, out: np.ndarray, setting: Setting, report: Report
) -> LeftOut:
    left = data.only(~out)
    part = fit_once(left, report, fitted)
    rows = np.flatnonzero(out)
    said = part.predict(*folds.question_of(data, rows))
    wanted = {
        TILE: said.novelty <= predicting.NEW_LAYERING,
        LAYERING: said.novelty == predicting.NEW_LAYERING,
        CONE: said.novelty == predicting.ANOTHER_CONE,
        FIRING: said.novelty <= predicting.ANOTHER_CONE,
        MATERIAL: said.novelty == predicting.UNSEEN_MATERIAL,
    }[question]
    fine = np.flatnonzero(wanted & (said.refused == 0))
    rows = rows[fine]
    near, shifted = neighbours(left, data, rows)
    alike = likeness.colours(left, data, rows, setting)
    asked = (said.novelty[fine], data.material[rows])
    scale = fitted.scale_of(*asked) / part.scale_of(*asked)
    covariance = said.covariance[fine] * scale[:, None, None] ** 2
    off = data.lab[rows] - said.mean[fine]
    distance = squares(off, as_read(covariance, data.covariance[rows], fitted.measuring))
    return LeftOut(
        np.full(len(rows), question),
        rows,
        np.asarray(delta_e_2000(data.lab[rows], said.mean[fine])),
        np.asarray(delta_e_2000(data.lab[rows], near)),
        np.asarray(delta_e_2000(data.lab[rows], shifted)),
        np.asarray(delta_e_2000(data.lab[rows], alike)),
        distance,
        *said.mean[fine].T,
    )


def neighbours(known: StudioData, data: StudioData, rows: np.ndarray) -> tuple[FloatArray, FloatArray]:
    """Colours (k, 3) of the known tile most like each reading, and of that tile moved by the studio's mean shifts.

    Alike are tiles of the same materials, uppermost one first, then of near coats, cone and body. The mean
    shifts are those between cones, bodies and numbers of layers over all known tiles.
    """
    use = np.flatnonzero((known.stage == FIRED) & np.isfinite(known.lab).all(axis=1))
    cones, asked = np.nan_to_num(known.cones_asked()[use]), np.nan_to_num(data.cones_asked()[rows])
    m = len(data.kind)
    has, wants = _thickness(known, use, m), _thickness(data, rows, m)
    top, wanted_top = _top(known, use), _top(data, rows)
    near = np.empty((len(rows), 3))
    shifted = np.empty((len(rows), 3))
    many, wanted = np.minimum(layers_of(known.material[use]), 3), np.minimum(layers_of(data.material[rows]), 3)
    sorts = np.stack([np.round(cones), known.body[use].astype(float), many])
    asks = np.stack([np.round(asked), data.body[rows].astype(float), wanted])
    for i in range(len(rows)):
        apart = 2.0 * ((has > 0) != (wants[i] > 0)).sum(axis=1) + 0.3 * np.abs(has - wants[i]).sum(axis=1)
        apart = apart + 2.0 * (top != wanted_top[i]) + 0.3 * np.abs(cones - asked[i])
        apart = apart + 1.0 * (known.body[use] != data.body[rows[i]])
        best = int(np.argmin(apart))
        near[i] = known.lab[use[best]]
        shifted[i] = near[i] + sum(
            _mean_of(known.lab[use], sort, ask[i]) - _mean_of(known.lab[use], sort, sort[best])
            for sort, ask in zip(sorts, asks)
        )
    return near, shifted


def _mean_of(lab: FloatArray, sort: FloatArray, value: float) -> FloatArray:
    here = sort == value
    return np.asarray(lab[here].mean(axis=0) if here.any() else lab.mean(axis=0))


def _thickness(data: StudioData, rows: np.ndarray, materials: int) -> FloatArray:
    """Coats of each material in each reading (k, m)."""
    out = np.zeros((len(rows), materials))
    for j in range(data.material.shape[1]):
        there = np.flatnonzero(data.material[rows, j] >= 0)
        out[there, data.material[rows[there], j]] += data.coats[rows[there], j]
    return out


def _top(data: StudioData, rows: np.ndarray) -> np.ndarray:
    layers = layers_of(data.material[rows])
    if not data.material.shape[1]:
        return np.full(len(rows), -1)
    return np.where(layers > 0, data.material[rows, np.maximum(layers - 1, 0)], -1)


def held_at(distance: FloatArray, stated: FloatArray) -> FloatArray:
    """Share of squared distances within the region stated to hold each share (k,): a calibration curve."""
    from scipy.special import chdtri

    return np.asarray((distance[None, :] <= chdtri(3, 1.0 - stated)[:, None]).mean(axis=1))


def squares(off: FloatArray, covariance: FloatArray) -> FloatArray:
    """Squared distance (n,) of differences (n, 3) in their covariances (n, 3, 3)."""
    return np.asarray(np.einsum("ni,ni->n", off, np.linalg.solve(covariance, off[:, :, None])[:, :, 0]))


def as_read(covariance: FloatArray, own: FloatArray, usual: FloatArray) -> FloatArray:
    """Covariances (n, 3, 3) of predictions for readings that state more doubt than is usual in the studio."""
    more, turn = np.linalg.eigh(own - usual)
    return np.asarray(covariance + (turn * np.maximum(more, 0.0)[:, None, :]) @ turn.transpose(0, 2, 1))
