"""How hot each firing was, as the studio's buttons or witness cones tell it, against one origin."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TypeVar

import numpy as np

from swatch.science.button_heat import STRIPE_SD, HeatRead, heat_of_buttons
from swatch.science.colour_math import FloatArray
from swatch.science.holding import READING
from swatch.terms.buttons import ButtonReading
from swatch.terms.layering import fold_name
from swatch.terms.materials import Firing, WitnessCone

CONE_READING = 0.15
"""Standard deviation of one witness cone as it is read, cones: common practice, no source."""
LADDER = 0.6
"""Range of cones, as witness cones told them, from which buttons teach what their own stripes do with heat."""
MODEL_SLOPE = 1.5
"""How far the learnt model's change of a stripe may be off: so many ΔE a cone, and as large a share of it."""
FIRING_AS_A_WHOLE = 0.2
"""The same where only one cone is stated for the whole firing."""

BUTTONS, CONES = "buttons", "cones"
Row = TypeVar("Row")
Key = TypeVar("Key", bound=Hashable)


@dataclass(frozen=True)
class Heats:
    """Heat of each firing by its folded name, what told it, and the kept button's change by session.

    ``shelves`` has the heat of each shelf (folded) over all firings, against its own firing.
    """

    told_by: str | None = None
    heats: Mapping[str, HeatRead] = field(default_factory=dict)
    references: Mapping[str, tuple[FloatArray, int]] = field(default_factory=dict)
    shelves: Mapping[str, float] = field(default_factory=dict)


Changes = Callable[[Sequence[ButtonReading]], FloatArray]
"""What each stripe does for a cone more, (q, 3)."""


def heats_of(
    buttons: Sequence[ButtonReading], witnesses: Sequence[WitnessCone], firings: Sequence[Firing], changes: Changes
) -> Heats:
    """Read the heats of all firings from the best there is: buttons, else witness cones, else the cone reached."""
    references = _references([one for one in buttons if one.kept])
    cones = _by_cones(witnesses, firings)
    told = _by_buttons([one for one in buttons if not one.kept and one.firing], references, changes, cones)
    if len(told[0]) > 1:
        return Heats(BUTTONS, told[0], references, told[1])
    return Heats(CONES if len(cones) > 1 else None, cones, references)


def _references(kept: Sequence[ButtonReading]) -> dict[str, tuple[FloatArray, int]]:
    """Mean change of the kept button's stripes from their own means, and how many readings, by session."""
    means = {
        key: np.mean([one.lab for one in rows], axis=0)
        for key, rows in _grouped(kept, lambda one: (fold_name(one.button), fold_name(one.stripe))).items()
    }
    found = {}
    for session, rows in _grouped(kept, lambda one: fold_name(one.session or "")).items():
        off = [np.array(one.lab) - means[fold_name(one.button), fold_name(one.stripe)] for one in rows]
        found[session] = (np.mean(off, axis=0), len(rows))
    return found


def _by_buttons(
    fired: Sequence[ButtonReading],
    references: Mapping[str, tuple[FloatArray, int]],
    changes: Changes,
    cones: Mapping[str, HeatRead],
) -> tuple[dict[str, HeatRead], dict[str, float]]:
    if not fired:
        return {}, {}
    by_stripe = _grouped(fired, lambda one: fold_name(one.stripe))
    stripes = sorted(by_stripe)
    change = _by_ladders(by_stripe, references, changes, cones)
    origin = np.array([np.mean([one.lab for one in by_stripe[stripe]], axis=0) for stripe in stripes])
    heats: dict[str, HeatRead] = {}
    by_shelf: dict[str, list[float]] = {}
    for firing, rows in _grouped(fired, lambda one: fold_name(one.firing or "")).items():
        session = fold_name(rows[0].session or "")
        reference, readings = references.get(session, (None, 1))
        whole = _heat(rows, stripes, origin, change, reference, readings)
        if whole is None:
            continue
        heats[firing] = whole
        for shelf, there in _grouped(
            [one for one in rows if one.shelf], lambda one: fold_name(one.shelf or "")
        ).items():
            heat = _heat(there, stripes, origin, change, reference, readings)
            if heat is not None:
                by_shelf.setdefault(shelf, []).append(heat.cones - whole.cones)
    return heats, {shelf: float(np.mean(found)) for shelf, found in by_shelf.items()}


