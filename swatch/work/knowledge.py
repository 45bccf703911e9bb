"""What do the studio's tiles say of one material?"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np

from swatch.science import priors
from swatch.science.colour_math import de00_metric, delta_e_2000
from swatch.science.studio_data import FIRED
from swatch.terms.answers import Prediction, Question
from swatch.terms.colour import Lab
from swatch.terms.cone import Cone
from swatch.terms.knowledge import Change, Covering, Lack, MaterialKnowledge, NextTile, Sensitivity
from swatch.terms.layering import Layer
from swatch.terms.materials import Kind
from swatch.terms.report import Report, silent
from swatch.work.learn import Learnt, learnt
from swatch.work.predict import check_material, predictions

COATS = (1.0, 2.0, 3.0)
MOST_CONES = 4
USUAL_COATS = 2.0
LIGHT, HEAVY = 0.75, 1.33
"""A light and a heavy coat, as shares of the usual: common practice, no source."""

_WITHIN_80 = 1.2816
"""Standard deviations that hold 80 % of a normal."""

_COVERS = (Kind.GLAZE, Kind.CLEAR, Kind.SLIP, Kind.UNDERGLAZE)


def knowledge(folder: Path, material: str, report: Report = silent) -> MaterialKnowledge:
    """Say what is known of a material.

    Raises
    ------
    StudioProblem
        ``unknown-material``, or the studio cannot be read, or nothing has been fired yet.
    """
    return knowledge_from(learnt(folder, report), material)


def knowledge_job(asked: dict[str, Any], report: Report) -> MaterialKnowledge:
    """Say what is known of a material, in a worker; ``in_haste``: from the last fit, where tiles have changed."""
    known = learnt(Path(asked["folder"]), report, bool(asked.get("in_haste", False)))
    return knowledge_from(known, asked["material"])


def knowledge_from(known: Learnt, material: str) -> MaterialKnowledge:
    """What is known of a material, from what is learnt."""
    code = check_material(known, material)
    name, data = known.arrays.materials.names[code], known.arrays.data
    with_it = (data.stage == FIRED) & (data.material == code).any(axis=1)
    bodies, cones = _places(known, with_it)
    swatches = _answered(known, [Question((Layer(name, n),), b, c) for b in bodies for c in cones for n in COATS])
    kind = known.arrays.stock[code].kind
    raw = known.fit.raw_lab[code]
    tells = bool(priors.MEASURED_RAW[known.fit.kind[code]] and np.isfinite(raw).all())
    usual = Question((Layer(name, USUAL_COATS),), bodies[0], cones[0]) if bodies and cones else None
    grounds = _grounds(known, code, usual) if usual is not None else None
    covering = _covering(known, usual, grounds) if usual is not None and grounds and kind in _COVERS else None
    return MaterialKnowledge(
        name,
        kind,
        int(with_it.sum()),
        tuple(swatches),
        Lab(*map(float, raw)) if tells else None,
        covering,
        tuple(_sensitivities(known, usual)) if usual is not None else (),
        _next_tile(known, with_it, usual, grounds, swatches),
        known.learnt_from,
    )


def _places(known: Learnt, with_it: np.ndarray) -> tuple[list[str], list[Cone]]:
    """Bodies fired and cones to speak of, most used first; its own cones, or the studio's where it has none."""
    data = known.arrays.data
    fired = (data.stage == FIRED) & (data.body >= 0) & np.isfinite(data.cones_asked())
    bodies, many = np.unique(data.body[fired], return_counts=True)
    at = data.cones_asked()[fired & with_it] if (fired & with_it).any() else data.cones_asked()[fired]
    cones, times = np.unique(np.round(2.0 * at) / 2.0, return_counts=True)
    names = [known.arrays.bodies.names[int(bodies[i])] for i in np.argsort(-many, kind="stable")]
    return names, [Cone(float(cones[i])) for i in np.argsort(-times, kind="stable")[:MOST_CONES]]


def _answered(known: Learnt, questions: list[Question]) -> list[Prediction]:
    return [one for one in predictions(known, questions) if isinstance(one, Prediction)]


