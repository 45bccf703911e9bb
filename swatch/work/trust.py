"""How far off have predictions of this studio been, on tiles that they had not seen?"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np

from swatch.science import leaving_out
from swatch.science.calibrating import WITHIN_95
from swatch.science.leaving_out import LeftOut
from swatch.science.odd_tiles import odd_tiles
from swatch.terms.answers import Held, Outlier, SaidAndFired, TrustAnswer, TrustLine
from swatch.terms.colour import Lab
from swatch.terms.report import Report, silent
from swatch.work.learn import Learnt, keep_arrays, learnt, read_arrays

STATED = (0.2, 0.4, 0.6, 0.8, 0.9, 0.95)
"""Shares at which the calibration curve is looked at."""

MOST_PAIRS = 200
"""How many predicted and fired colours are shown beside each other at most."""

QUESTIONS = {
    leaving_out.TILE: "another tile",
    leaving_out.LAYERING: "new layering",
    leaving_out.CONE: "another cone",
    leaving_out.FIRING: "another firing",
    leaving_out.MATERIAL: "unseen material",
}


def trust(folder: Path, report: Report = silent) -> TrustAnswer:
    """Errors of left-out predictions by kind of question, and the tiles that do not fit the others.

    Raises
    ------
    StudioProblem
        The studio cannot be read, or nothing has been fired yet.
    """
    return trust_from(learnt(folder, report), report)


def trust_job(asked: dict[str, Any], report: Report) -> TrustAnswer:
    """Ask for trust in a worker."""
    return trust(Path(asked["folder"]), report)


def trust_from(known: Learnt, report: Report = silent) -> TrustAnswer:
    """Trust from what is learnt."""
    data = known.arrays.data
    left = _left_out(known, report)
    odd = odd_tiles(data, known.fit, left)
    lines = [_line(name, left.of(code)) for code, name in QUESTIONS.items()]
    outliers = [_outlier(known, int(row), float(de00)) for row, de00 in zip(odd.row, odd.de00, strict=True)]
    curve = [point for code, name in QUESTIONS.items() for point in _curve(name, left.of(code))]
    return TrustAnswer(
        known.learnt_from,
        tuple(line for line in lines if line is not None),
        tuple(outliers),
        tuple(curve),
        _pairs(known, left),
    )


def _curve(question: str, left: LeftOut) -> list[Held]:
    if not len(left.row):
        return []
    held = leaving_out.held_at(left.distance, np.array(STATED))
    return [Held(question, stated, float(share)) for stated, share in zip(STATED, held, strict=True)]


def _pairs(known: Learnt, left: LeftOut) -> tuple[SaidAndFired, ...]:
    """Predicted beside fired, worst first; a reading that was left out several times stands with its worst."""
    pairs: dict[int, SaidAndFired] = {}
    for i in np.argsort(-left.de00, kind="stable"):
        row = int(left.row[i])
        reading = known.arrays.readings[row]
        said = Lab(float(left.said_l[i]), float(left.said_a[i]), float(left.said_b[i]))
        name = QUESTIONS[int(left.question[i])]
        pair = SaidAndFired(name, reading.tile, reading.zone, said, reading.lab, float(left.de00[i]))
        pairs.setdefault(row, pair)
    return tuple(pairs.values())[:MOST_PAIRS]


def _left_out(known: Learnt, report: Report) -> LeftOut:
    """Errors on tiles left out; worked out once for the same tiles, and kept beside their fit."""
    data = known.arrays.data
    if known.cache is None or known.provisional:
        return leaving_out.left_out(data, known.fit, report)
    kept = known.cache / f"left-out-{known.digest}.npz"
    left = read_arrays(kept, lambda arrays: leaving_out.left_out_from(arrays, len(data.lab)))
    if left is None:
        left = leaving_out.left_out(data, known.fit, report)
        keep_arrays(kept, left.arrays())
    return left


def _line(question: str, left: LeftOut) -> TrustLine | None:
    if not len(left.de00):
        return None
    return TrustLine(
        question,
        len(left.de00),
        float(np.median(left.de00)),
        float(np.quantile(left.de00, 0.9)),
        float(np.median(left.nearest)),
        float(np.median(left.shifted)),
        float((left.distance <= leaving_out.WITHIN_80).mean()),
        float((left.distance <= WITHIN_95).mean()),
        float(np.median(left.alike)),
    )


def _outlier(known: Learnt, row: int, de00: float) -> Outlier:
    reading = known.arrays.readings[row]
    return Outlier(reading.tile, reading.zone, de00)
