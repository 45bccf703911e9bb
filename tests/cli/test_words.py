"""Words of a call: what is a value and what is status 2."""

from __future__ import annotations

import argparse

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swatch.cli import words
from swatch.terms.colour import Lab


@given(st.floats(0, 100), st.floats(-160, 160), st.floats(-160, 160))
def test_a_target_is_read_as_it_is_written(lightness, a, b):
    assert words.lab_word(f"{lightness!r}, {a!r},{b!r}") == Lab(lightness, a, b)


@pytest.mark.parametrize("text", ["", "50,0", "50,0,0,0", "50;0;0", "50,nan,0", "50,inf,0", "-1,0,0", "101,0,0",
                                  "50,161,0", "5 0,0,0", "L,a,b", "50,,0"])  # fmt: skip
def test_what_is_no_target_is_refused(text):
    with pytest.raises(argparse.ArgumentTypeError):
        words.lab_word(text)


def test_corners_are_four_points():
    assert words.corners_word("1,2 3.5,4  5,6 7,8") == ((1, 2), (3.5, 4), (5, 6), (7, 8))
    for text in ("", "1,2 3,4 5,6", "1,2 3,4 5,6 7", "1,2 3,4 5,6 7,8 9,10", "a,b c,d e,f g,h"):
        with pytest.raises(argparse.ArgumentTypeError):
            words.corners_word(text)


def test_regions_are_the_trade_s_and_said_once():
    assert words.regions_word("Inside, lip,inside") == ("inside", "lip")
    with pytest.raises(argparse.ArgumentTypeError):
        words.regions_word("handle")


@pytest.mark.parametrize(
    ("read", "good", "bad"),
    [
        (words.whole_in(1, 3), ["1", "3"], ["0", "4", "2.0", "-1", "x", "", "٣"]),
        (words.number_in(0, 50), ["0.1", "50", "2e0"], ["0", "50.1", "nan", "2,5", ""]),
        (words.cone_word, ["06", "6", "5½"], ["6.0", "O6", "023"]),
        (words.layers_word, ["", "A*2 > B"], ["A >", "A*0"]),
        (words.name_word, ["Pale  body"], ["", "  "]),
        (words.firing_log_word, ["F 1=log.csv"], ["F1", "=log.csv", "F1="]),
    ],
)
def test_a_word_is_a_value_or_is_refused(read, good, bad):
    for text in good:
        read(text)
    for text in bad:
        with pytest.raises(argparse.ArgumentTypeError):
            read(text)
