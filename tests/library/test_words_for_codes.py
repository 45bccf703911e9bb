"""Every problem and every named change of the library has words, and the words find their facts."""

from __future__ import annotations

import inspect
import re
from pathlib import Path

import pytest

from swatch.library import studio
from swatch.terms.problems import studio as problems
from swatch.wording.changes import CHANGES, change_in_words
from swatch.wording.problems_studio import PROBLEMS

MAKERS = [f for name, f in inspect.getmembers(problems, inspect.isfunction) if f.__module__ == problems.__name__]
LIBRARY = Path(studio.__file__).parent


@pytest.mark.parametrize("maker", MAKERS, ids=lambda maker: maker.__name__)
def test_a_problem_is_said_with_all_its_facts(maker):
    # postponed annotations: the first word of each tells whether a text or a number is due
    values = {
        name: 7 if "int" in str(p.annotation) else "x" for name, p in inspect.signature(maker).parameters.items()
    }
    problem = maker(**values)
    for text in PROBLEMS[problem.code]:
        assert "{" not in text.format(**problem.facts)


def test_every_named_change_of_the_library_has_words():
    source = "\n".join(path.read_text(encoding="utf-8") for path in LIBRARY.glob("*.py"))
    codes = set(re.findall(r'\.change\("([a-z-]+)"', source)) | {"set-aside", "take-back"}
    assert codes <= set(CHANGES)
    assert len(codes) > 10


def test_one_is_not_said_as_several():
    assert change_in_words("keep-readings", {"n": 1}) == "Keep 1 reading"
    assert change_in_words("keep-readings", {"n": 12}) == "Keep 12 readings"
    assert change_in_words("rename-material", {"name": "A", "new": "B"}) == "Rename A to B"
