"""What could take the place of a material, at every place where it is used?"""

from __future__ import annotations

import time
from collections.abc import Sequence
from dataclasses import dataclass, field
from dataclasses import replace as swap
from pathlib import Path
from typing import Any

import numpy as np

from swatch.library.studio import Studio
from swatch.terms.answers import MatchRequest, Prediction, Question, ReplaceAnswer, Use
from swatch.terms.colour import Covariance, Lab, covariance_of
from swatch.terms.editions import EditionRegion
from swatch.terms.evidence import Stage, ZoneReading
from swatch.terms.layering import Layers, fold_name
from swatch.terms.problems import StudioProblem
from swatch.terms.problems.learning import unused_material
from swatch.terms.report import Report, silent
from swatch.work.learn import Learnt, learnt
from swatch.work.looks import looks_beside
from swatch.work.match import match_from
from swatch.work.predict import check_material, predictions
from swatch.work.replace_plan import JAR_ML, AtUse, plan_of


@dataclass
class _Place:
    """One use while it is gathered: its readings, and the edition's region where it is in one."""

    question: Question
    readings: list[ZoneReading] = field(default_factory=list)
    regions: list[EditionRegion] = field(default_factory=list)


def replace(
    folder: Path,
    material: str,
    top: int = 10,
    report: Report = silent,
    jar_ml: float = JAR_ML,
    in_haste: bool = False,
) -> ReplaceAnswer:
    """Every use of a material, those of editions first, and the layerings without it that come nearest each.

    Beside them the plan of its end: how long it lasts, jars to buy, stand-ins for all uses at once, samples.

    Raises
    ------
    StudioProblem
        ``unknown-material``, ``unused-material``, or the studio cannot be read or has nothing fired.
    """
    began = time.perf_counter()
    known = learnt(folder, report, in_haste)
    with Studio.look(folder) as studio:
        regions, pieces, counts = studio.editions(), studio.pieces(), studio.tallies()
    name = known.arrays.materials.names[check_material(known, material)]
    places = uses_of(known, regions, name)
    if not places:
        raise unused_material(name)
    uses, searched = [], 0
    for done, place in enumerate(places):
        report(done, len(places), "uses")
        use, looked_at = answer_at(known, place, name, top, report)
        searched = max(searched, looked_at)
        if use is not None:
            uses.append(use)
    report(len(places), len(places), "uses")
    at_uses = []
    for place in places:
        colour = colour_of(known, place)
        if colour is not None:
            at_uses.append(AtUse(place.question, *colour, tuple(place.regions)))
    plan = plan_of(known, name, at_uses, pieces, jar_ml, top, report, counts) if at_uses else None
    seconds = time.perf_counter() - began
    return ReplaceAnswer(name, tuple(uses), searched, seconds, known.learnt_from, plan, known.provisional)


def replace_job(asked: dict[str, Any], report: Report) -> ReplaceAnswer:
    """Replace in a worker; ``in_haste`` as of match."""
    return replace(
        Path(asked["folder"]),
        asked["material"],
        int(asked["top"]),
        report,
        float(asked.get("jar_ml", JAR_ML)),
        bool(asked.get("in_haste", False)),
    )


def uses_of(known: Learnt, regions: Sequence[EditionRegion], material: str) -> list[_Place]:
    """Where a material is used: in editions first, then on tiles, those with most tiles first."""
    places: dict[tuple[object, ...], _Place] = {}

    def place(layers: Layers, body: str, cone: Any) -> _Place:
        key = (tuple((fold_name(x.material), x.coats, x.wiped) for x in layers), fold_name(body), cone)
        return places.setdefault(key, _Place(Question(layers, body, cone)))

    for region in regions:
        if region.body and region.cone and _has(region.layers, material):
            place(region.layers, region.body, region.cone).regions.append(region)
    for reading in known.evidence.readings:
        fired_once = reading.stage is Stage.FIRED and reading.refires == 0
        if fired_once and reading.body and reading.cone and _has(reading.layers, material):
            place(reading.layers, reading.body, reading.cone).readings.append(reading)
    # sorted is stable: among equals the order of the records holds
    return sorted(places.values(), key=lambda one: (not one.regions, -len(one.readings)))


def _has(layers: Layers, material: str) -> bool:
    return any(fold_name(layer.material) == fold_name(material) for layer in layers)


def answer_at(known: Learnt, place: _Place, material: str, top: int, report: Report) -> tuple[Use | None, int]:
    """Give a use with its suggestions, None where its own colour cannot be said, and how many were searched."""
    colour = colour_of(known, place)
    if colour is None:
        return None, 0
    lab, covariance = colour
    kinds = {str(region.region_kind) for region in place.regions if region.region_kind is not None}
    areas = [region.area_dm2 for region in place.regions if region.area_dm2]
    planned = [region.planned for region in place.regions if region.planned]
    request = MatchRequest(
        lab,
        place.question.body,
        place.question.cone,
        covariance,
        regions=tuple(sorted(kinds)),
        area_dm2=sum(areas) or None,
        pieces=max(planned) if planned else None,
        leave_out=(material,),
        top=top,
    )
    try:
        answer = match_from(known, request, report)
    except StudioProblem as problem:
        if problem.code != "nothing-to-search":
            raise
        return Use(place.question, lab, bool(place.readings), ()), 0
    looks = looks_beside(known, place.question, [one.prediction.question for one in answer.suggestions])
    suggestions = tuple(
        swap(one, prediction=swap(one.prediction, cautions=(*look.notices, *one.prediction.cautions)))
        for one, look in zip(answer.suggestions, looks, strict=True)
    )
    return Use(place.question, lab, bool(place.readings), suggestions), answer.searched


def colour_of(known: Learnt, place: _Place) -> tuple[Lab, Covariance] | None:
    """Colour to be met, and how well it is known.

    One tile differs from the average of its layering by about as much as the prediction does (2 ΔE00, each found
    on invented studios), so the prediction counts as one more reading; with many readings it fades away.
    """
    said = predictions(known, [place.question])[0]
    predicted = (said.lab, said.covariance) if isinstance(said, Prediction) else None
    if not place.readings:
        return predicted
    precision = np.linalg.inv(np.array([reading.covariance.rows() for reading in place.readings]))
    covariance = np.linalg.inv(precision.sum(axis=0))
    labs = np.array([reading.lab for reading in place.readings])
    mean = covariance @ np.einsum("nij,nj->i", precision, labs)
    if predicted is not None:
        share = len(labs) / (len(labs) + 1)
        mean = share * mean + (1 - share) * np.array(predicted[0])
        covariance = share**2 * covariance + (1 - share) ** 2 * np.array(predicted[1].rows())
    return Lab(*(float(x) for x in mean)), covariance_of(covariance.tolist())
