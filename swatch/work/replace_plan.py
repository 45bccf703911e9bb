"""Beside the stand-ins of each use: how long a material lasts, what to buy today, one stand-in for all uses."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from swatch.science.lasting import EIGHTY, EXTRA, Rate, need_of, pieces_from, pieces_to_start
from swatch.science.nearness import nearness
from swatch.science.optics import FloatArray
from swatch.science.search import rank
from swatch.terms.answers import MatchRequest, Question
from swatch.terms.colour import Covariance, Lab
from swatch.terms.editions import EditionRegion, PieceReading, Role, Tallied, Tally
from swatch.terms.layering import Layer, Layers, fold_name
from swatch.terms.materials import Material, Status
from swatch.terms.problems import Notice, StudioProblem
from swatch.terms.replacing import BridgeStep, EditionNeed, ReplacePlan, Sample, StandIn
from swatch.terms.report import Report
from swatch.work.cautions import Cautions, may_be_offered
from swatch.work.consumption import Consumption
from swatch.work.learn import Learnt
from swatch.work.looks import looks_beside
from swatch.work.match import answerable_materials, means_of, space_of
from swatch.work.predict import check_body, check_material
from swatch.work.studio_arrays import question_arrays

JAR_ML = 473.0
"""A US pint."""
DENSITY = 1.5
"""g/ml where a material's is not on record: between brush and dip (common practice, no source)."""
LOOKED_AT = 300
SHOWN = 5
MOST_SAMPLES = 6
MOST_COATS = 4


@dataclass(frozen=True)
class AtUse:
    """One use of the material: its layering, the colour to meet, and the regions of editions it is in."""

    question: Question
    lab: Lab
    covariance: Covariance
    regions: tuple[EditionRegion, ...]


def plan_of(
    known: Learnt,
    material: str,
    uses: Sequence[AtUse],
    pieces: Sequence[PieceReading],
    jar_ml: float,
    top: int,
    report: Report,
    counts: Sequence[Tally] = (),
) -> ReplacePlan:
    """Plan a material's end from its uses in editions, or from its main use where no edition has it."""
    stock = {fold_name(one.name): one for one in known.arrays.stock}
    jar = stock.get(fold_name(material), Material(material))
    in_editions = [use for use in uses if use.regions] or list(uses[:1])
    consumption = Consumption(known.weighings)
    needs = needs_of(consumption, material, in_editions, pieces, jar.left_g, counts)
    report(0, 2, "stand-ins")
    together = stand_ins(known, material, in_editions, top, report)
    report(1, 2, "stand-ins")
    best = together[0].worst_de00 if together else math.inf
    samples = samples_of(known, material, in_editions, best, report)
    losses = together[0].de00 if together else tuple(0.0 for _ in in_editions)
    advice = [Notice("half-and-half", {"material": material}), Notice("three-pieces-first", {})]
    if jar.left_g is None:
        advice.append(Notice("nothing-weighed", {"material": material}))
    return ReplacePlan(
        jar.left_g,
        needs,
        jars_to_buy(needs, jar, jar_ml),
        jar_ml,
        together,
        samples,
        bridge(consumption, material, in_editions, losses, needs, jar.left_g),
        tuple(advice),
    )


# How long it lasts, and what to buy


def needs_of(
    consumption: Consumption,
    material: str,
    uses: Sequence[AtUse],
    pieces: Sequence[PieceReading],
    left_g: float | None,
    counts: Sequence[Tally] = (),
) -> tuple[EditionNeed, ...]:
    """What each edition that uses the material still takes of it."""
    rate = consumption.rate(material)
    out = []
    for edition, regions in _editions(uses).items():
        planned = max((one.planned or 0 for one in regions), default=0)
        share = share_good(regions)
        to_make = max(planned - good_so_far(edition, pieces, counts), 0)
        start = pieces_to_start(to_make, share)
        area = sum((one.area_dm2 or 0.0) * coats_of(one.layers, material) for one in regions)
        if rate is None or not area:
            out.append(EditionNeed(edition, to_make, start, None, None, None))
            continue
        possible = None if left_g is None else pieces_from(left_g, Rate(*rate), area, share)
        # The upper end of a range that holds 80 % is not passed in 90 of 100.
        need = need_of(Rate(*rate), area, start)
        out.append(EditionNeed(edition, to_make, start, need, need[1], possible))
    return tuple(out)


def share_good(regions: Sequence[EditionRegion]) -> float:
    """Share of an edition's pieces that come out good; all where none is stated."""
    return min((one.yield_share for one in regions if one.yield_share), default=1.0)


