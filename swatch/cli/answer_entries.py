"""What to fire next and what a material's end asks for, as the JSON objects of the public interface."""

from __future__ import annotations

from typing import Any

from swatch.cli.entries import prediction_entry
from swatch.terms.next_tests import NextAnswer
from swatch.wording.next_tests import why_in_words
from swatch.wording.numbers import DE_DECIMALS, SHARE_DECIMALS, figure, lab_figures
from swatch.wording.problems import caution_entry

_SECOND_DECIMALS = 2


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


def _share(value: float | None) -> float | None:
    return None if value is None else figure(value, SHARE_DECIMALS)
