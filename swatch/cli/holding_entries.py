"""What was checked of an edition, as the JSON objects of the public interface."""

from __future__ import annotations

from typing import Any

from swatch.cli.plan_entries import buttons_entry
from swatch.terms.holding import CheckAnswer, FiringChart, KilnPlace, LoadCheck, PieceCheck, Together
from swatch.wording.holding import direction_in_words, next_step_in_words
from swatch.wording.numbers import DE_DECIMALS, SHARE_DECIMALS, figure, lab_figures
from swatch.wording.problems import warning_entry


def check_entry(answer: CheckAnswer) -> dict[str, Any]:
    """``check --json``."""
    variance = answer.variance
    entry: dict[str, Any] = {
        "edition": answer.edition,
        "approved": answer.approved,
        "approved_firings": answer.approved_firings,
        "tolerance": figure(answer.tolerance, DE_DECIMALS),
        "loads": [_load(one) for one in answer.loads],
        "pieces": [_piece(one) for one in answer.pieces],
        "sets": [list(one) for one in answer.sets],
        "sets_de00": [figure(apart, DE_DECIMALS) for apart in answer.sets_de00],
        "held_back": list(answer.held_back),
        "variance": {
            "between_firings": _or_none(variance.between_firings),
            "between_shelves": _or_none(variance.between_shelves),
            "within": _or_none(variance.within),
            "measuring": _or_none(variance.measuring),
        },
        "kiln_sd_cones": _or_none(answer.kiln_sd_cones),
        "kiln_map": [_place(one) for one in answer.kiln_map],
        "charts": [_chart(one) for one in answer.charts],
        "next_load": None if answer.next_load is None else buttons_entry(answer.next_load),
        "warnings": [warning_entry(notice) for notice in answer.notices],
    }
    return entry


def _load(load: LoadCheck) -> dict[str, Any]:
    return {
        "firing": load.firing,
        "date": load.date,
        "pieces": load.pieces,
        "mean_de00": figure(load.mean_de00, DE_DECIMALS),
        "statistic": figure(load.statistic, DE_DECIMALS),
        "limit": figure(load.limit, DE_DECIMALS),
        "verdict": str(load.verdict),
        "alarms": list(load.alarms),
        "direction": direction_in_words(load.change),
        "change": lab_figures(load.change),
        "regions": [
            {
                "region": one.region,
                "approved": lab_figures(one.approved),
                "load": lab_figures(one.load),
                "de00": figure(one.de00, DE_DECIMALS),
                "de00_by_colours": _or_none(one.by_colours),
                "de00_by_colours_ordinarily": _or_none(one.by_colours_ordinarily),
            }
            for one in load.regions
        ],
        "likely_cause": [
            {
                "code": one.code,
                "amount": figure(one.amount, DE_DECIMALS),
                "unit": one.unit,
                "share": figure(one.share, SHARE_DECIMALS),
            }
            for one in load.causes
        ],
        "heat_cones": _or_none(load.heat_cones),
        "heat_from": load.heat_from,
        "sure_within": figure(load.sure_within, SHARE_DECIMALS),
        "tolerance_supported": figure(load.supported, DE_DECIMALS),
        "together": None if load.together is None else _together(load.together),
        "opens": list(load.opens),
        "opens_clay": list(load.opens_clay),
        "next_step": next_step_in_words(load),
        "missing": [warning_entry(notice) for notice in load.missing],
    }


def _together(one: Together) -> dict[str, Any]:
    return {
        "firings": list(one.firings),
        "statistic": figure(one.statistic, DE_DECIMALS),
        "limit": figure(one.limit, DE_DECIMALS),
        "drifted": one.drifted,
        "heat_cones": _or_none(one.heat_cones),
    }


def _piece(one: PieceCheck) -> dict[str, Any]:
    return {
        "piece": one.piece,
        "firing": one.firing,
        "shelf": one.shelf,
        "region": one.region,
        "de00": figure(one.de00, DE_DECIMALS),
        "statistic": figure(one.statistic, DE_DECIMALS),
        "limit": figure(one.limit, DE_DECIMALS),
        "verdict": str(one.verdict),
    }


def _place(one: KilnPlace) -> dict[str, Any]:
    return {
        "shelf": one.shelf,
        "pieces": one.pieces,
        "change": lab_figures(one.change),
        "de00": figure(one.de00, DE_DECIMALS),
        "heat_cones": _or_none(one.heat_cones),
    }


def _chart(one: FiringChart) -> dict[str, Any]:
    return {
        "name": one.name,
        "firings": list(one.firings),
        "points": [figure(point, DE_DECIMALS) for point in one.points],
        "middle": figure(one.middle, DE_DECIMALS),
        "lower": figure(one.lower, DE_DECIMALS),
        "upper": figure(one.upper, DE_DECIMALS),
    }


def _or_none(value: float | None) -> float | None:
    return None if value is None else figure(value, SHARE_DECIMALS)
