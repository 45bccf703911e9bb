"""How sure it is that a load lies within the tolerance, which pieces stray, and what a sample can support."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from swatch.science.colour_math import FloatArray, de00_metric
from swatch.science.holding import Joint, Looks, without_camera

SURE, NOT_SURE = 0.90, 0.05
STRAY_CHANCE = 0.02
"""Chance that any piece of a good load is called a stray, over all its pieces and regions."""
GUARD = 1.645
"""Measuring doubts that a piece must keep from the limit to be called within."""
DRAWS = 1000
MOST_PIECES = 60
_SEED = 20_070_301

HOLDS, DRIFTED, TOO_FEW, KILN_OR_CAMERA, CAMERA = (
    *("holds", "drifted", "too few to judge", "kiln or camera"),
    "camera",
)


def regions_de00(off: FloatArray, metric: FloatArray) -> FloatArray:
    """ΔE00 of each region (..., r) of looks' changes (..., 3r) in the local metric (r, 3, 3)."""
    by_region = off.reshape(*off.shape[:-1], -1, 3)
    return np.asarray(np.sqrt(np.maximum(np.einsum("...ri,rij,...rj->...r", by_region, metric, by_region), 0.0)))


def sure_within(joint: Joint, metric: FloatArray, tolerance: float) -> float:
    """Chance, 0 to 1, that the load's true look is within the tolerance in every region."""
    off, v = without_camera(joint)
    normals = np.random.Generator(np.random.PCG64(_SEED)).standard_normal((DRAWS, len(off)))
    draws = off + normals @ np.linalg.cholesky(v).T
    return float((regions_de00(draws, metric) <= tolerance).all(axis=1).mean())


def doubt_of_mean(joint: Joint, metric: FloatArray) -> float:
    """Uncertainty of the load's mean, ΔE00: the worst region's √trace(G Σ)."""
    _, v = without_camera(joint)
    blocks = [v[3 * r : 3 * r + 3, 3 * r : 3 * r + 3] for r in range(len(metric))]
    return max(float(np.sqrt(np.trace(g @ block))) for g, block in zip(metric, blocks, strict=True))


def tolerance_supported(joint: Joint, metric: FloatArray) -> float:
    """The smallest tolerance, ΔE00, that such a sample can be judged by: twice the doubt of its mean."""
    return 2.0 * doubt_of_mean(joint, metric)


def pieces_needed(joint: Joint, metric: FloatArray, tolerance: float) -> int | None:
    """How many pieces a load takes for this tolerance; None where no number does."""
    for n in range(joint.seen.pieces, MOST_PIECES + 1):
        more = replace(joint, seen=replace(joint.seen, pieces=n))
        if tolerance_supported(more, metric) <= tolerance:
            return n
    return None


def verdict_of(joint: Joint, tests: Looks, sure: float, supported: float, tolerance: float) -> str:
    """What can be said of a load; the approved pieces are enough."""
    known = joint.seen.camera_known
    by_heat_alone = "heat" in tests.alarms and joint.seen.heat is not None
    if tests.alarms or sure <= NOT_SURE:
        return DRIFTED if known or by_heat_alone else KILN_OR_CAMERA
    if tests.camera_moved:
        return CAMERA
    if tolerance < supported:
        return TOO_FEW
    return HOLDS if sure >= SURE else TOO_FEW


@dataclass(frozen=True)
class Strays:
    """Pieces against the approved ones.

    ``statistic`` (n, r) is the squared distance of each region, ``limit`` what it may be, ``de00`` (n, r) the
    difference; ``off`` and ``doubtful`` (n,) tell which pieces are beyond, and which too near to tell.
    """

    statistic: FloatArray
    limit: float
    de00: FloatArray
    off: np.ndarray
    doubtful: np.ndarray


def strays(joint: Joint, pieces: FloatArray, approved: FloatArray, measuring: float) -> Strays:
    """Which pieces (n, d) lie beyond what one more good piece would, the camera's shift taken away.

    Parameters
    ----------
    joint : Joint
    pieces : (n, d) float
    approved : (d,) float
        Mean of the approved pieces.
    measuring : float
        Variance of one reading in each direction, for the guard band.
    """
    from scipy.special import fdtri

    n, d = pieces.shape
    mean, _ = without_camera(joint)
    camera = joint.seen.look - mean
    off = pieces - approved - camera
    v = joint.within.covariance * (1.0 - 1.0 / n) + without_camera(joint)[1] + joint.firing(joint.kiln)[:d, :d]
    degrees = max(joint.within.degrees, 4.0)
    chance = STRAY_CHANCE / (n * (d // 3))
    limit = 3 * degrees / (degrees - 2) * float(fdtri(3, degrees - 2, 1 - chance))
    statistic, guard = np.empty((n, d // 3)), np.empty((n, d // 3))
    for r in range(d // 3):
        at = slice(3 * r, 3 * r + 3)
        to = np.linalg.solve(v[at, at], off[:, at].T).T
        statistic[:, r] = np.einsum("ni,ni->n", off[:, at], to)
        guard[:, r] = GUARD * np.sqrt(measuring * (to**2).sum(axis=1) / np.maximum(statistic[:, r], 1e-12))
    beyond = np.asarray(statistic > limit)
    near = np.asarray(np.sqrt(statistic) + guard > np.sqrt(limit))
    off_limits = np.asarray(beyond.any(axis=1))
    metric = de00_metric(approved.reshape(-1, 3))
    doubtful = np.asarray(near.any(axis=1) & ~off_limits)
    return Strays(statistic, limit, regions_de00(off, metric), off_limits, doubtful)
