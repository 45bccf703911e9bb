"""Differences, ranges, chances, coats and evidence as a potter would say them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swatch.terms.answers import Basis, Grounds, Outlier, TrustLine
from swatch.terms.colour import Lab
from swatch.terms.cone import Cone
from swatch.terms.layering import parse_layers
from swatch.wording.answers import (
    chance_in_words,
    coats_figure,
    coats_in_words,
    difference_in_words,
    evidence_in_words,
    lab_in_words,
    layers_in_words,
    range_in_words,
    seen_in_words,
)
from swatch.wording.jobs import progress_in_words
from swatch.wording.layering import cone_in_words
from swatch.wording.trust import outlier_in_words, trust_question_in_words


def test_a_difference_is_said_largest_part_first():
    assert difference_in_words(Lab(57, -19, 14), Lab(57, -21, 12.2)) == "Redder by 2.0, yellower by 1.8."
    assert difference_in_words(Lab(50, 0, 0), Lab(53.5, 1, 0.1)) == "Darker by 3.5, greener by 1.0."
    assert difference_in_words(Lab(50, 0, 0), Lab(50.2, 0.3, -0.4)) == "The same to the eye."


@given(st.tuples(*[st.floats(-50, 50)] * 3), st.tuples(*[st.floats(-50, 50)] * 3))
def test_the_other_way_round_the_opposite_words_are_said(one, other):
    there, back = difference_in_words(Lab(*one), Lab(*other)), difference_in_words(Lab(*other), Lab(*one))
    opposite = {"lighter": "darker", "redder": "greener", "yellower": "bluer"}
    opposite |= {second: first for first, second in opposite.items()}
    turned = " ".join(opposite.get(word, word) for word in there.lower().split())
    assert turned == back.lower()


@pytest.mark.parametrize(
    ("grounds", "said"),
    [
        (Grounds(2, 9, Basis.OWN_TILES), "2 tiles of this layering, 9 of these materials"),
        (Grounds(1, 9, Basis.OWN_TILES), "1 tile of this layering, 9 of these materials"),
        (Grounds(0, 14, Basis.OWN_MATERIALS), "new layering, 14 of these materials"),
        (Grounds(0, 0, Basis.RAW_ONLY), "raw colour only, no tile"),
        (Grounds(0, 0, Basis.MAKER), "maker's chart only, no tile"),
    ],
)
def test_what_an_answer_rests_on_is_said(grounds, said):
    assert evidence_in_words(grounds) == said


@pytest.mark.parametrize(
    ("chance", "said"), [(0.004, "under 1 %"), (0.63, "63 %"), (0.999, "over 99 %"), (0.0, "under 1 %")]
)
def test_no_chance_is_said_to_be_none_or_certain(chance, said):
    assert chance_in_words(chance) == said


def test_ranges_colours_and_layers():
    assert range_in_words(0.94, 3.06) == "0.9–3.1"
    assert lab_in_words(Lab(57.4, -21.6, 13.8)) == "L* 57.4, a* −21.6, b* 13.8"
    assert layers_in_words(parse_layers("Iron slip*2 > Rust (wiped) > Clear*1.5")) == (
        "Iron slip ×2 › Rust (wiped) › Clear ×1½"
    )
    assert layers_in_words(()) == "bare body"


@pytest.mark.parametrize(("coats", "figure"), [(1, "1"), (0.5, "½"), (2.5, "2½"), (0.3, "0.3"), (3, "3")])
def test_coats(coats, figure):
    assert coats_figure(coats) == figure
    assert coats_in_words(coats).startswith(figure)


@pytest.mark.parametrize(
    ("de00", "said"),
    [
        (0.5, "not seen"),
        (1.2, "hard to see"),
        (2.0, "usually accepted"),
        (3.7, "usually accepted"),
        (4, "another"),
    ],
)
def test_what_a_difference_means_side_by_side(de00, said):
    """Visible from 0.8 to 1.7, usually accepted from 1.8 to 3.7: review of 20 studies of dental ceramics."""
    assert said in seen_in_words(de00)


def test_cones_are_said_as_potters_say_them():
    assert (cone_in_words(Cone(5.5)), cone_in_words(Cone(-5.0)), cone_in_words(None)) == (
        "cone 5½", "cone 06", "no cone",
    )  # fmt: skip


def test_progress_says_how_far():
    assert progress_in_words("measure", 3, 12, "photos").endswith("3 of 12 photos")
    assert progress_in_words("no such job", 0, 1) == "Working"


def test_an_outlier_is_named_and_its_name_cannot_spoil_the_line():
    said = outlier_in_words(Outlier("T\n41", "A", 14.23))
    assert "T\\u000a41, zone A: 14.2 ΔE00" in said


def test_a_kind_of_question_without_words_is_said_as_it_is():
    line = TrustLine("something new", 1, 1, 1, 1, 1, 1, 1)
    assert trust_question_in_words(line) == "something new"