def good_so_far(edition: str, pieces: Sequence[PieceReading], counts: Sequence[Tally] = ()) -> int:
    """Good pieces there are: as counted, else those that were measured and are no spares."""
    counted = [one.count for one in counts if _same(one.edition, edition) and one.what is Tallied.GOOD]
    if counted:
        return sum(counted)
    measured = {
        fold_name(one.piece) for one in pieces if _same(one.edition, edition) and one.role is not Role.SPARE
    }
    return len(measured)


def _same(one: str, other: str) -> bool:
    return fold_name(one) == fold_name(other)


def jars_to_buy(needs: Sequence[EditionNeed], jar: Material, jar_ml: float) -> int | None:
    """Jars to buy today so that all editions are finished with 90 % assurance; None where it cannot be said."""
    wanted = [one.need_90_g for one in needs]
    if not wanted or any(one is None for one in wanted) or jar.left_g is None:
        return None
    short = sum(one for one in wanted if one is not None) - jar.left_g
    return max(0, math.ceil(short / (jar_ml * (jar.density_g_per_ml or DENSITY))))


def _editions(uses: Sequence[AtUse]) -> dict[str, list[EditionRegion]]:
    found: dict[str, list[EditionRegion]] = {}
    for use in uses:
        for region in use.regions:
            found.setdefault(region.edition, []).append(region)
    return found


def coats_of(layers: Layers, material: str) -> float:
    """Coats of a material in a layering."""
    return sum(layer.coats for layer in layers if fold_name(layer.material) == fold_name(material))


def bridge(
    consumption: Consumption,
    material: str,
    uses: Sequence[AtUse],
    losses: Sequence[float],
    needs: Sequence[EditionNeed],
    left_g: float | None,
) -> tuple[BridgeStep, ...]:
    """Give what is left to the regions where the stand-in would show most, planning on the low end."""
    rate = consumption.rate(material)
    if rate is None or left_g is None:
        return ()
    starts = {fold_name(one.edition): one.pieces_to_start for one in needs}
    rows = [(loss, region) for use, loss in zip(uses, losses, strict=True) for region in use.regions]
    steps, left = [], left_g
    for loss, region in sorted(rows, key=lambda row: -row[0]):
        each = math.exp(rate[0] + EIGHTY * rate[1]) * (region.area_dm2 or 0.0) * coats_of(region.layers, material)
        each *= 1.0 + EXTRA
        wanted = starts.get(fold_name(region.edition), 0)
        count = min(wanted, math.floor(left / each)) if each else 0
        left -= count * each
        steps.append(BridgeStep(region.edition, region.region, loss, count, wanted, count * each))
    return tuple(steps)


# What could stand in for it


def stand_ins(
    known: Learnt, material: str, uses: Sequence[AtUse], top: int, report: Report, must: tuple[str, ...] = ()
) -> tuple[StandIn, ...]:
    """Layers from stock in place of a material, judged over all uses at once: by the worst of them.

    At each use everything that would then lie on the piece is looked at: labels of what is beneath it too, where
    food or mouth touches.
    """
    stock = {fold_name(one.name): one for one in known.arrays.stock}
    found = [
        one
        for one in _candidates(known, material, uses, report, must)
        if all(may_be_offered(_asked(use, material, one), _kinds(use), stock) for use in uses)
    ]
    if not found:
        return ()
    expected, chance, seen = [], [], []
    for use in uses:
        questions = [_asked(use, material, one) for one in found]
        said = known.fit.predict(*question_arrays(questions, known.arrays))
        fine = said.refused == 0
        target, doubt = np.array(use.lab, dtype=float), np.array(use.covariance.rows())
        off, within = np.full(len(found), np.inf), np.zeros(len(found))
        near = nearness(said.mean[fine], said.covariance[fine], target, doubt)
        off[fine], within[fine] = near.expected, near.within
        expected.append(off)
        chance.append(within)
        seen.append((questions, said))
    worst = np.max(expected, axis=0)
    looks = [looks_beside(known, use.question, asked) for use, (asked, _said) in zip(uses, seen, strict=True)]
    costs = np.array([[one.cost for one in of_use] for of_use in looks])
    weighed = np.max(np.array(expected) + costs, axis=0)
    out = []
    for i in _unlike(found, weighed, top):
        cautions = _cautions(known, [(questions[i], said, int(i)) for questions, said in seen])
        out.append(
            StandIn(
                found[i],
                float(worst[i]),
                tuple(float(off[i]) for off in expected),
                tuple(float(one[i]) for one in chance),
                (*_once(notice for of_use in looks for notice in of_use[i].notices), *cautions),
                float(weighed[i]),
            )
        )
    return tuple(out)


