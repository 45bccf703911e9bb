"""What an edition takes of its materials, and its next buttons, as JSON objects of the public interface."""

from __future__ import annotations

from typing import Any

from swatch.terms.buttons import ButtonPlan
from swatch.terms.layering import format_layers
from swatch.terms.material_plan import BridgeTile, MaterialNeed, MaterialPlan, RateTold
from swatch.terms.materials import Jar
from swatch.wording.material_plan import banner_in_words
from swatch.wording.numbers import DE_DECIMALS, SHARE_DECIMALS, figure
from swatch.wording.problems import warning_entry

_GRAMS, _RATE, _PACE = 0, 3, 2


def material_plan_entry(plan: MaterialPlan) -> dict[str, Any]:
    """``edition --json``."""
    return {
        "edition": plan.edition,
        "on": plan.on,
        "planned": plan.planned,
        "yield": None if plan.share_good is None else figure(plan.share_good, SHARE_DECIMALS),
        "made": plan.made,
        "fired": plan.fired,
        "good": plan.good,
        "sold": plan.sold,
        "pieces_to_make": plan.pieces_to_make,
        "pieces_to_start": plan.pieces_to_start,
        "pieces_a_week": None if plan.pace is None else figure(7 * plan.pace.a_day, _PACE),
        "pace_from": None if plan.pace is None else plan.pace.told_by,
        "materials": [_need(one) for one in plan.materials],
        "new_lots": [_bridge(one) for one in plan.bridges],
        "warnings": [warning_entry(notice) for notice in plan.notices],
    }


def buttons_entry(plan: ButtonPlan) -> dict[str, Any]:
    """``buttons --json``."""
    return {
        "edition": plan.edition,
        "firing": plan.firing,
        "body": plan.body,
        "cone": plan.cone,
        "stripes": [
            {
                "stripe": one.stripe,
                "layers": format_layers(one.layers),
                "covered": one.covered,
                "de_per_cone": None if one.change_de is None else figure(one.change_de, DE_DECIMALS),
            }
            for one in plan.stripes
        ],
        "buttons": [{"mark": one.mark, "shelf": one.shelf} for one in plan.buttons],
        "kept": plan.kept,
        "kept_known": plan.kept_known,
        "as_before": plan.as_before,
        "sd_cones": None if plan.sd_cones is None else figure(plan.sd_cones, SHARE_DECIMALS),
        "approved": plan.approved or None,
        "pieces_a_shelf": plan.pieces,
        "warnings": [warning_entry(notice) for notice in plan.notices],
    }


def _need(one: MaterialNeed) -> dict[str, Any]:
    return {
        "material": one.material,
        "dm2_coats": figure(one.dm2_coats, _PACE),
        "rate": None if one.rate is None else _rate(one.rate),
        "need_g": _range(one.need_g),
        "others_need_g": _range(one.others_need_g),
        "left_g": None if one.left_g is None else figure(one.left_g, _GRAMS),
        "locked_g": figure(one.locked_g, _GRAMS),
        "jars": [_jar(jar) for jar in one.jars],
        "short_g": _range(one.short_g),
        "pieces_possible": None if one.pieces_possible is None else list(one.pieces_possible),
        "runs_out": None if one.runs_out is None else one.runs_out[0],
        "runs_out_late": None if one.runs_out is None else one.runs_out[1],
        "order_by": one.order_by,
        "lead_days": one.lead_days,
        "jars_to_buy": one.jars_to_buy,
        "warnings": [warning_entry(notice) for notice in one.notices],
    }


def _rate(rate: RateTold) -> dict[str, Any]:
    return {
        "g_per_dm2_coat": [figure(end, _RATE) for end in rate.grams],
        "ml_per_dm2_coat": None if rate.ml is None else [figure(end, _RATE) for end in rate.ml],
        "method": rate.method,
        "weighings": rate.weighings,
        "borrowed": rate.borrowed,
        "loss": rate.loss,
    }


def _jar(jar: Jar) -> dict[str, Any]:
    return {
        "jar": jar.jar,
        "lot": jar.lot,
        "left_g": None if jar.left_g is None else figure(jar.left_g, _GRAMS),
        "opened": jar.opened,
        "locked": jar.locked,
    }


def _bridge(tile: BridgeTile) -> dict[str, Any]:
    return {
        "material": tile.material,
        "old_lot": tile.old_lot,
        "new_lot": tile.new_lot,
        "opened": tile.opened,
        "region": tile.region,
        "layers": format_layers(tile.layers),
        "message": banner_in_words(tile),
    }


def _range(ends: tuple[float, float] | None) -> list[float] | None:
    return None if ends is None else [figure(end, _GRAMS) for end in ends]