def changes_of_stripes(
    buttons: Sequence[ButtonReading], witnesses: Sequence[WitnessCone], firings: Sequence[Firing], changes: Changes
) -> dict[str, FloatArray]:
    """What each stripe on record does for a cone more, by its folded name: the model's belief and the ladders'."""
    by_stripe = _grouped(
        [one for one in buttons if not one.kept and one.firing], lambda one: fold_name(one.stripe)
    )
    references = _references([one for one in buttons if one.kept])
    found = _by_ladders(by_stripe, references, changes, _by_cones(witnesses, firings))
    return dict(zip(sorted(by_stripe), found, strict=True))


def _by_ladders(
    by_stripe: Mapping[str, list[ButtonReading]],
    references: Mapping[str, tuple[FloatArray, int]],
    changes: Changes,
    cones: Mapping[str, HeatRead],
) -> FloatArray:
    """Changes (q, 3) of the stripes in the order of their names."""
    stripes = sorted(by_stripe)
    if not stripes:
        return np.zeros((0, 3))
    model = changes([by_stripe[stripe][0] for stripe in stripes])
    return np.array([
        _by_ladder(by_stripe[stripe], references, cones, model[k]) for k, stripe in enumerate(stripes)
    ])  # fmt: skip


def _by_ladder(
    rows: Sequence[ButtonReading],
    references: Mapping[str, tuple[FloatArray, int]],
    cones: Mapping[str, HeatRead],
    model: FloatArray,
) -> FloatArray:
    """What one stripe does for a cone more: as fired at cones that are known, beside what the model says."""
    known = [
        (cones[fold_name(one.firing or "")].cones, np.array(one.lab) - references[fold_name(one.session or "")][0])
        for one in rows
        if fold_name(one.firing or "") in cones and fold_name(one.session or "") in references
    ]
    if not known:
        return model
    at, colours = np.array([cone for cone, _ in known]), np.array([colour for _, colour in known])
    if float(np.ptp(at)) < LADDER:
        return model
    off = at - at.mean()
    squares = float(off @ off)
    slope = off @ colours / squares
    precision = squares / (READING + STRIPE_SD**2)
    belief = 1.0 / (MODEL_SLOPE * (1.0 + float(np.linalg.norm(model)))) ** 2
    return np.asarray((precision * slope + belief * model) / (precision + belief))


def _heat(
    rows: Sequence[ButtonReading],
    stripes: Sequence[str],
    origin: FloatArray,
    change: FloatArray,
    reference: FloatArray | None,
    readings: int,
) -> HeatRead | None:
    here = _grouped(rows, lambda one: fold_name(one.stripe))
    at = [k for k, stripe in enumerate(stripes) if stripe in here]
    off = np.array([np.mean([one.lab for one in here[stripes[k]]], axis=0) - origin[k] for k in at])
    count = min(len(here[stripes[k]]) for k in at)
    return heat_of_buttons(off, change[at], count, reference, readings)


def _by_cones(witnesses: Sequence[WitnessCone], firings: Sequence[Firing]) -> dict[str, HeatRead]:
    found = {
        firing: HeatRead(float(np.mean([one.cone_reached.position for one in rows])), CONE_READING**2 / len(rows))
        for firing, rows in _grouped(witnesses, lambda one: fold_name(one.firing)).items()
    }
    for one in firings:
        if one.cone_reached is not None:
            found.setdefault(fold_name(one.name), HeatRead(one.cone_reached.position, FIRING_AS_A_WHOLE**2))
    return found


def _grouped(rows: Sequence[Row], key: Callable[[Row], Key]) -> dict[Key, list[Row]]:
    groups: dict[Key, list[Row]] = {}
    for row in rows:
        groups.setdefault(key(row), []).append(row)
    return groups
