"""Cones: the series' order, text in and out, and what a spreadsheet makes of them refused."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swatch.terms.cone import COOLEST_POSITION, HOTTEST_POSITION, Cone, parse_cone
from swatch.terms.problems import StudioProblem

SERIES = [f"0{n}" for n in range(22, 0, -1)] + [str(n) for n in range(1, 15)]
"""Order, coolest first: 022 … 02, 01, 1, 2 … 14 (common practice)."""


def test_the_series_runs_from_022_to_14_in_order():
    cones = [parse_cone(text) for text in SERIES]
    assert cones == sorted(cones)
    assert len({cone.position for cone in cones}) == len(SERIES) == 36
    assert [b.position - a.position for a, b in itertools.pairwise(cones)] == [1.0] * 35
    assert (cones[0].position, cones[-1].position) == (COOLEST_POSITION, HOTTEST_POSITION)


@pytest.mark.parametrize("text", [*SERIES, *(f"{n}.5" for n in range(1, 14))])
def test_a_cone_s_text_comes_back(text):
    assert str(parse_cone(f" {text} ")) == text


def test_06_and_6_are_far_apart():
    assert (parse_cone("06").position, parse_cone("6").position, parse_cone("01").position) == (-5.0, 6.0, 0.0)


def test_a_half_is_written_back_with_a_point():
    assert str(parse_cone("5½")) == "5.5"


@pytest.mark.parametrize(
    "text",
    ["", "6.0", "06.0", "O6", "o6", "06.5", "06½", "00", "0", "023", "15", "14.5", "0.5", "6,5", "5.25", "-6",
     "+6", "6 ", "٦", "6e0", "006", "6/5", "06-Jun", "2027-06-05", "six", "cone 6", "½"],
)  # fmt: skip
def test_what_is_no_cone_is_refused(text):
    if text.strip() in SERIES:
        assert parse_cone(text)  # spaces around a cone are no part of it
        return
    with pytest.raises(StudioProblem) as caught:
        parse_cone(text)
    assert (caught.value.code, caught.value.facts) == ("bad-cone", {"text": text})


def test_hundredths_are_read_only_off_a_witness():
    assert parse_cone("5.8", between=True) == Cone(5.8)
    with pytest.raises(StudioProblem):
        parse_cone("5.8")
    with pytest.raises(StudioProblem):
        parse_cone("6.0", between=True)


@given(st.integers(101, 1399).filter(lambda n: n % 100))
def test_hundredths_come_back(hundredths):
    cone = Cone(hundredths / 100)
    assert parse_cone(str(cone), between=True) == cone


@given(st.text(max_size=6))
def test_any_text_is_a_cone_or_a_problem(text):
    try:
        cone = parse_cone(text, between=True)
    except StudioProblem as caught:
        problem = caught
    else:
        assert parse_cone(str(cone), between=True) == cone
        return
    assert problem.code == "bad-cone"


@given(st.floats(allow_nan=True))
def test_no_cone_stands_outside_the_series(position):
    if COOLEST_POSITION <= position <= HOTTEST_POSITION:
        assert str(Cone(position))
    else:
        with pytest.raises(ValueError, match="no cone"):
            Cone(position)
