"""What to fire next and what a material's end asks for, as the JSON objects of the public interface."""

from __future__ import annotations

from typing import Any

from swatch.cli.entries import prediction_entry
from swatch.terms.layering import format_layers
from swatch.terms.next_tests import NextAnswer
from swatch.terms.replacing import EditionNeed, ReplacePlan
from swatch.wording.next_tests import why_in_words
from swatch.wording.numbers import DE_DECIMALS, SHARE_DECIMALS, figure, lab_figures
from swatch.wording.problems import caution_entry

_SECOND_DECIMALS = 2
GRAM_DECIMALS = 0


def next_tests_entry(answer: NextAnswer, *, planned: bool) -> dict[str, Any]:
    """``next-tests --json``."""
    request = answer.request
    return {
        "target": lab_figures(request.target) if request.target is not None else None,
        "replaces": request.replaces or None,
        "material": request.material or None,
        "tiles": [
            {
                "tile": one.tile,
                "beside": format_layers(one.beside) or None,
                **prediction_entry(one.prediction),
                "why": one.why,
                "why_in_words": why_in_words(one.why),
                "chance_within": _share(one.chance_within),
                "information": figure(one.information, SHARE_DECIMALS),
            }
            for one in answer.tests
        ],
        "tolerance": figure(request.tolerance, DE_DECIMALS),
        "chance_any": _share(answer.chance_any),
        "best_expected": None if answer.best_expected is None else figure(answer.best_expected, DE_DECIMALS),
        "doubt_left": _share(answer.doubt_left),
        "boards": [
            {
                "name": board.name,
                "body": board.body,
                "cone": str(board.cone),
                "planned": planned,
                "tiles": [one.tile for one in board.tiles],
            }
            for board in answer.boards
        ],
        "advice": [caution_entry(notice) for notice in answer.advice],
        "seconds": figure(answer.seconds, _SECOND_DECIMALS),
        "learnt_from": answer.learnt_from,
    }


def plan_entry(plan: ReplacePlan) -> dict[str, Any]:
    """What ``replace --json`` tells beside the uses."""
    return {
        "left_g": None if plan.left_g is None else figure(plan.left_g, GRAM_DECIMALS),
        "needs": [_need(one) for one in plan.needs],
        "jars_to_buy": plan.jars,
        "jar_ml": figure(plan.jar_ml, GRAM_DECIMALS),
        "together": [
            {
                "layers": format_layers(one.layers),
                "worst_de00": figure(one.worst_de00, DE_DECIMALS),
                "weighed_de00": figure(one.weighed, DE_DECIMALS),
                "de00_expected": [figure(off, DE_DECIMALS) for off in one.de00],
                "chance_within": [figure(chance, SHARE_DECIMALS) for chance in one.chances],
                "cautions": [caution_entry(notice) for notice in one.cautions],
            }
            for one in plan.together
        ],
        "samples": [
            {
                "material": one.material,
                "layers": format_layers(one.layers),
                "worst_de00": figure(one.worst_de00, DE_DECIMALS),
                "nearer_by": figure(one.nearer_by, DE_DECIMALS),
            }
            for one in plan.samples
        ],
        "bridge": [
            {
                "edition": one.edition,
                "region": one.region,
                "loss_de00": figure(one.loss_de00, DE_DECIMALS),
                "pieces": one.pieces,
                "of_pieces": one.of_pieces,
                "grams": figure(one.grams, GRAM_DECIMALS),
            }
            for one in plan.bridge
        ],
        "advice": [caution_entry(notice) for notice in plan.advice],
    }


def _need(one: EditionNeed) -> dict[str, Any]:
    return {
        "edition": one.edition,
        "pieces_to_make": one.pieces_to_make,
        "pieces_to_start": one.pieces_to_start,
        "need_g": None if one.need_g is None else [figure(end, GRAM_DECIMALS) for end in one.need_g],
        "need_90_g": None if one.need_90_g is None else figure(one.need_90_g, GRAM_DECIMALS),
        "pieces_possible": None if one.pieces_possible is None else list(one.pieces_possible),
    }


def _share(value: float | None) -> float | None:
    return None if value is None else figure(value, SHARE_DECIMALS)
