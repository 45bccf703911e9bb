"""What colour does a layering fire? From the studio's own tiles, with its doubt, or what is missing."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np

from swatch.science import predicting, priors, resting
from swatch.science.colour_math import delta_e_2000
from swatch.science.predicting import Predicted
from swatch.terms.answers import Basis, Footing, Grounds, Prediction, Question, Refusal, RestsOn
from swatch.terms.colour import Lab, covariance_of
from swatch.terms.layering import fold_name
from swatch.terms.problems import Notice, StudioProblem
from swatch.terms.problems.learning import (
    body_never_fired,
    colour_never_known,
    cone_beyond_tiles,
    material_only_raw,
    unknown_body,
    unknown_material,
)
from swatch.terms.report import Report, silent
from swatch.work.cautions import Cautions
from swatch.work.learn import Learnt, learnt
from swatch.work.studio_arrays import Codes, question_arrays
from swatch.work.surface import surfaces_of

MOST_TILES = 5
"""How many tiles are named as what a prediction rests on."""

_BASES = {
    predicting.OWN_TILES: Basis.OWN_TILES,
    predicting.OWN_MATERIALS: Basis.OWN_MATERIALS,
    predicting.RAW_ONLY: Basis.RAW_ONLY,
    predicting.MAKERS_CHART: Basis.MAKER,
}


def predict(folder: Path, questions: Sequence[Question], report: Report = silent) -> list[Prediction | Refusal]:
    """Answer each question, in order; one that cannot be answered says why.

    Raises
    ------
    StudioProblem
        The studio cannot be read, or nothing has been fired yet.
    """
    return predictions(learnt(folder, report), questions)


def predict_job(asked: dict[str, Any], report: Report) -> list[Prediction | Refusal]:
    """Answer questions in a worker; where ``why`` is asked for, each answer says what it rests on."""
    known = learnt(Path(asked["folder"]), report, bool(asked.get("in_haste", False)))
    answers = predictions(known, asked["questions"])
    if not asked.get("why"):
        return answers
    return [replace(one, why=why(known, one.question)) if isinstance(one, Prediction) else one for one in answers]


def why(known: Learnt, question: Question, top: int = MOST_TILES) -> Footing:
    """Say on which tiles the answer to a question rests; it has to be one that is answered."""
    arrays = question_arrays([question], known.arrays)
    found = resting.resting_on(known.fit, arrays, known.fit.predict(*arrays), top)
    tiles = []
    for row, pull, moved in zip(found.row, found.pull, found.without, strict=True):
        reading = known.arrays.readings[int(row)]
        lab = np.array(reading.lab)
        away = float(delta_e_2000(lab, lab + moved))
        tiles.append(RestsOn(reading.tile, reading.zone, reading.layers, reading.lab, float(pull), away))
    return Footing(tuple(tiles), covariance_of(found.one_more.tolist()))


def predictions(known: Learnt, questions: Sequence[Question]) -> list[Prediction | Refusal]:
    """Answer questions from what is learnt."""
    answers: list[Prediction | Refusal | None] = [_unknown_names(known, question) for question in questions]
    open_ = [i for i, answer in enumerate(answers) if answer is None]
    asked = [questions[i] for i in open_]
    if asked:
        predicted = known.fit.predict(*question_arrays(asked, known.arrays))
        cautions = Cautions(known)
        surfaces = surfaces_of(known.evidence, known.arrays, asked)
        for row, i in enumerate(open_):
            answer = _answer(known, cautions, predicted, row, questions[i])
            answers[i] = replace(answer, surface=surfaces[row]) if isinstance(answer, Prediction) else answer
    return [answer for answer in answers if answer is not None]


def _answer(
    known: Learnt, cautions: Cautions, predicted: Predicted, row: int, question: Question
) -> Prediction | Refusal:
    if predicted.refused[row]:
        return Refusal(question, _reason(known, predicted, row, question))
    return prediction_of(known, cautions, predicted, row, question)


def prediction_of(
    known: Learnt, cautions: Cautions, predicted: Predicted, row: int, question: Question
) -> Prediction:
    """One answered row of `StudioFit.predict` as a prediction."""
    grounds = Grounds(
        int(predicted.same_layering[row]),
        int(predicted.same_materials[row]),
        _BASES[int(predicted.basis[row])],
    )
    return Prediction(
        question,
        Lab(*(float(x) for x in predicted.mean[row])),
        covariance_of(predicted.covariance[row].tolist()),
        grounds,
        cautions.of(question, grounds),
    )


def _reason(known: Learnt, predicted: Predicted, row: int, question: Question) -> Notice:
    why, body, cone = int(predicted.refused[row]), question.body, str(question.cone)
    if why == predicting.MATERIAL_UNKNOWN:
        code = int(predicted.refused_material[row])
        name = known.arrays.materials.names[code]
        raw_tells = priors.MEASURED_RAW[known.fit.kind[code]]
        return colour_never_known(name, body, cone) if raw_tells else material_only_raw(name, body, cone)
    if why == predicting.BODY_UNKNOWN:
        return body_never_fired(body, cone)
    return cone_beyond_tiles(cone)


def _unknown_names(known: Learnt, question: Question) -> Refusal | None:
    try:
        check_body(known, question.body)
        for layer in question.layers:
            check_material(known, layer.material)
    except StudioProblem as problem:
        return Refusal(question, Notice(problem.code, problem.facts))
    return None


def check_material(known: Learnt, name: str) -> int:
    """Code of a material, or the problem that none has this name."""
    place = known.arrays.materials.find(name)
    if place < 0:
        raise unknown_material(name, _near(name, known.arrays.materials))
    return place


def check_body(known: Learnt, name: str) -> int:
    """Code of a body, or the problem that none has this name."""
    place = known.arrays.bodies.find(name)
    if place < 0:
        raise unknown_body(name, _near(name, known.arrays.bodies))
    return place


def _near(name: str, codes: Codes) -> str:
    folded = {fold_name(one): one for one in codes.names}
    close: Iterable[str] = (
        difflib.get_close_matches(fold_name(name), list(folded), n=3, cutoff=0.5) or list(folded)[:3]
    )
    return ", ".join(folded[one] for one in close)
