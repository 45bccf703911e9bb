"""Does a load still hold the look? Pieces against the approved ones, with what photos and kiln ordinarily do.

A heat shift and a camera shift look alike, so what cancels the camera (an approved piece kept in the photo, a kept
button) and what tells the heat (buttons, cones) come in as rows of their own beside the pieces.

The method and its constants were found on simulated editions (`bench.holding`), none on fired ware.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from swatch.science.colour_math import FloatArray

WANTED_SD: FloatArray = np.array([1.5, 0.7, 1.0])
"""Spread of L*, a*, b* between pieces of one load that is wanted, before any was measured."""
WANTED_ALIKE = 0.5
"""How alike regions of one piece stray."""
WANTED_WEIGHT = 12.0
"""Pieces that this belief counts for."""
WITHIN_THICKNESS = 0.22
"""Standard deviation of ln thickness from piece to piece."""
FIRING_THICKNESS = 0.10
"""The same from day to day."""
READING = 0.36
"""Variance of one reading in each of L*, a*, b*, beside what a session's photos share."""
CAMERA_SD = 1.15
"""What a session's photos shift all colours by, alike."""
CAMERA_OWN_SD = 0.4
"""What they shift each region by, on its own."""
KILN_SD = 0.15
"""Heat from firing to firing, cones, before any was measured; it counts for four firings."""
KILN_LEAST = 0.06
KILN_WEIGHT = 4.0
HEAT_SHIFT = 0.6
"""A heat shift worth the name, cones."""
DOUBT_MORE = 1.08
MODEL_ALONG, MODEL_ACROSS = 0.15, 0.20
"""How far the learnt change with heat may be off, as a share of it: in size, and in direction."""
CAMERA_CHANCE = 1e-3
FEWEST_PIECES, FEWEST_FIRINGS = 10, 3

HEAT_CHANCE, LOOK_CHANCE, THICKNESS_CHANCE = 0.01, 0.005, 0.004
NEW_LOT_CHANCE = 0.06
"""Chances of a false alarm; a load that opens a recorded lot is looked at more closely."""


@dataclass(frozen=True)
class Shifts:
    """What the learnt model says that the look does.

    d is 3 × regions. ``heat`` (d,) change a cone, ``thickness`` (d,) a unit of ln thickness, ``lot`` (d, q) what
    another lot of each material may do, ``body`` (d, b) what another clay may do.
    """

    heat: FloatArray
    thickness: FloatArray
    lot: FloatArray
    body: FloatArray


@dataclass(frozen=True)
class Within:
    """Covariance (d, d) between pieces of one load, and the degrees of freedom it rests on."""

    covariance: FloatArray
    degrees: float


@dataclass(frozen=True)
class Seen:
    """A load, or several together, as changes from the approved pieces.

    ``look`` (d,) is the mean of ``pieces`` less that of ``approved`` ones. ``firings`` (f,) and ``sessions`` (s,)
    say how each firing and each photo session weighs in it: + for the load, − for the approved. ``kept`` (k,) is
    the same of an approved piece photographed again, at places ``kept_at`` (k,) of the look; ``reference`` (3,) of
    a kept button; ``heat`` that of the kiln in cones. None where there is none; variances are those of reading.
    """

    look: FloatArray
    pieces: int
    approved: int
    firings: FloatArray
    sessions: FloatArray
    kept: FloatArray | None = None
    kept_at: np.ndarray | None = None
    kept_sessions: FloatArray | None = None
    kept_variance: float = READING
    reference: FloatArray | None = None
    reference_sessions: FloatArray | None = None
    reference_variance: float = READING
    heat: float | None = None
    heat_firings: FloatArray | None = None
    heat_variance: float = 0.0

    @property
    def camera_known(self) -> bool:
        """Whether anything in the photos cancels the camera."""
        return self.kept is not None or self.reference is not None


def within_loads(loads: list[FloatArray], shifts: Shifts, spots: float = 1.0) -> Within:
    """How pieces of one load differ: what is wanted, and what was measured.

    Parameters
    ----------
    loads : list of (n, d) float
        Pieces of each firing.
    shifts : Shifts
    spots : float
        Readings of each region.

    Returns
    -------
    Within
    """
    d = len(shifts.heat)
    regions = d // 3
    alike = np.full((regions, regions), WANTED_ALIKE) + (1 - WANTED_ALIKE) * np.eye(regions)
    wanted = np.kron(alike, np.diag(WANTED_SD**2))
    wanted += WITHIN_THICKNESS**2 * np.outer(shifts.thickness, shifts.thickness) + READING / spots * np.eye(d)
    squares, degrees = WANTED_WEIGHT * wanted, WANTED_WEIGHT
    for rows in loads:
        off = rows - rows.mean(axis=0)
        squares = squares + off.T @ off
        degrees += len(rows) - 1
    return Within(squares / degrees, degrees)


