"""How sure to be: the spread of predictions scaled by how far off they were on tiles left out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

import numpy as np

from swatch.science import folds, predicting
from swatch.science.optics import FloatArray
from swatch.science.studio_data import StudioData, layers_of
from swatch.terms.report import Report

if TYPE_CHECKING:
    from swatch.science.shifts import StudioFit

    FitOnce = Callable[[StudioData, Report, StudioFit | None], StudioFit]

WITHIN_95 = 7.815
"""95 % point of chi-squared with three degrees of freedom."""

LAYERING_FLOOR, CONE_FLOOR = 0.85, 1.2
CONE_MARGIN = 1.1
"""Another cone is asked in a firing, and of materials, that the folds could not leave out all at once."""

FEW_LAYERINGS, FEW_CONES = 1.7, 1.5
_LAYERING_USUAL, _CONE_USUAL = 1.05, 1.05
_USUAL_WORTH = 30.0
"""The scale expected beforehand counts as much as this many tiles left out."""

FEWEST = 8
DEPTHS = 3

MANY_LAYERS: FloatArray = np.array([1.0, 1.0, 1.1])
"""By number of layers: what is expected beforehand against all together, and what new layerings need beyond those
left out, whose materials have mostly met. Found on home and other physics, 100 and 1,000 tiles."""


def scales(data: StudioData, fitted: StudioFit, fit_once: FitOnce, report: Report) -> FloatArray:
    """Factor on the standard deviations by novelty and layers (4, 3): d² ≤ 7.815 then holds for 95 % of new tiles.

    Four times some layerings are left out whole, and some materials' tiles at one cone; what remains is
    fitted and asked for them. Tiles of one layer are mostly what was fired and three layers what is asked, and
    the more layers the more can happen between them, so each number of layers has its own factor, pulled to that
    of all where few were left out.
    """
    none = (np.zeros(0), np.zeros(0, dtype=np.intp))
    layering, cone = [none], [none]
    for fold in range(folds.FOLDS):
        by_layering, by_cone = folds.by_layering(data, fold), folds.by_cone(data, fold)
        out = by_layering | by_cone
        if out.sum() < 2 or (~out).sum() < FEWEST:
            continue
        part = fit_once(data.only(~out), report, fitted)
        rows = np.flatnonzero(out)
        distance, novelty = distances(part, data, rows)
        depth = depth_of(data.material[rows])
        for kept, wanted in (
            (layering, by_layering[rows] & (novelty == predicting.NEW_LAYERING)),
            (cone, novelty == predicting.ANOTHER_CONE),
        ):
            kept.append((distance[wanted], depth[wanted]))
    # The fewer the tiles, the less the folds say of what comes next.
    few = 1.0 / np.sqrt(max(len(data.lab), 1))
    near = MANY_LAYERS * (1.0 + FEW_LAYERINGS * few) * by_depth(layering, _LAYERING_USUAL)
    near = np.maximum(LAYERING_FLOOR, near)
    far = np.maximum(CONE_FLOOR, CONE_MARGIN * (1.0 + FEW_CONES * few) * by_depth(cone, _CONE_USUAL))
    far = np.maximum(far, near)
    return np.array([near, near, far, far])


def depth_of(material: np.ndarray) -> np.ndarray:
    """Place in a scale (k,) of layerings: 0 for one layer or none, 1 for two, 2 for more."""
    return np.asarray(np.clip(layers_of(material), 1, DEPTHS) - 1)


def by_depth(parts: Sequence[tuple[FloatArray, np.ndarray]], usual: float) -> FloatArray:
    """Factor for each number of layers (3,), from squared distances and depths of what was left out."""
    distance, depth = (np.concatenate(column) for column in zip(*parts, strict=True))
    of_all = scale_of(distance, usual)
    return np.array([scale_of(distance[depth == one], of_all * MANY_LAYERS[one]) for one in range(DEPTHS)])


def distances(fitted: StudioFit, data: StudioData, rows: np.ndarray) -> tuple[FloatArray, np.ndarray]:
    """Squared distance of readings from what an unscaled fit says of them, and the novelty of each question.

    Readings that the fit cannot answer have distance NaN and novelty −1.
    """
    said = fitted.predict(*folds.question_of(data, rows))
    fine = said.refused == 0
    distance, novelty = np.full(len(rows), np.nan), np.full(len(rows), -1)
    novelty[fine] = said.novelty[fine]
    unscaled = (
        said.covariance[fine] / fitted.scale_of(said.novelty[fine], data.material[rows[fine]])[:, None, None] ** 2
    )
    off = data.lab[rows[fine]] - said.mean[fine]
    distance[fine] = np.einsum("ni,ni->n", off, np.linalg.solve(unscaled, off[:, :, None])[:, :, 0])
    return distance, novelty


def scale_of(distance: FloatArray, usual: float) -> float:
    """Factor that makes 95 % of squared distances 7.815 or less, pulled to the usual where there are few."""
    if not len(distance):
        return usual
    found = np.sqrt(max(float(np.quantile(distance, 0.95)), 0.1) / WITHIN_95)
    weight = len(distance) / (len(distance) + _USUAL_WORTH)
    return float(np.exp(weight * np.log(found) + (1.0 - weight) * np.log(usual)))
