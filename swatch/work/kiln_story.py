"""Beside the verdicts: charts over firings, where the variation comes from, a map of the kiln, pairs and sets."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from swatch.science import control_charts, holding, pairing
from swatch.science.colour_math import FloatArray
from swatch.science.holding import Joint
from swatch.science.nested import nested
from swatch.terms.colour import Lab
from swatch.terms.holding import CheckAnswer, CheckRequest, FiringChart, KilnPlace, PieceVerdict, Spread
from swatch.terms.layering import fold_name

if TYPE_CHECKING:
    from swatch.work.check import Known
    from swatch.work.loads import Piece


def story(
    answer: CheckAnswer, request: CheckRequest, known: Known, kiln: float, joints: Sequence[Joint]
) -> CheckAnswer:
    """Add what else the measured pieces tell to a checked edition."""
    evened = _Evened(known, joints)
    sets, apart, out = _sets(answer, request, evened)
    return replace(
        answer,
        variance=_spread(evened),
        kiln_sd_cones=float(np.sqrt(kiln)) if known.heats.told_by is not None else None,
        kiln_map=_map(known, evened),
        charts=_charts(answer, known, kiln, joints),
        sets=sets,
        sets_de00=apart,
        held_back=out,
    )


class _Evened:
    """All pieces, the camera's shift of their load taken out, in coordinates in which a step is a ΔE00."""

    def __init__(self, known: Known, joints: Sequence[Joint]) -> None:
        self.root = [np.linalg.cholesky(g) for g in known.metric]
        self.pieces: list[Piece] = []
        rows: list[FloatArray] = []
        firing: list[str] = []
        for one in known.gathered.approved:
            self.pieces.append(one)
            rows.append(one.colours)
            firing.append(fold_name(one.firing))
        self.approved = len(rows)
        for (name, pieces), joint in zip(known.gathered.loads, joints, strict=True):
            camera = joint.seen.look - holding.without_camera(joint)[0]
            for one in pieces:
                self.pieces.append(one)
                rows.append(one.colours - camera)
                firing.append(fold_name(name))
        self.rows = np.array(rows)
        self.firing = np.unique(firing, return_inverse=True)[1]
        self.shelf = np.unique([fold_name(one.shelf or "") for one in self.pieces], return_inverse=True)[1]

    def even(self, rows: FloatArray) -> FloatArray:
        """Rows (n, d) in steps of ΔE00."""
        return np.concatenate([rows[:, 3 * r : 3 * r + 3] @ root for r, root in enumerate(self.root)], axis=1)


def _spread(evened: _Evened) -> Spread:
    regions = len(evened.root)
    found = nested(evened.even(evened.rows), evened.firing, evened.shelf)
    firings, shelves, within = (None if np.isnan(v) else float(v) / regions for v in found.components)
    if within is None:
        return Spread(firings, shelves, None, None)
    # What a camera does to all readings of a photo is no part of how pieces of one photo differ.
    measuring = min(holding.READING * float(np.mean([(root**2).sum() for root in evened.root])), within)
    return Spread(firings, shelves, within - measuring, measuring)


def _map(known: Known, evened: _Evened) -> tuple[KilnPlace, ...]:
    off = evened.rows.copy()
    for firing in np.unique(evened.firing):
        rows = evened.firing == firing
        off[rows] -= off[rows].mean(axis=0)
    places = []
    shelves = {fold_name(one.shelf): one.shelf for one in evened.pieces if one.shelf}
    for folded, name in sorted(shelves.items()):
        rows = np.array([fold_name(one.shelf or "") == folded for one in evened.pieces])
        mean = off[rows].mean(axis=0)
        de00 = np.linalg.norm(evened.even(mean[None])[0].reshape(-1, 3), axis=1).mean()
        lab = Lab(*map(float, mean.reshape(-1, 3).mean(axis=0)))
        places.append(KilnPlace(name, int(rows.sum()), lab, float(de00), known.heats.shelves.get(folded)))
    return tuple(places)


def _charts(answer: CheckAnswer, known: Known, kiln: float, joints: Sequence[Joint]) -> tuple[FiringChart, ...]:
    if not answer.loads:
        return ()
    names = tuple(one.firing for one in answer.loads)
    charts = []
    regions = len(answer.regions)
    mean_of = np.tile(np.eye(3) / regions, (1, regions))
    for k, name in enumerate(("L*", "a*", "b*")):
        sds = []
        for joint in joints:
            v = holding.without_camera(joint)[1] + joint.firing(kiln)[: joint.d, : joint.d]
            sds.append(float(np.sqrt(mean_of[k] @ v @ mean_of[k])))
        reach = 3.0 * float(np.median(sds))
        points = tuple(one.change[k] for one in answer.loads)
        charts.append(FiringChart(name, names, points, 0.0, -reach, reach))
    told = [one for one in answer.loads if one.heat_cones is not None]
    if told:
        names = tuple(one.firing for one in told)
        heats = np.array([one.heat_cones for one in told], dtype=float)
        reading = float(np.median([joint.seen.heat_variance for joint in joints if joint.seen.heat is not None]))
        sd = float(np.sqrt(kiln * (1 + 1 / answer.approved_firings) + reading))
        points = tuple(float(h) for h in heats)
        charts.append(FiringChart("heat", names, points, 0.0, -3 * sd, 3 * sd))
        moving = control_charts.ewma(heats, 0.0, sd)
        points = tuple(float(p) for p in moving.points)
        charts.append(FiringChart("heat, moving mean", names, points, 0.0, moving.lower, moving.upper))
    return tuple(charts)


def _sets(
    answer: CheckAnswer, request: CheckRequest, evened: _Evened
) -> tuple[tuple[tuple[str, ...], ...], tuple[float, ...], tuple[str, ...]]:
    """Sort the pieces of all loads that are not off into sets; those that are off are held back."""
    from scipy.spatial.distance import cdist

    off = {one.piece for one in answer.pieces if one.verdict is PieceVerdict.OFF}
    at = [k for k in range(evened.approved, len(evened.pieces)) if evened.pieces[k].name not in off]
    names = [evened.pieces[k].name for k in at]
    if not at:
        return (), (), tuple(sorted(off))
    rows = evened.even(evened.rows[at])
    distance = cdist(rows, rows) / np.sqrt(len(evened.root))
    sets, out = pairing.sets_of(distance, request.set_size, request.hold_back)
    sorted_ = tuple(tuple(names[k] for k in one) for one in sets)
    apart = tuple(pairing.spread_of(distance, one) for one in sets)
    return sorted_, apart, tuple(sorted({names[k] for k in out} | off))
