"""What colour would it be if …? Answered from a fit that stays in memory, fast enough to follow a hand."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np

from swatch.science.colour_math import delta_e_2000
from swatch.science.nearness import nearness
from swatch.science.studio_data import FIRED
from swatch.terms.answers import Prediction, Question, Suggestion
from swatch.terms.cone import COOLEST_POSITION, HOTTEST_POSITION, Cone
from swatch.terms.report import Report, silent
from swatch.terms.trial import Aside, OneStep, OwnTile, WhatIfAnswer, WhatIfRequest
from swatch.work.learn import Learnt, learnt
from swatch.work.predict import predictions

THICKER, THINNER = 0.5, -0.5
"""Coats by which the uppermost layer is made thicker or thinner."""
_RECORDS = "studio.sqlite"
_kept: dict[Path, tuple[tuple[int, int], Learnt]] = {}


def try_out(folder: Path, request: WhatIfRequest, report: Report = silent) -> WhatIfAnswer:
    """Say what a layering would fire to, and what lies beside it.

    Raises
    ------
    StudioProblem
        The studio cannot be read, or nothing has been fired yet.
    """
    return trial_from(_learnt(folder, report), request)


def trial_job(asked: dict[str, Any], report: Report) -> WhatIfAnswer:
    """Answer in a worker."""
    return try_out(Path(asked["folder"]), asked["request"], report)


def _learnt(folder: Path, report: Report) -> Learnt:
    """What is learnt of a studio, kept as long as its records are the same file; in haste where tiles changed."""
    state = (folder / _RECORDS).stat()
    mark = (state.st_mtime_ns, state.st_size)
    kept = _kept.get(folder)
    if kept is None or kept[0] != mark or kept[1].provisional:
        _kept.clear()
        _kept[folder] = kept = (mark, learnt(folder, report, in_haste=True))
    return kept[1]


def trial_from(known: Learnt, request: WhatIfRequest) -> WhatIfAnswer:
    """Answer from what is learnt."""
    steps = _steps(request) if request.asides else []
    said, *beside = predictions(known, [request.question, *(question for _aside, question in steps)])
    labs = [one.lab if isinstance(one, Prediction) else None for one in beside]
    made = tuple(OneStep(aside, question, lab) for (aside, question), lab in zip(steps, labs, strict=True))
    if not isinstance(said, Prediction):
        return WhatIfAnswer(request, said, None, None, made, known.learnt_from, known.provisional)
    near = _near(said, request)
    return WhatIfAnswer(
        request, said, near, _nearest(known, said), made, known.learnt_from, known.provisional
    )  # fmt: skip


def _near(said: Prediction, request: WhatIfRequest) -> Suggestion | None:
    if request.target is None:
        return None
    doubt = None if request.target_covariance is None else np.array(request.target_covariance.rows())
    near = nearness(
        np.array([said.lab], dtype=float),
        np.array([said.covariance.rows()]),
        np.array(request.target, dtype=float),
        doubt,
        request.tolerance,
    )
    low, high = float(near.low[0]), float(near.high[0])
    return Suggestion(said, float(near.expected[0]), (low, high), float(near.within[0]), request.tolerance)


def _nearest(known: Learnt, said: Prediction) -> OwnTile | None:
    """The own fired tile whose colour comes nearest what is said."""
    fired = np.flatnonzero(known.arrays.data.stage == FIRED)
    if not len(fired):
        return None
    apart = delta_e_2000(known.arrays.data.lab[fired], np.array(said.lab, dtype=float))
    best = int(np.argmin(apart))
    reading = known.arrays.readings[int(fired[best])]
    return OwnTile(reading.tile, reading.zone, reading.layers, reading.lab, float(apart[best]))


def _steps(request: WhatIfRequest) -> list[tuple[Aside, Question]]:
    """What is one step away: heat, thickness on top, other bodies."""
    question = request.question
    out: list[tuple[Aside, Question]] = []
    for aside, by in ((Aside.HOTTER, 0.5), (Aside.COOLER, -0.5)):
        position = question.cone.position + by
        if COOLEST_POSITION <= position <= HOTTEST_POSITION and (position >= 1.0 or position == int(position)):
            out.append((aside, replace(question, cone=Cone(position))))
    if question.layers:
        top = question.layers[-1]
        for aside, by in ((Aside.THICKER, THICKER), (Aside.THINNER, THINNER)):
            if top.coats + by > 0:
                layers = (*question.layers[:-1], replace(top, coats=top.coats + by))
                out.append((aside, replace(question, layers=layers)))
    out += [(Aside.OTHER_BODY, replace(question, body=one)) for one in request.bodies if one != question.body]
    return out
