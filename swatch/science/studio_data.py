"""A studio's readings as arrays, and what of them the learning can use."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np

from swatch.science import heatwork
from swatch.science.optics import FloatArray

IntArray = np.ndarray

FIRED, RAW, MAKER = range(3)
"""Codes of a reading's stage."""

METHOD_UNKNOWN, BRUSHED, SPRAYED, DIPPED, POURED = range(5)
"""Codes of how a layer was put on."""


def _no_rows(*shape: int) -> FloatArray:
    return np.zeros((0, *shape))


def _no_codes() -> IntArray:
    return np.zeros(0, dtype=np.intp)


@dataclass(frozen=True)
class StudioData:
    """Everything the learning knows of a studio. Codes index the caller's own lists; −1 is none or unknown.

    Readings (n): ``lab`` (n, 3); ``covariance`` (n, 3, 3), the standard covariance of measuring; ``material``
    (n, l) and ``coats``, ``wiped`` beside it, from the body outward, −1 after the last layer; ``body``;
    ``cone`` as a position, NaN where unknown; ``firing``, ``shelf``, ``session``, ``zone`` (readings of one
    zone of one tile share it; −1 is a zone read once), ``method``, ``stage``. First-fired tiles only.

    Materials (m): ``kind`` (codes of `priors`), ``raw_lab`` (m, 3), ``rated`` (m, 2) coolest and hottest cone.
    Bodies: ``bodies`` of them, with bare colours ``bare_body``, ``bare_cone``, ``bare_lab``.
    Firings (f): ``firing_cone`` asked, ``firing_reached``, and the programme ``firing_peak_c``,
    ``firing_rate``, ``firing_hold``, and ``firing_logged``, the cone its log comes to; NaN where
    unknown. Witness cones: ``witness_*``, one row each.
    """

    lab: FloatArray
    covariance: FloatArray
    material: IntArray
    coats: FloatArray
    wiped: IntArray
    body: IntArray
    cone: FloatArray
    firing: IntArray
    shelf: IntArray
    session: IntArray
    method: IntArray
    stage: IntArray
    zone: IntArray
    kind: IntArray
    raw_lab: FloatArray
    rated: FloatArray
    bodies: int
    bare_body: IntArray = field(default_factory=_no_codes)
    bare_cone: FloatArray = field(default_factory=_no_rows)
    bare_lab: FloatArray = field(default_factory=lambda: _no_rows(3))
    firing_cone: FloatArray = field(default_factory=_no_rows)
    firing_reached: FloatArray = field(default_factory=_no_rows)
    firing_peak_c: FloatArray = field(default_factory=_no_rows)
    firing_rate: FloatArray = field(default_factory=_no_rows)
    firing_hold: FloatArray = field(default_factory=_no_rows)
    firing_logged: FloatArray = field(default_factory=_no_rows)
    witness_firing: IntArray = field(default_factory=_no_codes)
    witness_shelf: IntArray = field(default_factory=_no_codes)
    witness_cone: FloatArray = field(default_factory=_no_rows)

    def only(self, keep: np.ndarray) -> StudioData:
        """The same studio with some of its readings, as a mask (n,) or as indices."""
        names: tuple[str, ...] = (
            "lab",
            "covariance",
            "material",
            "coats",
            "wiped",
            "body",
            "cone",
            "firing",
            "shelf",
            "session",
        )
        names += ("method", "stage", "zone")
        return self.with_readings({name: getattr(self, name)[keep] for name in names})

    def with_readings(self, arrays: dict[str, np.ndarray]) -> StudioData:
        """The same studio with other arrays of readings."""
        changed: dict[str, Any] = dict(arrays)
        return replace(self, **changed)

    def firing_cones(self) -> FloatArray:
        """Cone of each firing (f,): as asked, else as reached, by witness cones, log or programme, else NaN."""
        cones = np.array(self.firing_cone, dtype=float)
        told = (self.firing_reached, self.witness_means(), self.firing_logged)
        for values in (one for one in told if len(one)):
            cones = np.where(np.isnan(cones), values, cones)
        for i in np.flatnonzero(np.isnan(cones) & np.isfinite(self.firing_peak_c)):
            rate = self.firing_rate[i] if np.isfinite(self.firing_rate[i]) else heatwork.USUAL_RATE
            hold = self.firing_hold[i] if np.isfinite(self.firing_hold[i]) else 0.0
            cones[i] = heatwork.cone_of_programme(float(self.firing_peak_c[i]), float(rate), float(hold))
        return cones

    def witness_means(self) -> FloatArray:
        """Mean of each firing's witness cones (f,), NaN where it has none."""
        told = np.isfinite(self.witness_cone)
        out = np.full(len(self.firing_cone), np.nan)
        for firing in np.unique(self.witness_firing[told]):
            out[firing] = self.witness_cone[told & (self.witness_firing == firing)].mean()
        return out

    def cones_asked(self) -> FloatArray:
        """Cone asked for each reading (n,): its own, else its firing's; NaN where neither is known."""
        cones = np.array(self.cone, dtype=float)
        if len(self.firing_cone):
            of_firing = np.where(self.firing >= 0, self.firing_cones()[self.firing], np.nan)
            cones = np.where(np.isnan(cones), of_firing, cones)
        return cones


def layers_of(material: IntArray) -> IntArray:
    """Number of layers of each row of −1-padded materials."""
    return np.asarray((material >= 0).sum(axis=1))


def merge_repeats(data: StudioData) -> tuple[StudioData, IntArray]:
    """Readings of one zone of one tile become one, weighted by their precision; also which row each was first.

    A second photo of a tile halves the doubt of measuring, not that of firing: were it left a reading of
    its own, the tile would count twice.
    """
    marked = np.flatnonzero(data.zone >= 0)
    keys = np.stack([data.zone[marked], data.stage[marked]], axis=1)
    if not len(marked):
        return data, np.arange(len(data.lab))
    _found, first, group, counts = np.unique(
        keys, axis=0, return_index=True, return_inverse=True, return_counts=True
    )
    group = group.ravel()
    if counts.max() == 1:
        return data, np.arange(len(data.lab))
    lab, covariance = data.lab.copy(), data.covariance.copy()
    drop = np.ones(len(lab), dtype=bool)
    drop[data.zone < 0] = False
    for g in range(len(first)):
        rows = marked[group == g]
        drop[rows[0]] = False
        if len(rows) > 1:
            precision = np.linalg.inv(data.covariance[rows])
            covariance[rows[0]] = np.linalg.inv(precision.sum(axis=0))
            lab[rows[0]] = covariance[rows[0]] @ np.einsum("nij,nj->i", precision, data.lab[rows])
    left = np.flatnonzero(~drop)
    return replace(data, lab=lab, covariance=covariance).only(left), left


def raw_colours(data: StudioData) -> FloatArray:
    """Raw colour of each material (m, 3): from its jar, else the mean of its raw readings, else NaN."""
    raw = np.array(data.raw_lab, dtype=float)
    alone = (data.stage == RAW) & (layers_of(data.material) == 1)
    for i in np.unique(data.material[alone, 0]) if alone.any() else ():
        if np.isnan(raw[i]).any():
            raw[i] = data.lab[alone & (data.material[:, 0] == i)].mean(axis=0)
    return raw
