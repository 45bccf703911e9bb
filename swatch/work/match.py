"""Which layerings from stock come nearest a target colour?"""

from __future__ import annotations

import time
from collections import OrderedDict
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np

from swatch.science.predicting import Predicted
from swatch.science.search import AllMeans, Ranked, Space, TooManyLayerings, all_means, rank
from swatch.terms.answers import MatchAnswer, MatchRequest, Question, Reach, Suggestion
from swatch.terms.layering import Layer
from swatch.terms.materials import Status
from swatch.terms.problems import Notice
from swatch.terms.problems.learning import (
    body_never_fired,
    cone_beyond_tiles,
    nothing_to_search,
    target_out_of_range,
    too_many_layerings,
)
from swatch.terms.report import Report, silent
from swatch.work.cautions import FOOD_REGIONS, Cautions, label_speaks_of_food
from swatch.work.consumption import Consumption
from swatch.work.learn import Learnt, learnt
from swatch.work.predict import check_body, check_material, prediction_of

LOOKED_AT = 400
"""Layerings ranked before ten that differ are chosen from them."""
REACH_LOOKED_AT = 120
SURE, HOPE = 2 / 3, 0.1
"""Chances from which a target is said to be within reach, and below which it is said to be out of it."""
KEPT_MEANS = 3
DEARER_UPPERMOST, DEARER_SET = 0.2, 0.5
"""What an answer adds to the price of those with its two uppermost layers, and with its materials."""

_kept: OrderedDict[tuple[object, ...], AllMeans] = OrderedDict()


def match(folder: Path, request: MatchRequest, report: Report = silent) -> MatchAnswer:
    """Layerings from the studio's stock, nearest first, ten that differ from each other.

    Raises
    ------
    StudioProblem
        The request names what the studio does not have, or rules out everything it has.
    """
    return match_from(learnt(folder, report), request, report)


def match_job(asked: dict[str, Any], report: Report) -> MatchAnswer:
    """Match in a worker; ``in_haste``: from the last fit, where tiles have changed, with the answer marked."""
    known = learnt(Path(asked["folder"]), report, bool(asked.get("in_haste", False)))
    return match_from(known, asked["request"], report)


def match_from(known: Learnt, request: MatchRequest, report: Report = silent) -> MatchAnswer:
    """Match from what is learnt."""
    began = time.perf_counter()
    if not 0 <= request.target.L <= 100 or max(abs(request.target.a), abs(request.target.b)) > 128:
        raise target_out_of_range(request.target.L)
    body = check_answerable(known, request)
    means = means_of(known, space_of(known, request), body, request.cone.position, report)
    if not means.searched:
        raise nothing_to_search()
    covariance = None if request.target_covariance is None else np.array(request.target_covariance.rows())
    ranked = rank(
        known.fit,
        means,
        np.array(request.target, dtype=float),
        target_covariance=covariance,
        tolerance=request.tolerance,
        top=max(LOOKED_AT, request.top),
    )
    chosen = different(ranked, request.top)
    chance, near = reach_of(known, request, ranked, means)
    reach = Reach.REACHABLE if chance >= SURE else Reach.PERHAPS if chance >= HOPE else Reach.OUT_OF_REACH
    return MatchAnswer(
        request,
        suggestions_of(known, request, ranked, chosen),
        reach is Reach.REACHABLE,
        ranked.nearest_mean,
        means.searched,
        time.perf_counter() - began,
        known.learnt_from,
        known.provisional,
        reach,
        chance,
        near,
    )


def check_answerable(known: Learnt, request: MatchRequest) -> int:
    """Code of the body, or the problem that nothing can be said of it or of this cone."""
    body = check_body(known, request.body)
    ask_first = known.fit.predict(*_bare_question(body, request.cone.position))
    if ask_first.refused[0]:
        _refuse(ask_first, request)
    return body


def reach_of(
    known: Learnt, request: MatchRequest, ranked: Ranked, means: AllMeans
) -> tuple[float, tuple[float, float] | None]:
    """Chance that some layering lies within the tolerance, on average over firings, and how near the nearest lies.

    By draws of what all of the best may fire to, together: means alone say within reach what rests on a guess.
    """
    from swatch.science.colour_math import delta_e_2000
    from swatch.science.joint import Together, both_ways

    few = slice(0, REACH_LOOKED_AT)
    if not len(ranked.mean):
        return 0.0, None
    material, coats = ranked.material[few], ranked.coats[few]
    together = Together(known.fit, means.spread, means.cone)
    mean, off = together.strays(material, coats, np.full(len(material), means.body))
    nearest = delta_e_2000(both_ways(mean, off), np.array(request.target, dtype=float)).min(axis=1)
    low, high = np.quantile(nearest, [0.1, 0.9])
    return float((nearest <= request.tolerance).mean()), (float(low), float(high))


