"""Simulated editions for `bench.holding`: what is known of each, and what its loads give."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from swatch.science.button_heat import HeatRead, heat_of_buttons
from swatch.science.colour_math import FloatArray
from swatch.science.holding import (
    READING,
    WANTED_ALIKE,
    WANTED_SD,
    Joint,
    Seen,
    Shifts,
    kiln_variance,
    within_loads,
)

REGIONS, D = 3, 9
J = np.tile(np.eye(3), (REGIONS, 1))
FIRINGS_APPROVED, EARLIER, A_LOAD, APPROVED = 4, 8, 6, 20
KEPT_READINGS, SHELVES = 6, 3


@dataclass(frozen=True)
class Devices:
    """What the studio does beside photographing the pieces."""

    kept: bool = True
    buttons: bool = True
    lots: bool = True


@dataclass(frozen=True)
class Wrong:
    """What went wrong in a load; lot, body and unknown are drawn anew, sized by the region moved most."""

    heat: float = 0.0
    thickness: float = 0.0
    lot: float = 0.0
    body: float = 0.0
    unknown: float = 0.0
    camera: float = 0.0
    opens_lot: bool = False


@dataclass
class Fired:
    """One load as it was read: pieces, kept piece and buttons in the same photo."""

    pieces: FloatArray
    kept: FloatArray
    stripes: FloatArray
    reference: FloatArray
    true_shift: FloatArray = field(default_factory=lambda: np.zeros(D))


class Edition:
    """One edition with a look, a kiln, a hand and a camera of its own."""

    def __init__(self, seed: int, kiln_sd: float = 0.12) -> None:
        self.random = r = np.random.default_rng([2027, seed])
        self.kiln_sd = kiln_sd
        self.colour = np.column_stack([r.uniform(30, 80, 3), r.uniform(-20, 25, 3), r.uniform(-20, 35, 3)])
        self.heat = self._way(r.lognormal(np.log(2.5), 0.35))
        self.thickness = self._way(r.lognormal(np.log(5.0), 0.35))
        self.lots = r.standard_normal((D, 4)) * (r.random((D, 4)) < 0.7)
        self.bodies = self._way(1.0)[:, None]
        self.learnt = Shifts(
            heat=self._nearly(self.heat), thickness=self._nearly(self.thickness),
            lot=self.lots + 0.2 * r.standard_normal((D, 4)), body=self.bodies + 0.1 * r.standard_normal((D, 1)),
        )  # fmt: skip
        alike = np.full((REGIONS, REGIONS), WANTED_ALIKE) + (1 - WANTED_ALIKE) * np.eye(REGIONS)
        wanted = np.kron(alike, np.diag((WANTED_SD * r.lognormal(0, 0.2, 3)) ** 2))
        self.spread = np.linalg.cholesky(wanted + 0.22**2 * np.outer(self.thickness, self.thickness))
        self.stripe_changes = r.standard_normal((6, 3))
        size = np.where(np.arange(6) < 4, r.lognormal(np.log(3.0), 0.3, 6), 0.3)
        self.stripe_changes *= (size / np.linalg.norm(self.stripe_changes, axis=1))[:, None]
        self.stripe_learnt = self.stripe_changes * (1 + 0.1 * r.standard_normal((6, 1)))

    def _way(self, size: float) -> FloatArray:
        r = self.random
        base = r.standard_normal(3)
        base /= np.linalg.norm(base)
        rows = base + 0.5 * r.standard_normal((REGIONS, 3)) / np.sqrt(3)
        return np.asarray(size * rows.ravel())

    def _nearly(self, way: FloatArray) -> FloatArray:
        r = self.random
        along = way * (1 + 0.12 * r.standard_normal())
        return np.asarray(along + 0.15 * np.linalg.norm(way) * r.standard_normal(D) / np.sqrt(D))

    def fire(self, n: int, wrong: Wrong = Wrong()) -> Fired:
        """Fire and photograph a load of n pieces."""
        r = self.random
        heat = wrong.heat + self.kiln_sd * r.standard_normal()
        camera = 1.15 * r.standard_normal(3)
        if wrong.camera:
            fault = r.standard_normal(3)
            camera = camera + wrong.camera * fault / np.linalg.norm(fault)
        own = 0.4 * r.standard_normal(D)
        shift = self._look(wrong, heat)
        day = 0.1 * r.standard_normal() + wrong.thickness
        pieces = self.colour.ravel() + shift + day * self.thickness + J @ camera + own
        pieces = pieces + r.standard_normal((n, D)) @ self.spread.T + np.sqrt(READING) * r.standard_normal((n, D))
        kept = J @ camera + own + np.sqrt(READING / KEPT_READINGS) * r.standard_normal(D)
        noise = np.sqrt((READING + 0.3**2) / SHELVES)
        stripes = heat * self.stripe_changes + camera + noise * r.standard_normal((6, 3))
        reference = camera + np.sqrt(READING / KEPT_READINGS) * r.standard_normal(3)
        return Fired(pieces, kept, stripes, reference, shift + wrong.thickness * self.thickness)

    def _look(self, wrong: Wrong, heat: float) -> FloatArray:
        r = self.random
        shift = heat * self.heat
        for size, ways in ((wrong.lot, self.lots), (wrong.body, self.bodies), (wrong.unknown, np.eye(D))):
            if size:
                moved = ways @ r.standard_normal(ways.shape[1])
                moved = _unit(moved) + 0.25 * _unit(r.standard_normal(D))
                shift = shift + size * moved / np.linalg.norm(moved.reshape(-1, 3), axis=1).max()
        return np.asarray(shift)


def _unit(way: FloatArray) -> FloatArray:
    return np.asarray(way / np.linalg.norm(way))


class Studio:
    """What a studio knows of an edition before the load in question: approved pieces and earlier loads."""

    def __init__(
        self, edition: Edition, devices: Devices, firings: int = FIRINGS_APPROVED, approved: int = APPROVED,
        earlier: int = EARLIER,
    ) -> None:  # fmt: skip
        self.edition, self.devices = edition, devices
        self.approved = [edition.fire(approved // firings) for _ in range(firings)]
        self.earlier = [edition.fire(A_LOAD) for _ in range(earlier)]
        self.mean = np.concatenate([one.pieces for one in self.approved]).mean(axis=0)
        self.n = sum(len(one.pieces) for one in self.approved)
        known = [*self.approved, *self.earlier]
        self.within = within_loads([one.pieces for one in known], edition.learnt)
        self.origin = np.mean([one.stripes for one in self.approved], axis=0)
        self.reference = np.mean([one.reference for one in known], axis=0)
        heats = [self.heat(one) for one in known]
        self.heats = [one for one in heats if one is not None]
        self.kiln = kiln_variance(
            np.array([one.cones for one in self.heats]),
            float(np.mean([one.variance for one in self.heats])) if self.heats else 0.0,
        )  # fmt: skip

    def heat(self, fired: Fired) -> HeatRead | None:
        """Heat that the buttons of a load tell; None without them."""
        if not self.devices.buttons:
            return None
        off = fired.stripes - self.origin
        return heat_of_buttons(
            off, self.edition.stripe_learnt, SHELVES, fired.reference - self.reference, KEPT_READINGS
        )  # fmt: skip

    def joint(self, loads: list[Fired]) -> Joint:
        """Loads together against the approved pieces."""
        k, m = len(self.approved), len(loads)
        weigh = np.concatenate([np.full(m, 1 / m), np.full(k, -1 / k)])
        pieces = np.concatenate([one.pieces for one in loads])
        kept = reference = heat = None
        variance = 0.0
        if self.devices.kept:
            base = np.mean([one.kept for one in self.approved], axis=0)
            kept = np.mean([one.kept for one in loads], axis=0) - base
        if self.devices.buttons:
            base = np.mean([one.reference for one in self.approved], axis=0)
            reference = np.mean([one.reference for one in loads], axis=0) - base
            told = [self.heat(one) for one in loads]
            before = self.heats[:k]
            cones = [one.cones for one in told if one is not None]
            if len(cones) == m and len(before) == k:
                heat = float(np.mean(cones) - np.mean([one.cones for one in before]))
                variance = before[0].variance * (1 / m + 1 / k)
        read = READING / KEPT_READINGS * (1 / m + 1 / k)
        seen = Seen(
            look=pieces.mean(axis=0) - self.mean, pieces=len(pieces), approved=self.n,
            firings=weigh, sessions=weigh,
            kept=kept, kept_at=None if kept is None else np.arange(D), kept_sessions=weigh, kept_variance=read,
            reference=reference, reference_sessions=weigh, reference_variance=read,
            heat=heat, heat_firings=weigh, heat_variance=variance,
        )  # fmt: skip
        return Joint(seen, self.within, self.edition.learnt, self.kiln)
