"""Suggestions and predictions as tables for people: the doubt beside every colour, cautions under the table."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from swatch.cli.out import Out
from swatch.terms.answers import Prediction, Suggestion
from swatch.terms.colour import Lab
from swatch.terms.layering import format_layers
from swatch.terms.problems import Notice
from swatch.wording.answers import chance_in_words, difference_in_words, evidence_in_words, range_in_words
from swatch.wording.numbers import number_in_words, with_doubt
from swatch.wording.problems import notice_in_words
from swatch.wording.surface import surface_in_words
from swatch.wording.text import _, say

LINE = 100
DOUBT_NOTE = _(
    "± is one standard uncertainty of the next tile fired, as measured: kiln and measuring scatter are in it."
)


class Suggesting:
    """Adds tables of suggestions, numbered through, and says once at the end what has to be said of them all."""

    def __init__(self, out: Out) -> None:
        self._out = out
        self._cautions: list[Sequence[Notice]] = []

    def table(self, target: Lab, suggestions: Sequence[Suggestion]) -> None:
        """Add one table, nearest first, and how its first row differs from the target."""
        first = len(self._cautions) + 1
        pieces = any(one.pieces_possible for one in suggestions)
        tolerance = number_in_words(suggestions[0].tolerance)
        header = [
            "",
            say(_("layers, body outward")),
            "L*",
            "a*",
            "b*",
            "ΔE00",
            say(_("80 % in")),
            say(_("within {tolerance}")).format(tolerance=tolerance),
            say(_("rests on")),
        ]
        rows = [_suggestion_row(number, one, pieces) for number, one in enumerate(suggestions, first)]
        self._out.table([*header, say(_("pieces"))] if pieces else header, rows, numbers=(0, 2, 3, 4, 5, 6, 7))
        self._out.line(f"{first}: {difference_in_words(suggestions[0].prediction.lab, target)}")
        self._cautions += [one.prediction.cautions for one in suggestions]

    def notes(self) -> None:
        """Say what the doubt is of, and each caution once."""
        if self._cautions:
            self._out.line(say(DOUBT_NOTE))
            say_cautions(self._out, self._cautions)


def _suggestion_row(number: int, one: Suggestion, pieces: bool) -> list[str]:
    row = [
        str(number),
        format_layers(one.prediction.question.layers),
        *_colour(one.prediction),
        number_in_words(one.de00_expected),
        range_in_words(*one.de00_80),
        chance_in_words(one.chance_within),
        evidence_in_words(one.prediction.grounds),
    ]
    if pieces:
        row.append("–".join(map(str, one.pieces_possible)) if one.pieces_possible else "?")
    return row


def say_predictions(out: Out, predictions: Sequence[tuple[int, Prediction]]) -> None:
    """Add a table of predictions, each with its number, and what has to be said with it."""
    header = [
        *("", say(_("layers, body outward")), say(_("body")), say(_("cone"))),
        *("L*", "a*", "b*", say(_("rests on"))),
    ]
    rows = [
        [
            str(number),
            format_layers(one.question.layers) or say(_("bare body")),
            one.question.body,
            str(one.question.cone),
            *_colour(one),
            evidence_in_words(one.grounds),
        ]
        for number, one in predictions
    ]
    out.table(header, rows, numbers=(0, 3, 4, 5, 6))
    out.line()
    out.line(say(DOUBT_NOTE))
    for number, one in predictions:
        if one.surface is not None:
            out.line(f"{number}: {surface_in_words(one.surface)}")
    say_cautions(out, [one.cautions for _number, one in predictions], [number for number, _one in predictions])


def say_cautions(out: Out, cautions: Sequence[Sequence[Notice]], numbers: Sequence[int] = ()) -> None:
    """Say each caution once, with the numbers of the rows it is for."""
    numbers = numbers or range(1, len(cautions) + 1)
    rows_of: dict[str, list[int]] = {}
    for number, of_row in zip(numbers, cautions, strict=True):
        for notice in of_row:
            rows = rows_of.setdefault(" ".join(filter(None, notice_in_words(notice))), [])
            if number not in rows:
                rows.append(number)
    for text, rows in rows_of.items():
        everywhere = len(rows) == len(cautions) and len(rows) > 1
        said = f"! {say(_('all')) if everywhere else _runs(rows)}: {text}"
        for line in textwrap.wrap(said, LINE, subsequent_indent="  ", break_long_words=False):
            out.line(line)


def _colour(prediction: Prediction) -> tuple[str, str, str]:
    lab, doubt = prediction.lab, prediction.covariance
    return with_doubt(lab.L, doubt.LL), with_doubt(lab.a, doubt.aa), with_doubt(lab.b, doubt.bb)


def _runs(numbers: Sequence[int]) -> str:
    """Write ``1, 3–5``."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(str(run[0]) if len(run) == 1 else f"{run[0]}–{run[-1]}" for run in runs)
