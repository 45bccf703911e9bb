"""Every code that is raised anywhere has words, and the words ask for no fact that is not given."""

from __future__ import annotations

import ast
import importlib
import pkgutil
import re
import string
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

import swatch
import swatch.wording
from swatch.terms.problems import Notice, StudioProblem, Where
from swatch.terms.problems.files import bad_cone, decimal_comma
from swatch.wording.problems import (
    caution_entry,
    notice_in_words,
    place_in_words,
    problem_entry,
    problem_in_words,
    warning_entry,
)

PACKAGE = Path(swatch.__file__).parent
ROOMS = sorted(
    module.name for module in pkgutil.iter_modules(swatch.wording.__path__) if module.name.startswith("problems_")
)
WORDS: dict[str, tuple[str, str]] = {}
for room in ROOMS:
    one = importlib.import_module(f"swatch.wording.{room}")
    WORDS |= one.PROBLEMS | one.NOTICES


@dataclass(frozen=True)
class Raised:
    """One place where a code is given: the code as a pattern, and its facts where they can be seen."""

    place: str
    code: str
    facts: frozenset[str] | None


def _pattern(node: ast.expr) -> str | None:
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return re.escape(node.value)
    if isinstance(node, ast.JoinedStr):
        parts = (re.escape(str(p.value)) if isinstance(p, ast.Constant) else "[a-z-]+" for p in node.values)
        return "".join(parts)
    return None


def _facts(call: ast.Call) -> frozenset[str] | None:
    names = [keyword.arg for keyword in call.keywords]
    if None in names:
        return None
    facts = {name for name in names if name not in ("where", "facts", None)}
    mappings = [keyword.value for keyword in call.keywords if keyword.arg == "facts"]
    if isinstance(call.func, ast.Name) and call.func.id == "Notice":
        mappings += call.args[1:2]
    for mapping in mappings:
        if not isinstance(mapping, ast.Dict) or not all(isinstance(key, ast.Constant) for key in mapping.keys):
            return None
        facts |= {str(key.value) for key in mapping.keys if isinstance(key, ast.Constant)}
    return frozenset(facts)


def _raised() -> Iterator[Raised]:
    for path in sorted(PACKAGE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(node, ast.Call) or not node.args:
                continue
            name = node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")
            where = f"{path.relative_to(PACKAGE)}:{node.lineno}"
            if name in ("StudioProblem", "Notice") and (code := _pattern(node.args[0])):
                yield Raised(where, code, _facts(node))
            elif path.name == "gates.py" and name in ("refuse", "warn", "grade"):
                for argument in node.args:
                    if isinstance(argument, ast.Constant) and isinstance(argument.value, str):
                        yield Raised(where, re.escape(argument.value), _facts(node))
                        if name == "grade":
                            yield Raised(where, re.escape(f"{argument.value}-refused"), _facts(node))


RAISED = list(_raised())


def _asked_for(sentences: tuple[str, str]) -> set[str]:
    return {name for text in sentences for _, name, _, _ in string.Formatter().parse(text) if name}


def test_codes_are_found_at_all():
    assert len(RAISED) > 40
    assert len(WORDS) > 40


@pytest.mark.parametrize("raised", RAISED, ids=lambda raised: f"{raised.place} {raised.code}")
def test_every_code_has_words_that_ask_for_no_fact_not_given(raised):
    found = [code for code in WORDS if re.fullmatch(raised.code, code)]
    assert found, f"no words for {raised.code}, given in {raised.place}"
    for code in found if raised.facts is not None else ():
        assert _asked_for(WORDS[code]) - {"code"} <= raised.facts, f"{code} in {raised.place}"


def test_no_two_rooms_have_words_for_one_code():
    seen: dict[str, str] = {}
    for room in ROOMS:
        module = importlib.import_module(f"swatch.wording.{room}")
        for code in {**module.PROBLEMS, **module.NOTICES}:
            assert code not in seen, f"{code} in {seen[code]} and {room}"
            seen[code] = room


@pytest.mark.parametrize("code", sorted(WORDS))
def test_every_sentence_can_be_filled_and_ends_like_one(code):
    happened, next_step = WORDS[code]
    facts = {}
    for text in (happened, next_step):
        for _, name, spec, _ in string.Formatter().parse(text):
            if name:
                facts[name] = 3 if spec and spec[-1] in "gfde" else "x"
    said = problem_in_words(StudioProblem(code, None, **facts))
    assert said[0].endswith((".", "!", "?", "”")) or happened.endswith("}")
    assert said[1] == "" or said[1].endswith((".", "!", "?", "”"))
    assert "{" not in said[0]
    assert happened[:1].isupper() or happened[:1] in "“{"


@pytest.mark.parametrize("code", sorted(WORDS))
def test_no_sentence_says_that_a_surface_is_safe_for_food(code):
    assert not re.search(r"food[- ]safe|safe for food|safe to eat", " ".join(WORDS[code]), re.IGNORECASE)


def test_a_problem_says_what_where_and_the_next_step():
    entry = problem_entry(bad_cone("O6").at(Where(file="tiles.csv", row=3)))
    assert entry["code"] == "bad-cone"
    assert "O6" in entry["message"]
    assert "text" in entry["next_step"]
    assert entry["where"] == {"file": "tiles.csv", "row": 3}
    assert place_in_words(Where("tiles.csv", 3, None, "A")) == "tiles.csv, row 3, zone A"


def test_names_that_would_spoil_the_line_are_written_out():
    message, _ = problem_in_words(decimal_comma("L", "5\n4,3\u202e"))
    assert "5\\u000a4,3\\u202e" in message
    assert place_in_words(Where(file="a\u200fb\n.csv")) == "a\\u200fb\\u000a.csv"


def test_warnings_and_cautions_have_the_fields_of_the_public_interface():
    notice = Notice("no-rows")
    assert set(warning_entry(notice)) == {"code", "message", "next_step"}
    assert warning_entry(notice.at(Where(file="b.csv")))["where"] == {"file": "b.csv"}
    caution = caution_entry(notice)
    assert set(caution) == {"code", "message"}
    assert caution["message"] == " ".join(notice_in_words(notice))