def kiln_variance(heats: FloatArray, reading_variance: float) -> float:
    """Variance of heat from firing to firing, cones², of the heats (f,) that buttons or cones told."""
    h = np.asarray(heats, dtype=float)
    moved = float(((h - h.mean()) ** 2).sum()) if len(h) else 0.0
    degrees = KILN_WEIGHT + max(len(h) - 1, 0)
    found = (KILN_WEIGHT * (KILN_SD**2 + reading_variance) + moved) / degrees - reading_variance
    return max(found, KILN_LEAST**2)


@dataclass(frozen=True)
class Joint:
    """Look, kept piece, reference button and heat as one vector ``y``, with its covariance if nothing is wrong."""

    seen: Seen
    within: Within
    shifts: Shifts
    kiln: float
    """Variance of heat from firing to firing."""

    @property
    def d(self) -> int:
        """Length of the look."""
        return len(self.seen.look)

    @cached_property
    def parts(self) -> dict[str, slice]:
        """Where each row of ``y`` stands; absent ones are empty."""
        sizes = {
            "look": self.d,
            "kept": 0 if self.seen.kept is None else len(self.seen.kept),
            "reference": 0 if self.seen.reference is None else 3,
            "heat": 0 if self.seen.heat is None else 1,
        }
        ends = np.cumsum([0, *sizes.values()])
        return {name: slice(int(a), int(b)) for name, a, b in zip(sizes, ends[:-1], ends[1:], strict=True)}

    @cached_property
    def y(self) -> FloatArray:
        """What was seen."""
        seen = self.seen
        heat = None if seen.heat is None else np.array([seen.heat])
        return np.concatenate([p for p in (seen.look, seen.kept, seen.reference, heat) if p is not None])

    @cached_property
    def camera(self) -> FloatArray:
        """Part of the covariance that the photo sessions give."""
        seen, n = self.seen, len(self.y)
        rows = np.zeros((n, len(seen.sessions)))
        colour, own = np.zeros((n, 3)), np.full(n, -1)
        rows[self.parts["look"]] = seen.sessions
        colour[self.parts["look"]], own[self.parts["look"]] = (
            np.tile(np.eye(3), (self.d // 3, 1)),
            np.arange(self.d),
        )
        if seen.kept is not None and seen.kept_at is not None:
            rows[self.parts["kept"]] = seen.kept_sessions
            colour[self.parts["kept"]] = np.eye(3)[seen.kept_at % 3]
            own[self.parts["kept"]] = seen.kept_at
        if seen.reference is not None:
            rows[self.parts["reference"]] = seen.reference_sessions
            colour[self.parts["reference"]], own[self.parts["reference"]] = np.eye(3), self.d + np.arange(3)
        same = (own[:, None] == own[None, :]) & (own[:, None] >= 0)
        shared = CAMERA_SD**2 * colour @ colour.T + CAMERA_OWN_SD**2 * same
        return np.asarray((rows @ rows.T) * shared)

    @cached_property
    def sampling(self) -> FloatArray:
        """Part that the choice of pieces and the readings give."""
        seen, n = self.seen, len(self.y)
        out = np.zeros((n, n))
        out[self.parts["look"], self.parts["look"]] = self.within.covariance * (
            1 / seen.pieces + 1 / seen.approved
        )
        for name, variance in (("kept", seen.kept_variance), ("reference", seen.reference_variance)):
            at = np.arange(n)[self.parts[name]]
            out[at, at] = variance
        if seen.heat is not None:
            out[-1, -1] = seen.heat_variance
        return out

    def firing(self, heat_variance: float) -> FloatArray:
        """Part that firings and days at the bench give."""
        seen, n = self.seen, len(self.y)
        out = np.zeros((n, n))
        look = self.parts["look"]
        own = float(seen.firings @ seen.firings)
        out[look, look] = own * (
            heat_variance * np.outer(self.shifts.heat, self.shifts.heat)
            + FIRING_THICKNESS**2 * np.outer(self.shifts.thickness, self.shifts.thickness)
        )
        if seen.heat is not None and seen.heat_firings is not None:
            out[-1, -1] = heat_variance * float(seen.heat_firings @ seen.heat_firings)
            out[look, -1] = out[-1, look] = (
                heat_variance * float(seen.firings @ seen.heat_firings) * self.shifts.heat
            )
        return out

    def covariance(self, heat_variance: float | None = None) -> FloatArray:
        """Covariance of ``y`` when nothing is wrong."""
        return self.camera + self.sampling + self.firing(self.kiln if heat_variance is None else heat_variance)


def looked_through(joint: Joint) -> tuple[FloatArray, FloatArray]:
    """Look (d,) less what the camera and the measured heat did to it, and its covariance (d, d).

    The heat is believed as measured, not as the kiln ordinarily is: after a hot firing the rest must not stand in
    the look.
    """
    told = joint.seen.heat is not None
    v = joint.covariance(joint.kiln + HEAT_SHIFT**2 if told else None)
    d = joint.d
    if len(joint.y) == d:
        rest, left = joint.y, v
    else:
        gain = np.linalg.solve(v[d:, d:], v[d:, :d]).T
        rest, left = joint.y[:d] - gain @ joint.y[d:], v[:d, :d] - gain @ v[d:, :d]
    left = DOUBT_MORE * left
    if told:
        assert joint.seen.heat is not None
        h, s = joint.seen.heat, joint.shifts.heat
        left = left + h**2 * (MODEL_ALONG**2 * np.outer(s, s) + MODEL_ACROSS**2 * float(s @ s) / d * np.eye(d))
    return rest, left


def without_camera(joint: Joint) -> tuple[FloatArray, FloatArray]:
    """The load's true look less the approved one (d,), heat and all, and its covariance (d, d)."""
    d, at = joint.d, np.arange(joint.parts["kept"].start, joint.parts["reference"].stop)
    v = joint.camera + joint.sampling
    if not len(at):
        return joint.y[:d], DOUBT_MORE * v[:d, :d]
    gain = np.linalg.solve(v[np.ix_(at, at)], v[at, :d]).T
    return joint.y[:d] - gain @ joint.y[at], DOUBT_MORE * (v[:d, :d] - gain @ v[at, :d])


@dataclass(frozen=True)
class Looks:
    """What each look at a load gave: statistics with their limits, and which of them were passed.

    ``heat_cones`` is the heat against the approved firings as the device told it, else as the colours suggest.
    """

    look: float
    look_limit: float
    heat: float
    heat_limit: float
    thickness: float
    thickness_limit: float
    camera_moved: bool
    heat_cones: float
    thickness_ln: float

    @property
    def alarms(self) -> tuple[str, ...]:
        """Which looks went off: ``heat``, ``look``, ``thickness``."""
        found = (
            ("heat", abs(self.heat) > self.heat_limit),
            ("look", self.look > self.look_limit),
            ("thickness", abs(self.thickness) > self.thickness_limit),
        )
        return tuple(name for name, gone_off in found if gone_off)


def look_at(joint: Joint, heats_known: int, opens_lot: bool = False, part: float = 1.0) -> Looks:
    """Look at a load in each way.

    Parameters
    ----------
    joint : Joint
    heats_known : int
        Firings whose heat a device has told before.
    opens_lot : bool
        Whether the load opens a recorded lot.
    part : float
        Share of the chance of a false alarm that this look may use up.
    """
    from scipy.special import chdtri, fdtri, stdtrit

    rest, v = looked_through(joint)
    d, seen, shifts = joint.d, joint.seen, joint.shifts
    inverse = np.linalg.inv(v)
    share = float(np.trace(inverse @ joint.within.covariance)) * (1 / seen.pieces + 1 / seen.approved) / d
    degrees = max(joint.within.degrees / max(share, 1e-6) ** 2, d + 1.0)
    chance = part * (NEW_LOT_CHANCE if opens_lot else LOOK_CHANCE)
    limit = d * degrees / (degrees - d + 1) * float(fdtri(d, degrees - d + 1, 1 - chance))
    if seen.heat is not None and seen.heat_firings is not None:
        cones = seen.heat
        own = float(seen.heat_firings @ seen.heat_firings)
        heat = cones / float(np.sqrt(own * joint.kiln + seen.heat_variance))
        heat_limit = float(stdtrit(heats_known + 3, 1 - part * HEAT_CHANCE / 2))
    else:
        plain, doubt = without_camera(joint)
        doubt = doubt + joint.firing(0.0)[:d, :d]
        cones, variance = _along(plain, np.linalg.inv(doubt), shifts.heat)
        heat = cones / float(np.sqrt(variance + float(seen.firings @ seen.firings) * joint.kiln))
        heat_limit = float(stdtrit(degrees, 1 - part * HEAT_CHANCE / 2))
    thick, variance = _along(rest, inverse, shifts.thickness)
    at = slice(joint.parts["kept"].start, joint.parts["reference"].stop)
    camera = joint.y[at]
    moved = False
    if len(camera):
        there = joint.covariance()[at, at]
        moved = float(camera @ np.linalg.solve(there, camera)) > float(chdtri(len(camera), CAMERA_CHANCE))
    return Looks(
        look=float(rest @ inverse @ rest),
        look_limit=limit,
        heat=heat,
        heat_limit=heat_limit,
        thickness=thick / float(np.sqrt(variance)),
        thickness_limit=float(stdtrit(degrees, 1 - part * THICKNESS_CHANCE / 2)),
        camera_moved=moved,
        heat_cones=cones,
        thickness_ln=thick,
    )


def _along(rest: FloatArray, inverse: FloatArray, way: FloatArray) -> tuple[float, float]:
    """How far along a way, by generalised least squares, with its variance; nothing where the way is none."""
    information = float(way @ inverse @ way)
    if information <= 1e-12:
        return 0.0, 1.0
    return float(way @ inverse @ rest) / information, 1.0 / information