def _asked(use: AtUse, material: str, stand_in: Layers) -> Question:
    return Question(_swapped(use.question.layers, material, stand_in), use.question.body, use.question.cone)


def _kinds(use: AtUse) -> set[str]:
    return {str(one.region_kind) for one in use.regions if one.region_kind is not None}


def _once(notices: Iterable[Notice]) -> list[Notice]:
    """The first of each code."""
    return list({one.code: one for one in reversed(list(notices))}.values())[::-1]


def _unlike(found: Sequence[Layers], worst: FloatArray, top: int) -> list[int]:
    """The best, one for each set of materials."""
    chosen: list[int] = []
    sets: set[frozenset[str]] = set()
    for i in np.argsort(worst, kind="stable"):
        materials = frozenset(fold_name(layer.material) for layer in found[int(i)])
        if np.isfinite(worst[i]) and materials not in sets and len(chosen) < top:
            sets.add(materials)
            chosen.append(int(i))
    return chosen


def _cautions(known: Learnt, rows: Sequence[tuple[Question, object, int]]) -> tuple[Notice, ...]:
    from swatch.science.predicting import Predicted
    from swatch.work.predict import prediction_of

    found: list[Notice] = []
    cautions = Cautions(known)
    for question, said, row in rows:
        if not isinstance(said, Predicted):
            raise TypeError("cautions are of predictions")
        for notice in prediction_of(known, cautions, said, row, question).cautions:
            if notice not in found:
                found.append(notice)
    return tuple(found)


def _candidates(
    known: Learnt, material: str, uses: Sequence[AtUse], report: Report, must: tuple[str, ...]
) -> list[Layers]:
    """Layers that come near at the places where the material lies right on the body, or near any of the uses."""
    kinds = {str(r.region_kind) for use in uses for r in use.regions if r.region_kind is not None}
    bare = [use for use in uses if len(use.question.layers) == 1] or list(uses)
    names = known.arrays.materials.names
    found: dict[Layers, None] = {}
    for use in bare:
        wanted = MatchRequest(
            use.lab,
            use.question.body,
            use.question.cone,
            regions=tuple(sorted(kinds)),
            leave_out=(material,),
            must_use=must,
            max_layers=2 if must else 3,
            max_coats=MOST_COATS,
        )
        body = check_body(known, use.question.body)
        means = means_of(known, space_of(known, wanted), body, use.question.cone.position, report)
        if not means.searched:
            continue
        doubt = np.array(use.covariance.rows())
        ranked = rank(
            known.fit, means, np.array(use.lab, dtype=float), target_covariance=doubt, top=LOOKED_AT // len(bare)
        )
        for row, coats in zip(ranked.material, ranked.coats, strict=True):
            layers = tuple(Layer(names[int(m)], float(c)) for m, c in zip(row, coats, strict=True) if m >= 0)
            found[layers] = None
    return list(found)


def _swapped(layers: Layers, material: str, stand_in: Layers) -> Layers:
    """The layers with others in place of a material, what touches its like joined."""
    out: list[Layer] = []
    for layer in layers:
        for one in stand_in if fold_name(layer.material) == fold_name(material) else (layer,):
            if out and fold_name(out[-1].material) == fold_name(one.material) and out[-1].wiped == one.wiped:
                out[-1] = replace(out[-1], coats=min(out[-1].coats + one.coats, 20.0))
            else:
                out.append(one)
    return tuple(out)


def samples_of(
    known: Learnt, material: str, uses: Sequence[AtUse], best: float, report: Report
) -> tuple[Sample, ...]:
    """Materials not in stock, known from a chart or a tile, that would come nearer than all that is in stock."""
    known_at_all = answerable_materials(known)
    gone = check_material(known, material)
    out: list[Sample] = []
    for i, one in enumerate(known.arrays.stock):
        missing = one.status is Status.USED_UP or one.left_g == 0
        if i == gone or not missing or not known_at_all[i] or len(out) >= MOST_SAMPLES:
            continue
        try:
            found = stand_ins(known, material, uses, 1, report, (one.name,))
        except StudioProblem as problem:
            if problem.code != "nothing-to-search":
                raise
            continue
        if found and found[0].worst_de00 < best:
            nearer = best - found[0].worst_de00 if math.isfinite(best) else 0.0
            out.append(Sample(one.name, found[0].layers, found[0].worst_de00, nearer))
    return tuple(sorted(out, key=lambda one: one.worst_de00))
