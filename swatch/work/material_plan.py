"""Does the material last to the last piece? An edition's need against what is left, by jar and lot."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from swatch.library.studio import Studio
from swatch.science.lasting import days_left, need_of, pace_of, pieces_from, pieces_to_start
from swatch.terms.editions import EditionRegion, PieceReading, Tallied, Tally, Weighing
from swatch.terms.evidence import Evidence
from swatch.terms.layering import fold_name
from swatch.terms.material_plan import MaterialNeed, MaterialPlan, Pace, PlanRequest, RateTold
from swatch.terms.materials import Firing, Jar, Material, Status
from swatch.terms.problems import Notice
from swatch.terms.problems.holding import unknown_edition
from swatch.terms.report import Report, silent
from swatch.work.bridges import bridges_of
from swatch.work.consumption import Consumption, Told
from swatch.work.replace_plan import DENSITY, coats_of, good_so_far, share_good

LATEST = 6
"""Firings that the present pace is taken from."""
LEAD_DAYS = 14
"""From ordering to having it, where a material states nothing (common practice, no source)."""
SPRAYED = "sprayed"


@dataclass(frozen=True)
class Stock:
    """Everything that a plan is made from."""

    regions: tuple[EditionRegion, ...]
    pieces: tuple[PieceReading, ...]
    counts: tuple[Tally, ...]
    jars: tuple[Jar, ...]
    weighings: tuple[Weighing, ...]
    evidence: Evidence


def stock_of(studio: Studio) -> Stock:
    """Read it from an open studio."""
    return Stock(
        studio.editions(),
        studio.pieces(),
        studio.tallies(),
        studio.jars(),
        studio.weighings(),
        studio.evidence(),
    )


def material_plan(folder: Path, request: PlanRequest, report: Report = silent) -> MaterialPlan:
    """Plan the material of an edition to its last piece.

    Raises
    ------
    StudioProblem
        ``unknown-edition``, or the studio cannot be read.
    """
    report(0, 1, "materials")
    with Studio.look(folder) as studio:
        stock = stock_of(studio)
    return planned_from(stock, request)


def material_plan_job(asked: dict[str, Any], report: Report) -> MaterialPlan:
    """Plan in a worker."""
    return material_plan(Path(asked["folder"]), asked["request"], report)


def planned_from(stock: Stock, request: PlanRequest) -> MaterialPlan:
    """Plan from what was read."""
    mine = [one for one in stock.regions if _same(one.edition, request.edition)]
    if not mine:
        known = ", ".join(dict.fromkeys(one.edition for one in stock.regions)) or "–"
        raise unknown_edition(request.edition, known)
    edition = mine[0].edition
    pace = _pace(edition, stock)
    planner = _Planner(stock, request, edition, mine, pace)
    planned = max((one.planned or 0 for one in mine), default=0) or None
    counted = {what: _counted(stock.counts, edition, what) for what in Tallied}
    return MaterialPlan(
        edition=edition,
        on=request.on,
        planned=planned,
        share_good=next((one.yield_share for one in mine if one.yield_share), None),
        made=counted[Tallied.MADE],
        fired=counted[Tallied.FIRED],
        good=good_so_far(edition, stock.pieces, stock.counts),
        sold=counted[Tallied.SOLD],
        pieces_to_make=planner.to_make(edition),
        pieces_to_start=planner.to_start(edition),
        pace=pace,
        materials=tuple(planner.material(name) for name in _materials_of(mine)),
        bridges=bridges_of(mine, stock.jars, stock.weighings, stock.pieces, stock.evidence),
        notices=_notices(mine, planned, pace, counted[Tallied.GOOD]),
        jar_ml=request.jar_ml,
    )


class _Planner:
    """The materials of one edition, each with what the other editions take of it."""

    def __init__(
        self, stock: Stock, request: PlanRequest, edition: str, mine: list[EditionRegion], pace: Pace | None
    ) -> None:
        self._stock, self._request, self._edition, self._mine, self._pace = stock, request, edition, mine, pace
        self._consumption = Consumption(stock.weighings)
        self._materials = {fold_name(one.name): one for one in stock.evidence.materials}

    def to_make(self, edition: str) -> int:
        """Good pieces that are still planned."""
        planned = max((one.planned or 0 for one in self._of(edition)), default=0)
        return max(planned - good_so_far(edition, self._stock.pieces, self._stock.counts), 0)

    def to_start(self, edition: str) -> int:
        """Pieces to begin so that they come out with 90 % assurance, less those begun and not yet fired."""
        return pieces_to_start(self.to_make(edition), share_good(self._of(edition)))

    def material(self, name: str) -> MaterialNeed:
        """Plan one material."""
        stock = self._materials.get(fold_name(name), Material(name))
        told = self._consumption.told(name)
        each = self._each(self._edition, name)
        jars = tuple(one for one in self._stock.jars if _same(one.material, name))
        notices = self._said(stock, told, each)
        rate = None if told is None else _rate(told, stock)
        need = others = short = None
        possible, runs_out, order_by, buy = None, None, None, None
        if told is not None and each > 0:
            need = need_of(told.rate, each, self.to_start(self._edition))
            others = self._others(name, told)
            if stock.left_g is not None:
                possible = pieces_from(stock.left_g, told.rate, each, share_good(self._mine))
                all_of_it = (need[0] + others[0], need[1] + others[1])
                short = (max(all_of_it[0] - stock.left_g, 0.0), max(all_of_it[1] - stock.left_g, 0.0))
                buy = math.ceil(short[1] / (self._request.jar_ml * (stock.density_g_per_ml or DENSITY)))
                if short[1] > 0:
                    runs_out = self._runs_out(stock.left_g, name, told)
                    order_by, more = self._order_by(stock, runs_out)
                    notices += more
        notices += self._lock(stock, jars, short)
        return MaterialNeed(
            stock.name, each, rate, need, others, stock.left_g, stock.locked_g, jars, short, possible, runs_out,
            order_by, stock.lead_days, buy, notices,
        )  # fmt: skip

    def _of(self, edition: str) -> list[EditionRegion]:
        return [one for one in self._stock.regions if _same(one.edition, edition)]

    def _each(self, edition: str, material: str) -> float:
        return sum((one.area_dm2 or 0.0) * coats_of(one.layers, material) for one in self._of(edition))

    def _others(self, material: str, told: Told) -> tuple[float, float]:
        low = high = 0.0
        for other in dict.fromkeys(one.edition for one in self._stock.regions):
            each = self._each(other, material)
            if not _same(other, self._edition) and each > 0:
                need = need_of(told.rate, each, self.to_start(other))
                low, high = low + need[0], high + need[1]
        return low, high

    def _runs_out(self, left_g: float, material: str, told: Told) -> tuple[str, str] | None:
        """When it is used up if all editions go on as they did last."""
        low = high = 0.0
        for other in dict.fromkeys(one.edition for one in self._stock.regions):
            each = self._each(other, material)
            pace = self._pace if _same(other, self._edition) else _pace(other, self._stock)
            if each > 0 and pace is not None and self.to_make(other):
                ends = need_of(told.rate, each, 1)
                low, high = low + pace.a_day * ends[0], high + pace.a_day * ends[1]
        days = days_left(left_g, (low, high))
        if days is None:
            return None
        start = date.fromisoformat(self._request.on)
        early, late = ((start + timedelta(days=min(math.floor(end), 36500))).isoformat() for end in days)
        return early, late

    def _order_by(
        self, stock: Material, runs_out: tuple[str, str] | None
    ) -> tuple[str | None, tuple[Notice, ...]]:
        if stock.status is not Status.IN_STOCK:
            return None, (Notice("cannot-be-bought", {"material": stock.name}),)
        if runs_out is None:
            return None, ()
        lead = LEAD_DAYS if stock.lead_days is None else stock.lead_days
        by = (date.fromisoformat(runs_out[0]) - timedelta(days=lead)).isoformat()
        found = [] if stock.lead_days is not None else [Notice("lead-time-usual", {"days": LEAD_DAYS})]
        if by <= self._request.on:
            found.append(Notice("order-now", {"material": stock.name}))
        return by, tuple(found)

    def _said(self, stock: Material, told: Told | None, each: float) -> tuple[Notice, ...]:
        """What the figures lack."""
        facts = {"material": stock.name}
        found = []
        if told is None:
            found.append(Notice("weigh-first", facts))
        elif told.borrowed:
            found.append(Notice("weighed-others-only", {**facts, "n": told.weighings}))
        elif told.loss == "usual" and told.method == SPRAYED:
            found.append(Notice("overspray-not-weighed", facts))
        elif told.weighings < 3:
            found.append(Notice("weigh-again", {**facts, "n": told.weighings}))
        if stock.left_g is None:
            found.append(Notice("left-not-counted", facts))
        if each <= 0:
            found.append(Notice("area-not-known", facts))
        return tuple(found)

    @staticmethod
    def _lock(stock: Material, jars: Sequence[Jar], short: tuple[float, float] | None) -> tuple[Notice, ...]:
        """Propose to keep the last jar for this edition where others could take it."""
        full = [one for one in jars if one.left_g]
        free = [one for one in full if not one.locked]
        scarce = stock.status is not Status.IN_STOCK or (short is not None and short[1] > 0)
        if scarce and len(free) == 1 and free[0].left_g is not None:
            return (Notice("lock-last-jar", {"material": stock.name, "grams": round(free[0].left_g)}),)
        return ()


def _rate(told: Told, stock: Material) -> RateTold:
    grams = told.rate.grams(1.0)
    density = stock.density_g_per_ml
    ml = None if density is None else (grams[0] / density, grams[1] / density, grams[2] / density)
    return RateTold(grams, ml, told.method, told.weighings, told.borrowed, told.loss)


def _materials_of(regions: Sequence[EditionRegion]) -> list[str]:
    names: dict[str, str] = {}
    for region in regions:
        for layer in region.layers:
            names.setdefault(fold_name(layer.material), layer.material)
    return list(names.values())


def _pace(edition: str, stock: Stock) -> Pace | None:
    """The present pace: by what was counted as fired, else by the measured pieces of dated firings."""
    counted: dict[str, int] = {}
    for one in stock.counts:
        if _same(one.edition, edition) and one.what is Tallied.FIRED:
            counted[one.at] = counted.get(one.at, 0) + one.count
    if found := _pace_of(counted):
        return Pace(*found, "counts")
    dates = _dates(stock.evidence.firings)
    measured: dict[str, set[str]] = {}
    for piece in stock.pieces:
        day = dates.get(fold_name(piece.firing or ""))
        if _same(piece.edition, edition) and day is not None:
            measured.setdefault(day, set()).add(fold_name(piece.piece))
    if found := _pace_of({day: len(names) for day, names in measured.items()}):
        return Pace(*found, "measured")
    return None


def _pace_of(by_day: dict[str, int]) -> tuple[float, int] | None:
    days = sorted(by_day)[-LATEST:]
    pace = pace_of([float(date.fromisoformat(day).toordinal()) for day in days], [by_day[day] for day in days])
    return None if pace is None else (pace, len(days))


def _dates(firings: Sequence[Firing]) -> dict[str, str]:
    return {fold_name(one.name): one.date for one in firings if one.date}


def _counted(counts: Sequence[Tally], edition: str, what: Tallied) -> int | None:
    found = [one.count for one in counts if _same(one.edition, edition) and one.what is what]
    return sum(found) if found else None


def _notices(
    regions: Sequence[EditionRegion], planned: int | None, pace: Pace | None, good: int | None
) -> tuple[Notice, ...]:
    found = []
    if planned is None:
        found.append(Notice("nothing-planned"))
    if good is None:
        found.append(Notice("good-by-measured"))
    if pace is None:
        found.append(Notice("pace-not-known"))
    elif pace.told_by == "measured":
        found.append(Notice("pace-by-measured"))
    lacking = [one.region for one in regions if one.layers and not one.area_dm2]
    if lacking:
        found.append(Notice("regions-without-area", {"regions": ", ".join(lacking)}))
    return tuple(found)


def _same(one: str, other: str) -> bool:
    return fold_name(one) == fold_name(other)