def space_of(known: Learnt, request: MatchRequest) -> Space:
    """Which layerings the stock and the regions allow.

    A region that touches food or mouth needs a glaze on top whose maker's label says so at that cone, and nothing
    in it, however far down, whose label says no; that is the least that is asked, and never a proof.
    """
    touches_food = any(region in FOOD_REGIONS for region in request.regions)
    must = [check_material(known, name) for name in request.must_use]
    out = {check_material(known, name) for name in request.leave_out}
    stock = known.arrays.stock
    answerable = answerable_materials(known)
    allowed = np.array(
        [
            (one.status is Status.IN_STOCK or i in must)
            and (one.left_g != 0 or i in must)
            and i not in out
            and bool(answerable[i])
            and not (touches_food and one.food_label is False)
            for i, one in enumerate(stock)
        ],
        dtype=bool,
    )
    top = np.ones(len(stock), dtype=bool)
    if touches_food:
        top = np.array([label_speaks_of_food(one, request.cone) for one in stock], dtype=bool)
    return Space(
        allowed,
        top,
        np.ones(len(stock), dtype=bool),
        tuple(must),
        min(request.max_layers, request.max_coats),
        request.max_coats,
    )


def answerable_materials(known: Learnt) -> np.ndarray:
    """Materials whose fired colour can be said at all: fired here, or an underglaze with a raw colour."""
    said = known.fit.beliefs.from_raw.copy()
    used = known.fit.tile_material[known.fit.tile_material >= 0]
    said[np.unique(used)] = True
    return said


def _bare_question(body: int, cone: float) -> tuple[np.ndarray, ...]:
    none = np.zeros((1, 0))
    return none.astype(np.intp), none, none.astype(bool), np.array([body]), np.array([cone])


def _refuse(predicted: Predicted, request: MatchRequest) -> None:
    from swatch.science import predicting
    from swatch.terms.problems import StudioProblem

    unknown = predicted.refused[0] == predicting.BODY_UNKNOWN
    cone = str(request.cone)
    reason = body_never_fired(request.body, cone) if unknown else cone_beyond_tiles(cone)
    raise StudioProblem(reason.code, None, **reason.facts)


def means_of(known: Learnt, space: Space, body: int, cone: float, report: Report) -> AllMeans:
    """All plug-in colours of a space; the last few are kept, since targets change more often than limits."""
    limits = (space.must_use, space.max_layers, space.max_coats)
    key = (known.digest, known.provisional, body, cone, limits, space.allowed.tobytes(), space.may_top.tobytes())
    if key in _kept:
        _kept.move_to_end(key)
        return _kept[key]
    try:
        means = all_means(known.fit, space, body, cone, report)
    except TooManyLayerings as error:
        raise too_many_layerings() from error
    _kept[key] = means
    while len(_kept) > KEPT_MEANS:
        _kept.popitem(last=False)
    return means


def different(ranked: Ranked, top: int) -> list[int]:
    """Places of near answers that differ, best first.

    What is wrong with a prediction is wrong with all that share its two uppermost layers, so ten that are alike
    are one bet. Each answer taken makes those like it dearer. On invented studios the best of ten then lay 1.00
    ΔE00 from a target that can be reached, in the mean; 1.26 for the ten nearest, 1.04 and 1.37 where no two
    shared their uppermost layers or their materials.
    """
    alike = [(_uppermost(ranked, i), _set_of(ranked, i)) for i in range(len(ranked.mean))]
    price = np.array(ranked.near.expected, dtype=float)
    chosen: list[int] = []
    while len(chosen) < min(top, len(price)):
        best = int(np.argmin(price))
        chosen.append(best)
        for i, (upper, materials) in enumerate(alike):
            dearer = DEARER_UPPERMOST * (upper == alike[best][0]) + DEARER_SET * (materials == alike[best][1])
            price[i] += dearer * ranked.near.expected[i]
        price[best] = np.inf
    return sorted(chosen)


def _uppermost(ranked: Ranked, i: int) -> tuple[int, ...]:
    return tuple(int(m) for m in ranked.material[i] if m >= 0)[-2:]


def _set_of(ranked: Ranked, i: int) -> frozenset[int]:
    return frozenset(int(m) for m in ranked.material[i] if m >= 0)


def suggestions_of(
    known: Learnt, request: MatchRequest, ranked: Ranked, chosen: Sequence[int]
) -> tuple[Suggestion, ...]:
    """Ranked layerings as suggestions, with pieces possible and cautions."""
    from swatch.work.studio_arrays import question_arrays

    questions = [question_of(known, request, ranked, i) for i in chosen]
    if not questions:
        return ()
    said = known.fit.predict(*question_arrays(questions, known.arrays))
    cautions, consumption = Cautions(known), Consumption(known.weighings)
    made = []
    for row, i in enumerate(chosen):
        prediction = prediction_of(known, cautions, said, row, questions[row])
        pieces = None
        if request.area_dm2:
            pieces = consumption.pieces(questions[row].layers, known.arrays.stock, request.area_dm2)
        if pieces is not None and request.pieces is not None and pieces[0] < request.pieces:
            short = Notice("enough-for", {"low": pieces[0], "pieces": request.pieces})
            prediction = replace(prediction, cautions=(short, *prediction.cautions))
        made.append(
            Suggestion(
                prediction,
                float(ranked.near.expected[i]),
                (float(ranked.near.low[i]), float(ranked.near.high[i])),
                float(ranked.near.within[i]),
                request.tolerance,
                pieces,
            )
        )
    return tuple(made)


def question_of(known: Learnt, request: MatchRequest, ranked: Ranked, i: int) -> Question:
    """One ranked layering as a question in the studio's names."""
    names = known.arrays.materials.names
    layers = tuple(
        Layer(names[int(material)], float(coats))
        for material, coats in zip(ranked.material[i], ranked.coats[i], strict=True)
        if material >= 0
    )
    return Question(layers, request.body, request.cone)
