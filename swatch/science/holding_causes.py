"""Why a load drifted: how well each cause explains what was seen, with the share that speaks for it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swatch.science.colour_math import FloatArray
from swatch.science.holding import HEAT_SHIFT, Joint

NOTHING, HEAT, THICKNESS, LOT, BODY, CAMERA, NOT_EXPLAINED = (
    *("nothing", "heat", "thickness", "lot"),
    *("body", "camera", "not-explained"),
)
BELIEFS = {NOTHING: 0.70, HEAT: 0.08, THICKNESS: 0.05, LOT: 0.07, BODY: 0.02, CAMERA: 0.04, NOT_EXPLAINED: 0.04}
"""How likely each is before anything was seen."""
THICKNESS_SHIFT = 0.35
LOT_SHIFT = 2.7
"""ΔE in each region that another lot, another clay or something unknown does."""
LOT_ANY_WAY = 0.25
CAMERA_SHIFT = 2.2
LOT_RECORDED = 0.9
"""How often a change of lot or clay is recorded, in a studio that records lots."""
PLAIN = 0.7
"""Share from which a cause is said to be probable."""


@dataclass(frozen=True)
class Cause:
    """One cause with the share of belief in it, and its size in ``unit``."""

    code: str
    share: float
    amount: float
    unit: str


@dataclass(frozen=True)
class Lots:
    """What is recorded of lots: whether this load opens one, and how often loads do anyway, 0 to 1.

    ``recorded`` is of materials' lots; ``body_recorded`` of the clay's, as the materials' are where None.
    """

    recorded: bool
    opens_lot: bool = False
    opens_body: bool = False
    rate: float = 0.2
    body_recorded: bool | None = None


def rate_of_changes(changes: int, loads: int) -> float:
    """How often a load opens a lot, learnt from those there were."""
    return (changes + 1.0) / (loads + 5.0)


def causes(joint: Joint, lots: Lots) -> tuple[Cause, ...]:
    """Share the belief among causes; the likeliest first.

    Parameters
    ----------
    joint : Joint
    lots : Lots

    Returns
    -------
    tuple of Cause
        Shares add up to 1. What nothing fits better than any other change is ``not-explained``.
    """
    added = _added(joint)
    v = joint.covariance()
    beliefs = {code: BELIEFS[code] * _recorded(code, lots) for code in added}
    beliefs[NOTHING] = BELIEFS[NOTHING]
    log = {code: np.log(beliefs[code]) + _likelihood(joint, v + added[code]) for code in added}
    top = max(log.values())
    weight = {code: float(np.exp(value - top)) for code, value in log.items()}
    total = sum(weight.values())
    found = [Cause(code, weight[code] / total, *_amount(joint, v, added[code], code)) for code in added]
    return tuple(sorted(found, key=lambda cause: -cause.share))


def _recorded(code: str, lots: Lots) -> float:
    """How the records speak for a cause."""
    body = lots.recorded if lots.body_recorded is None else lots.body_recorded
    factor = 1.0
    for this, kept, opened in ((LOT, lots.recorded, lots.opens_lot), (BODY, body, lots.opens_body)):
        if not kept:
            continue
        if code == this:
            factor *= LOT_RECORDED if opened else 1 - LOT_RECORDED
        else:
            factor *= lots.rate if opened else 1 - lots.rate
    return factor


def _added(joint: Joint) -> dict[str, FloatArray]:
    """Covariance that each cause adds; causes that the model does not know are absent."""
    n, d, parts, shifts = len(joint.y), joint.d, joint.parts, joint.shifts
    regions = d // 3
    found: dict[str, FloatArray] = {}
    heat = _heat_way(joint)
    if np.abs(heat).max() > 1e-9:
        found[HEAT] = HEAT_SHIFT**2 * np.outer(heat, heat)
    if np.abs(shifts.thickness).max() > 1e-9:
        found[THICKNESS] = _on_look(n, d, THICKNESS_SHIFT**2 * np.outer(shifts.thickness, shifts.thickness))
    for code, ways in ((LOT, shifts.lot), (BODY, shifts.body)):
        size = float((ways**2).sum())
        if ways.size and size > 1e-12:
            along = LOT_SHIFT**2 * regions / size * ways @ ways.T
            found[code] = _on_look(n, d, along + (LOT_ANY_WAY * LOT_SHIFT) ** 2 / 3 * np.eye(d))
    colour = np.zeros((n, 3))
    colour[parts["look"]] = np.tile(np.eye(3), (regions, 1))
    if joint.seen.kept_at is not None:
        colour[parts["kept"]] = np.eye(3)[joint.seen.kept_at % 3]
    if joint.seen.reference is not None:
        colour[parts["reference"]] = np.eye(3)
    found[CAMERA] = CAMERA_SHIFT**2 * colour @ colour.T
    found[NOT_EXPLAINED] = _on_look(n, d, LOT_SHIFT**2 / 3 * np.eye(d))
    return found


def _heat_way(joint: Joint) -> FloatArray:
    way = np.zeros(len(joint.y))
    way[: joint.d] = joint.shifts.heat
    if joint.seen.heat is not None:
        way[-1] = 1.0
    return way


def _on_look(n: int, d: int, block: FloatArray) -> FloatArray:
    out = np.zeros((n, n))
    out[:d, :d] = block
    return out


def _likelihood(joint: Joint, v: FloatArray) -> float:
    """ln of Student's density of what was seen, but for a constant."""
    degrees, p = joint.within.degrees, len(joint.y)
    _, log_det = np.linalg.slogdet(v)
    distance = float(joint.y @ np.linalg.solve(v, joint.y))
    return float(-0.5 * log_det - 0.5 * (degrees + p) * np.log1p(distance / degrees))


def _amount(joint: Joint, v: FloatArray, added: FloatArray, code: str) -> tuple[float, str]:
    """Most probable size of a cause, were it the one."""
    to = np.linalg.solve(v + added, joint.y)
    if code == HEAT:
        return HEAT_SHIFT**2 * float(_heat_way(joint) @ to), "cone"
    if code == THICKNESS:
        ln = THICKNESS_SHIFT**2 * float(joint.shifts.thickness @ to[: joint.d])
        return 100.0 * float(np.expm1(ln)), "%"
    moved = (added @ to)[: joint.d].reshape(-1, 3)
    return float(np.sqrt((moved**2).sum(axis=1)).max()), "ΔE"
