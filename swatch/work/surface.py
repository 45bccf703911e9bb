"""The chances of each sheen and fault of a layering, from what was noted of the studio's own tiles."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from swatch.science import surface
from swatch.terms.answers import Question, Surface
from swatch.terms.evidence import FAULTS, Evidence, Sheen, Stage, ZoneReading
from swatch.work.studio_arrays import StudioArrays, layer_arrays, question_arrays


def surfaces_of(evidence: Evidence, arrays: StudioArrays, questions: Sequence[Question]) -> list[Surface | None]:
    """For each question the chances, or None where too few tiles like it were looked at.

    Sheen and faults are the zone's after a firing, so a zone that was read several times counts once. A zone of
    which a sheen or a fault is noted was looked at; one without either says nothing.
    """
    noted = _looked_at(evidence)
    if not noted or not questions:
        return [None] * len(questions)
    tiles = layer_arrays([one.layers for one in noted], arrays.materials)[:2]
    cones = np.array([np.nan if one.cone is None else one.cone.position for one in noted])
    material, coats, _wiped, _body, asked_cones = question_arrays(questions, arrays)
    counts = surface.likeness((material, coats, asked_cones), (*tiles, cones))
    shiny = np.array([one.sheen is not None for one in noted])
    sheens = np.array([[one.sheen is sheen for sheen in Sheen] for one in noted], dtype=float)
    faults = np.array([[fault in one.faults for fault in FAULTS] for one in noted], dtype=float)
    by_sheen, sheen_worth = surface.chances(counts[:, shiny], sheens[shiny])
    by_fault, worth = surface.chances(counts, faults)
    told = [fault for k, fault in enumerate(FAULTS) if faults[:, k].any()]
    out: list[Surface | None] = []
    for row in range(len(questions)):
        if worth[row] < surface.ENOUGH:
            out.append(None)
            continue
        total = float(by_sheen[row].sum())
        shines = sheen_worth[row] >= surface.ENOUGH
        out.append(
            Surface(
                float(worth[row]),
                tuple((s, float(by_sheen[row, k]) / total) for k, s in enumerate(Sheen)) if shines else (),
                tuple((fault, float(by_fault[row, FAULTS.index(fault)])) for fault in told),
            )
        )
    return out


def _looked_at(evidence: Evidence) -> list[ZoneReading]:
    zones = {
        (one.tile, one.zone): one
        for one in evidence.readings
        if one.stage is Stage.FIRED and one.refires == 0 and one.layers and (one.sheen or one.faults)
    }
    return list(zones.values())