def _grounds(known: Learnt, code: int, usual: Question) -> tuple[str, str] | None:
    """The lightest and the darkest underglaze that the studio can say something of, but the material itself."""
    names = [
        name
        for i, name in enumerate(known.arrays.materials.names)
        if i != code and known.arrays.stock[i].kind is Kind.UNDERGLAZE
    ]
    said = _answered(known, [replace(usual, layers=(Layer(name, USUAL_COATS),)) for name in names])
    if len(said) < 2:
        return None
    said.sort(key=lambda one: one.lab.L)
    return said[-1].question.layers[0].material, said[0].question.layers[0].material


def _covering(known: Learnt, usual: Question, grounds: tuple[str, str]) -> Covering | None:
    """Contrast ratio: Y over dark by Y over light (as ISO 6504-3 states hiding power; from memory)."""
    over = [replace(usual, layers=(Layer(ground, USUAL_COATS), *usual.layers)) for ground in grounds]
    said = _answered(known, over)
    if len(said) < 2:
        return None
    light, dark = said
    ratio = _luminance(dark.lab.L) / _luminance(light.lab.L)
    # d ln Y / d L* of each, taken as independent: they are not quite, so the range is rather wide.
    sd = float(np.hypot(*(3.0 / (one.lab.L + 16.0) * one.covariance.LL**0.5 for one in (light, dark))))
    low, high = (float(min(ratio * np.exp(way * _WITHIN_80 * sd), 1.0)) for way in (-1.0, 1.0))
    return Covering(light, dark, float(min(ratio, 1.0)), (low, high))


def _luminance(lightness: float) -> float:
    return float(max((lightness + 16.0) / 116.0, 0.05) ** 3)


def _sensitivities(known: Learnt, usual: Question) -> list[Sensitivity]:
    (layer,) = usual.layers
    cone = usual.cone.position
    ways = {
        Change.HALF_A_CONE_HOTTER: replace(usual, cone=Cone(cone + 0.5)),
        Change.HALF_A_CONE_COOLER: replace(usual, cone=Cone(cone - 0.5)),
        Change.LIGHT_COAT: replace(usual, layers=(replace(layer, coats=LIGHT * layer.coats),)),
        Change.HEAVY_COAT: replace(usual, layers=(replace(layer, coats=HEAVY * layer.coats),)),
    }
    asked = [by_model(known, question) for question in (usual, *ways.values())]
    if any(one is None for one in asked):
        return []
    plain, *changed = (one for one in asked if one is not None)
    return [
        Sensitivity(change, plain, lab, float(delta_e_2000(np.array(plain), np.array(lab))))
        for change, lab in zip(ways, changed, strict=True)
    ]


def by_model(known: Learnt, question: Question) -> Lab | None:
    """The model's own colour: between own tiles and none of a layering its answers must not jump."""
    from swatch.science import predicting
    from swatch.work.studio_arrays import question_arrays

    said = predicting.predict(known.fit, *question_arrays([question], known.arrays), by_the_model_alone=True)
    return None if said.refused[0] else Lab(*map(float, said.mean[0]))


def _next_tile(
    known: Learnt,
    with_it: np.ndarray,
    usual: Question | None,
    grounds: tuple[str, str] | None,
    swatches: list[Prediction],
) -> NextTile | None:
    """Never fired: fire it; never over a dark colour: how it covers is a guess; else where it is least sure."""
    if usual is None:
        return None
    if not with_it.any():
        return NextTile(usual, Lack.NEVER_FIRED)
    if grounds is not None:
        data = known.arrays.data
        dark = known.arrays.materials.find(grounds[1])
        if not (with_it & (data.material == dark).any(axis=1)).any():
            return NextTile(
                replace(usual, layers=(Layer(grounds[1], USUAL_COATS), *usual.layers)), Lack.NOT_OVER_DARK
            )
    if not swatches:
        return None
    widest = max(swatches, key=doubt_of)
    return NextTile(widest.question, Lack.MOST_DOUBT)


def doubt_of(one: Prediction) -> float:
    """One standard uncertainty of a prediction in ΔE00: √trace(G Σ) with the local metric G."""
    metric = de00_metric(np.array(one.lab))
    return float(np.sqrt(np.trace(metric @ np.array(one.covariance.rows()))))
