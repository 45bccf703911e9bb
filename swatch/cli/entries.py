"""The terms' values as the JSON objects of the public interface."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from swatch.terms.answers import (
    Footing,
    MatchAnswer,
    Outlier,
    Prediction,
    Question,
    Refusal,
    ReplaceAnswer,
    Suggestion,
    Surface,
    TrustAnswer,
    TrustLine,
)
from swatch.terms.layering import format_layers
from swatch.terms.measured import CardRead, Comparison, MergedRead, PhotoRead, PieceSeen, ZoneRead
from swatch.terms.sheet import SheetSeen
from swatch.wording.numbers import (
    DE_DECIMALS,
    SHARE_DECIMALS,
    covariance_figures,
    figure,
    lab_figures,
)
from swatch.wording.problems import caution_entry, notice_in_words, warning_entry
from swatch.wording.trust import outlier_in_words

_PIXEL_DECIMALS = 1
_SECOND_DECIMALS = 2
_TILE_DECIMALS = 1


def photo_entry(read: PhotoRead) -> dict[str, Any]:
    """One photo of ``measure --json``."""
    entry = {
        "photo": read.photo,
        "size": list(read.size),
        "verdict": str(read.verdict),
        "card": _card(read.card) if read.card else None,
        "zones": [_zone(zone) for zone in read.zones],
        "warnings": [warning_entry(notice) for notice in read.warnings],
    }
    if read.comparisons:
        entry["comparisons"] = [_comparison(one) for one in read.comparisons]
    if read.pieces:
        entry["pieces"] = [_piece(one) for one in read.pieces]
    return entry if read.sheet is None else entry | {"sheet": _sheet(read.sheet)}


def _piece(one: PieceSeen) -> dict[str, Any]:
    return {
        "piece": one.piece,
        "outline": [[round(x, _PIXEL_DECIMALS), round(y, _PIXEL_DECIMALS)] for x, y in one.outline],
        "alike": None if one.alike is None else figure(one.alike, SHARE_DECIMALS),
        "beside_card": one.beside_card,
    }


def merged_entry(merged: MergedRead) -> dict[str, Any]:
    """What ``measure --merge --json`` adds: the zones of all photos together."""
    entry = {
        "photos": list(merged.photos),
        "zones": [_zone(zone) for zone in merged.zones],
        "warnings": [warning_entry(notice) for notice in merged.warnings],
    }
    return entry | (
        {"comparisons": [_comparison(one) for one in merged.comparisons]} if merged.comparisons else {}
    )


def prediction_entry(prediction: Prediction) -> dict[str, Any]:
    """One prediction: a suggestion's fields without those that speak of a target."""
    grounds = prediction.grounds
    return {
        "layers": format_layers(prediction.question.layers),
        "body": prediction.question.body,
        "cone": str(prediction.question.cone),
        "lab": lab_figures(prediction.lab),
        "covariance": covariance_figures(prediction.covariance),
        "evidence": {
            "same_layering": grounds.same_layering,
            "same_materials": grounds.same_materials,
            "basis": str(grounds.basis),
        },
        "cautions": [caution_entry(notice) for notice in prediction.cautions],
        **({} if prediction.surface is None else {"surface": _surface(prediction.surface)}),
        **({} if prediction.why is None else {"why": _why(prediction.why)}),
    }


def _surface(surface: Surface) -> dict[str, Any]:
    return {
        "tiles": figure(surface.tiles, _TILE_DECIMALS),
        "sheen": {str(sheen): figure(chance, SHARE_DECIMALS) for sheen, chance in surface.sheen},
        "faults": {fault: figure(chance, SHARE_DECIMALS) for fault, chance in surface.faults},
    }


def _why(why: Footing) -> dict[str, Any]:
    return {
        "tiles": [
            {
                "tile": one.tile,
                "zone": one.zone,
                "layers": format_layers(one.layers),
                "lab": lab_figures(one.lab),
                "pull": figure(one.pull, SHARE_DECIMALS),
                "without_de00": figure(one.without_de00, DE_DECIMALS),
            }
            for one in why.tiles
        ],
        "covariance_after_one_more": covariance_figures(why.after_one_more),
    }


def refusal_entry(refusal: Refusal) -> dict[str, Any]:
    """A question of a list that cannot be answered."""
    message, next_step = notice_in_words(refusal.reason)
    return {**question_entry(refusal.question), "lab": None, "refusal": f"{message} {next_step}".strip()}


def question_entry(question: Question) -> dict[str, Any]:
    """What was asked."""
    return {
        "layers": format_layers(question.layers),
        "body": question.body,
        "cone": str(question.cone),
    }


def suggestion_entry(suggestion: Suggestion) -> dict[str, Any]:
    """One suggestion of ``match --json`` and ``replace --json``."""
    entry = prediction_entry(suggestion.prediction)
    evidence, cautions = entry.pop("evidence"), entry.pop("cautions")
    del entry["body"], entry["cone"]
    return entry | {
        "de00_expected": figure(suggestion.de00_expected, DE_DECIMALS),
        "de00_80": [figure(end, DE_DECIMALS) for end in suggestion.de00_80],
        "chance_within": figure(suggestion.chance_within, SHARE_DECIMALS),
        "tolerance": figure(suggestion.tolerance, DE_DECIMALS),
        "evidence": evidence,
        "pieces_possible": list(suggestion.pieces_possible) if suggestion.pieces_possible else None,
        "cautions": cautions,
    }


