"""Problems, warnings and cautions, by code, into a sentence and the next step."""

from __future__ import annotations

import importlib
import string
from collections.abc import Mapping
from functools import cache
from typing import Any

from swatch.terms.problems import Fact, Notice, StudioProblem, Where
from swatch.wording.text import _, say

_ROOMS = ("photo", "files", "studio", "learning", "work", "screen")


@cache
def _tables() -> tuple[dict[str, tuple[str, str]], dict[str, tuple[str, str]]]:
    problems: dict[str, tuple[str, str]] = {}
    notices: dict[str, tuple[str, str]] = {}
    for room in _ROOMS:
        module = importlib.import_module(f"swatch.wording.problems_{room}")
        problems |= module.PROBLEMS
        notices |= module.NOTICES
    return problems, notices


class _Facts(string.Formatter):
    """Fills a sentence with facts; a number asked for with a format that is not there says so with a dash."""

    def get_value(self, key: int | str, args: Any, kwargs: Mapping[str, Any]) -> Any:
        return kwargs.get(str(key))

    def format_field(self, value: Any, format_spec: str) -> str:
        return "–" if value is None else str(super().format_field(value, format_spec))


def _filled(sentences: tuple[str, str], facts: Mapping[str, Fact]) -> tuple[str, str]:
    happened, next_step = (_Facts().vformat(say(text), (), facts).strip() if text else "" for text in sentences)
    return happened, next_step


def problem_in_words(problem: StudioProblem) -> tuple[str, str]:
    """Say what happened and the next step."""
    unknown = (_("This could not be done ({code})."), "")
    sentences = _tables()[0].get(problem.code) or _tables()[1].get(problem.code) or unknown
    return _filled(sentences, {"code": problem.code, **problem.facts})


def notice_in_words(notice: Notice) -> tuple[str, str]:
    """Say a warning or a caution, and what to do about it; the second may be empty."""
    sentences = _tables()[1].get(notice.code) or _tables()[0].get(notice.code) or (notice.code, "")
    return _filled(sentences, notice.facts)


def place_in_words(where: Where) -> str:
    """Say where: ``tiles.csv, row 3``; empty where nothing is known of the place."""
    parts = [where.file, where.photo]
    if where.row is not None:
        parts.append(say(_("row {row}")).format(row=where.row))
    if where.zone is not None:
        parts.append(say(_("zone {zone}")).format(zone=where.zone))
    return ", ".join(part for part in parts if part)
