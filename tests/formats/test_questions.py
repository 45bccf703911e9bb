"""Lists of layerings to predict: the file's order, and a bad row in its own place."""

from __future__ import annotations

import pytest

from swatch.formats.questions import read_questions
from swatch.terms.answers import Question
from swatch.terms.cone import Cone
from swatch.terms.layering import Layer
from swatch.terms.problems import StudioProblem


def test_a_bad_row_stands_in_its_own_place():
    first, second, third, bare = read_questions(
        b"cone,body,layers\n6,Pale,A*2 > B\nO6,Pale,A\n6,,A\n06,Pale,\n", "list.csv"
    )
    assert first.question == Question((Layer("A", 2), Layer("B")), "Pale", Cone(6.0))
    assert first.problem is None
    assert second.question is None
    assert (second.problem.code, second.problem.where.row) == ("bad-cone", 3)
    assert second.cells == ("A", "Pale", "O6")
    assert (third.problem.code, third.problem.facts["column"], third.row) == ("no-value", "body", 4)
    assert bare.question == Question((), "Pale", Cone(-5.0))


def test_a_missing_column_refuses_the_file():
    with pytest.raises(StudioProblem) as caught:
        read_questions(b"layers,body\nA,Pale\n", "list.csv")
    assert (caught.value.code, caught.value.facts["column"]) == ("missing-column", "cone")