def match_entry(answer: MatchAnswer) -> dict[str, Any]:
    """``match --json``."""
    nearest = answer.nearest_reachable_de00
    return {
        "target": lab_figures(answer.request.target),
        "body": answer.request.body,
        "cone": str(answer.request.cone),
        "suggestions": _suggestions(answer.suggestions),
        "reachable": answer.reachable,
        "nearest_reachable_de00": None if nearest is None else figure(nearest, DE_DECIMALS),
        **_reach(answer),
        "searched": answer.searched,
        "seconds": figure(answer.seconds, _SECOND_DECIMALS),
        "learnt_from": answer.learnt_from,
    }


def _reach(answer: MatchAnswer) -> dict[str, Any]:
    """Whether the target is within reach, and how near, where it was worked out."""
    if answer.reach is None or answer.reach_chance is None:
        return {}
    near = answer.nearest_80
    return {
        "reach": str(answer.reach),
        "reach_chance": figure(answer.reach_chance, SHARE_DECIMALS),
        "nearest_80": None if near is None else [figure(end, DE_DECIMALS) for end in near],
    }


def replace_entry(answer: ReplaceAnswer) -> dict[str, Any]:
    """``replace --json``."""
    return {
        "material": answer.material,
        "uses": [
            {
                **question_entry(use.question),
                "lab": lab_figures(use.lab),
                "measured": use.measured,
                "suggestions": _suggestions(use.suggestions),
            }
            for use in answer.uses
        ],
        "searched": answer.searched,
        "seconds": figure(answer.seconds, _SECOND_DECIMALS),
        "learnt_from": answer.learnt_from,
    }


def trust_entry(answer: TrustAnswer) -> dict[str, Any]:
    """``trust --json``."""
    return {
        "learnt_from": answer.learnt_from,
        "questions": [_trust_line(line) for line in answer.questions],
        "outliers": [_outlier(outlier) for outlier in answer.outliers],
        "curve": [
            {
                "question": one.question,
                "stated": figure(one.stated, SHARE_DECIMALS),
                "held": figure(one.held, SHARE_DECIMALS),
            }
            for one in answer.curve
        ],
        "pairs": [
            {
                "question": one.question,
                "tile": one.tile,
                "zone": one.zone,
                "said": lab_figures(one.said),
                "fired": lab_figures(one.fired),
                "de00": figure(one.de00, DE_DECIMALS),
            }
            for one in answer.pairs
        ],
    }


def _suggestions(suggestions: Sequence[Suggestion]) -> list[dict[str, Any]]:
    return [suggestion_entry(suggestion) for suggestion in suggestions]


def _card(card: CardRead) -> dict[str, Any]:
    return {
        "name": card.name,
        "corners": [[figure(part, _PIXEL_DECIMALS) for part in corner] for corner in card.corners],
        "score": figure(card.score, SHARE_DECIMALS),
        "left_out_de00": {
            "median": figure(card.left_out_median, DE_DECIMALS),
            "p95": figure(card.left_out_p95, DE_DECIMALS),
            "max": figure(card.left_out_max, DE_DECIMALS),
        },
        "patches": [
            {
                "patch": patch.patch,
                "reference": lab_figures(patch.reference),
                "read": lab_figures(patch.read),
                "left_out_de00": figure(patch.left_out_de00, DE_DECIMALS),
            }
            for patch in card.patches
        ],
    }


def _sheet(seen: SheetSeen) -> dict[str, Any]:
    """The photo sheet, where the zones are its slots."""
    code = seen.code
    return {
        "paper": str(code.paper),
        "sheet": code.sheet,
        "slots": code.slots,
        "split": str(code.split),
        "empty": list(seen.empty),
    }


def _zone(zone: ZoneRead) -> dict[str, Any]:
    return {
        "zone": zone.zone,
        "lab": lab_figures(zone.lab),
        "covariance": covariance_figures(zone.covariance),
        "u95_de00": figure(zone.u95_de00, DE_DECIMALS),
        "variation_de00": figure(zone.variation_de00, DE_DECIMALS),
        "used_share": figure(zone.used_share, SHARE_DECIMALS),
        "colours": [
            {"lab": lab_figures(one.lab), "share": figure(one.share, SHARE_DECIMALS)} for one in zone.colours
        ],
        "warnings": [warning_entry(notice) for notice in zone.warnings],
    }


def _comparison(one: Comparison) -> dict[str, Any]:
    """Two zones of one photo: the first minus the second."""
    return {
        "zones": list(one.zones),
        "difference": lab_figures(one.difference),
        "covariance": covariance_figures(one.covariance),
        "de00": figure(one.de00, DE_DECIMALS),
        "de00_95": [figure(end, DE_DECIMALS) for end in one.de00_95],
        "u95_de00": figure(one.u95_de00, DE_DECIMALS),
        "told_apart": one.told_apart,
    } | ({} if one.by_colours_de00 is None else {"by_colours_de00": figure(one.by_colours_de00, DE_DECIMALS)})


def _trust_line(line: TrustLine) -> dict[str, Any]:
    return {
        "question": line.question,
        "n": line.n,
        "median_de00": figure(line.median_de00, DE_DECIMALS),
        "p90_de00": figure(line.p90_de00, DE_DECIMALS),
        "nearest_tile_median": figure(line.nearest_tile_median, DE_DECIMALS),
        "mean_shift_median": figure(line.mean_shift_median, DE_DECIMALS),
        "likeness_median": figure(line.likeness_median, DE_DECIMALS),
        "covers_80": figure(line.covers_80, SHARE_DECIMALS),
        "covers_95": figure(line.covers_95, SHARE_DECIMALS),
    }


def _outlier(outlier: Outlier) -> dict[str, Any]:
    return {
        "tile": outlier.tile,
        "zone": outlier.zone,
        "de00": figure(outlier.de00, DE_DECIMALS),
        "message": outlier_in_words(outlier),
    }
