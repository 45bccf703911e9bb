"""What a studio's readings come to: bodies, cones, and the colours of single materials, counted once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Generator, Iterable
from dataclasses import dataclass, field

from swatch.terms.colour import Lab
from swatch.terms.cone import Cone
from swatch.terms.evidence import Evidence, Stage
from swatch.terms.layering import fold_name

COATS = 2.0
"""Coats at which single materials are compared."""
STEP = 1_000


@dataclass
class Counts:
    """Made by `count`; nobody changes it afterwards."""

    bodies: Counter[str] = field(default_factory=Counter)
    """Readings on each body."""
    cones: Counter[Cone] = field(default_factory=Counter)
    """Fired readings at each cone."""
    at_cones: set[Cone] = field(default_factory=set)
    """Every cone any reading is of."""
    fired: int = 0
    fired_labs: list[Lab] = field(default_factory=list)
    """The colours of all fired readings."""
    firings: dict[str, set[str]] = field(default_factory=dict)
    """Names of the tiles of each firing."""
    tiles_with: dict[str, set[str]] = field(default_factory=dict)
    """Names of the tiles that carry each material, by its folded name."""
    raw: dict[str, Lab] = field(default_factory=dict)
    """The first raw colour of each material alone."""
    steps: dict[tuple[str, str, Cone | None, float], Lab] = field(default_factory=dict)
    """The first fired colour of one material alone by folded name, body, cone and coats."""
    single: dict[tuple[str, str, float], Lab] = field(default_factory=dict)
    """Fired colours of single materials by folded name, body and cone: of two coats or the nearest to two."""

    @property
    def usual_cone(self) -> Cone | None:
        """The cone most readings were fired to."""
        return max(self.cones, key=lambda cone: (self.cones[cone], cone.position)) if self.cones else None


def count(evidence: Evidence) -> Generator[None, None, Counts]:
    """Go through the readings once, in steps of some milliseconds."""
    made = Counts()
    folded: dict[str, str] = {}
    nearest: dict[tuple[str, str, float], float] = {}
    for number, reading in enumerate(evidence.readings, 1):
        if reading.body:
            made.bodies[reading.body] += 1
        if reading.firing:
            made.firings.setdefault(reading.firing, set()).add(reading.tile)
        for layer in reading.layers:
            if layer.material not in folded:
                folded[layer.material] = fold_name(layer.material)
            made.tiles_with.setdefault(folded[layer.material], set()).add(reading.tile)
        if reading.cone is not None:
            made.at_cones.add(reading.cone)
        alone = reading.layers[0] if len(reading.layers) == 1 else None
        if reading.stage is Stage.FIRED:
            made.fired += 1
            made.fired_labs.append(reading.lab)
            if reading.cone is not None:
                made.cones[reading.cone] += 1
            if alone is not None:
                name, body = folded[alone.material], reading.body or ""
                made.steps.setdefault((name, body, reading.cone, alone.coats), reading.lab)
                if reading.cone is not None and not alone.wiped:
                    place = (name, body, reading.cone.position)
                    off = abs(alone.coats - COATS)
                    if place not in nearest or off < nearest[place]:
                        nearest[place], made.single[place] = off, reading.lab
        elif reading.stage is Stage.RAW and alone is not None:
            made.raw.setdefault(folded[alone.material], reading.lab)
        if number % STEP == 0:
            yield
    return made


def bodies_by_use(counts: Counts, evidence: Evidence, named: Iterable[str]) -> tuple[str, ...]:
    """Every body, those with most readings first; one only named or planned for is there too."""
    names = {*named, *counts.bodies, *(bare.body for bare in evidence.bodies)}
    return tuple(sorted(names, key=lambda name: (-counts.bodies.get(name, 0), name)))
