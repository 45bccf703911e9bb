import enum
from dataclasses import dataclass

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from swatch.terms.answers import Basis, Grounds, MatchRequest, Prediction, Question
from swatch.terms.colour import Covariance, Lab
from swatch.terms.cone import Cone
from swatch.terms.layering import Layer
from swatch.terms.problems import Notice, StudioProblem, Where
from swatch.work.plain import from_bytes, to_bytes

numbers = st.floats(-200, 200)
labs = st.builds(Lab, numbers, numbers, numbers)
names = st.text(min_size=1, max_size=12)
questions = st.builds(
    Question,
    st.lists(st.builds(Layer, names, st.floats(0.25, 20), st.booleans()), max_size=4).map(tuple),
    names,
    st.builds(Cone, st.floats(-21, 14)),
)
notices = st.builds(
    Notice, names, st.dictionaries(names, st.integers() | names | st.none()), st.builds(Where, names)
)
predictions = st.builds(
    Prediction,
    questions,
    labs,
    st.builds(Covariance, *([numbers] * 6)),
    st.builds(Grounds, st.integers(0, 9), st.integers(0, 9), st.sampled_from(Basis)),
    st.lists(notices, max_size=2).map(tuple),
)
requests = st.builds(MatchRequest, labs, names, st.builds(Cone, st.floats(-21, 14)), regions=st.tuples(names))


@example({"__is__": "x"})
@example({"__is__": 1, "of": {"__is__": "Lab"}})
@given(st.one_of(predictions, requests, st.tuples(predictions, notices), st.dictionaries(names, requests)))
def test_what_crosses_into_a_worker_comes_out_equal(value):
    assert from_bytes(to_bytes(value)) == value


def test_a_problem_keeps_its_code_place_and_facts():
    problem = StudioProblem("card-overexposed", Where(photo="a.jpg", row=3), n_clear=2, name="Ünïcode\n")
    back = from_bytes(to_bytes({"problem": problem}))["problem"]
    assert (back.code, back.where, back.facts) == (problem.code, problem.where, problem.facts)


def test_only_the_terms_values_travel():
    @dataclass(frozen=True)
    class Stranger:
        x: int

    class Odd(enum.Enum):
        A = 1

    with pytest.raises(TypeError):
        to_bytes({"x": object()})
    for value in (Stranger(1), Odd.A):
        with pytest.raises(KeyError):
            from_bytes(to_bytes(value))
