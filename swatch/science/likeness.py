"""Colours from likeness alone: a Gaussian process over what tiles are made of, that knows nothing of optics.

It is what the learning has to be better than, beside the nearest tile and mean shifts. As a part of the answers it
was of no use: on invented studios its disagreement foretold next to nothing of how far off they were.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swatch.science import kriging
from swatch.science.optics import FloatArray
from swatch.science.studio_data import FIRED, StudioData, layers_of

TOP, BODY, CONES = 1.2, 1.0, 4.0
"""What another top material and body count, in roots of a coat, and how many cones count as much as one."""

_LENGTHS = (1.0, 1.5, 2.2, 3.2)
_NOISES = (0.05, 0.15)


@dataclass(frozen=True)
class Setting:
    """Length of likeness, and the share of a tile's variance that is its own."""

    length: float
    noise: float


def places(data: StudioData, rows: np.ndarray) -> FloatArray:
    """Where readings stand (k, d): roots of the coats of each material, the uppermost one, body and cone."""
    materials, bodies = len(data.kind), max(data.bodies, 1)
    material, k = data.material[rows], len(rows)
    coats, top = np.zeros((k, materials)), np.zeros((k, materials))
    for j in range(material.shape[1]):
        on = np.flatnonzero(material[:, j] >= 0)
        coats[on, material[on, j]] += data.coats[rows[on], j]
    layers = layers_of(material)
    covered = np.flatnonzero(layers)
    top[covered, material[covered, layers[covered] - 1]] = TOP
    body = np.zeros((k, bodies))
    body[np.arange(k), np.maximum(data.body[rows], 0)] = BODY
    cone = np.nan_to_num(data.cones_asked()[rows])[:, None] / CONES
    return np.hstack([np.sqrt(coats), top, body, cone])


def told(data: StudioData) -> np.ndarray:
    """Rows of the tiles it goes by."""
    return np.flatnonzero((data.stage == FIRED) & np.isfinite(data.lab).all(axis=1) & (data.body >= 0))


def best_setting(data: StudioData) -> Setting:
    """The most likely of a few settings, given a studio's tiles."""
    rows = told(data)
    settings = [Setting(length, noise) for length in _LENGTHS for noise in _NOISES]
    if len(rows) < 3:
        return settings[-1]
    at = places(data, rows)
    return max(settings, key=lambda one: _process(at, data.lab[rows], one)[0].likelihood)


def colours(known: StudioData, data: StudioData, rows: np.ndarray, setting: Setting) -> FloatArray:
    """Colours (k, 3) of readings of ``data`` by the tiles of ``known``, a studio of the same materials."""
    tiles = told(known)
    at = places(known, tiles)
    process, middle, variance = _process(at, known.lab[tiles], setting)
    cross = variance * kriging.squared_exponential(places(data, rows), at, np.full(at.shape[1], setting.length))
    return np.asarray(middle + process.mean(cross))


def _process(at: FloatArray, lab: FloatArray, one: Setting) -> tuple[kriging.Process, FloatArray, float]:
    middle = lab.mean(axis=0)
    variance = max(float(lab.var(axis=0).mean()), 1.0)
    likeness = variance * kriging.squared_exponential(at, at, np.full(at.shape[1], one.length))
    noise = np.full(len(lab), one.noise * variance)
    return kriging.given(likeness, noise, lab - middle), middle, variance
