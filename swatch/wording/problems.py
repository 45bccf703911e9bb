"""Problems, warnings and cautions, by code, into a sentence and the next step."""

from __future__ import annotations

import importlib
import string
from collections.abc import Mapping
from functools import cache
from typing import Any

from swatch.terms.problems import Fact, Notice, StudioProblem, Where
from swatch.wording.text import _, say
from swatch.wording.visible import visible

_ROOMS = ("photo", "files", "studio", "learning", "work", "screen", "holding", "material", "pieces")


@cache
def _tables() -> tuple[dict[str, tuple[str, str]], dict[str, tuple[str, str]]]:
    problems: dict[str, tuple[str, str]] = {}
    notices: dict[str, tuple[str, str]] = {}
    for room in _ROOMS:
        module = importlib.import_module(f"swatch.wording.problems_{room}")
        problems |= module.PROBLEMS
        notices |= module.NOTICES
    return problems, notices


_SAID = frozenset(("status", "reason", "sheen", "other"))
"""Facts that may be words of ours: said in the language in use, where they are."""

_REASONS = (_("four"), _("outside"), _("mirrored"), _("crossed"), _("small"))
"""Why corners do not outline a card."""

_NEUTRAL_REASONS = (_("too bright"), _("too dark"), _("not even"), _("coloured"))
"""Why a neutral point cannot serve, beside lying outside."""


class _Facts(string.Formatter):
    """Fills a sentence with facts; a number asked for with a format that is not there says so with a dash."""

    def get_value(self, key: int | str, args: Any, kwargs: Mapping[str, Any]) -> Any:
        value = kwargs.get(str(key))
        if key in _SAID and isinstance(value, str) and value:
            value = say(value)
        return visible(value) if isinstance(value, str) else value

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
    parts = [where.file, where.photo if where.photo != where.file else None]
    if where.row is not None:
        parts.append(say(_("row {row}")).format(row=where.row))
    if where.zone is not None:
        parts.append(say(_("zone {zone}")).format(zone=where.zone))
    return ", ".join(visible(part) for part in parts if part)


def problem_entry(problem: StudioProblem) -> dict[str, object]:
    """Give a problem as the command line's JSON has it; ``where`` holds only what is known of the place."""
    message, next_step = problem_in_words(problem)
    return {"code": problem.code, "message": message, "next_step": next_step, "where": _place(problem.where)}


def warning_entry(notice: Notice) -> dict[str, object]:
    """Give a warning as the command line's JSON has it; ``where`` is there only if something is known of it."""
    message, next_step = notice_in_words(notice)
    entry: dict[str, object] = {"code": notice.code, "message": message, "next_step": next_step}
    return entry | ({"where": _place(notice.where)} if notice.where != Where() else {})


def caution_entry(notice: Notice) -> dict[str, object]:
    """Give a caution as the command line's JSON has it: its code and all that is said of it."""
    message, next_step = notice_in_words(notice)
    return {"code": notice.code, "message": f"{message} {next_step}".strip()}


def _place(where: Where) -> dict[str, object]:
    parts = {"file": where.file, "row": where.row, "photo": where.photo, "zone": where.zone}
    return {name: value for name, value in parts.items() if value is not None}
