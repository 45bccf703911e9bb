"""Numbers as they are said and as they are printed."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swatch.terms.colour import Covariance, Lab
from swatch.wording.numbers import (
    covariance_figures,
    figure,
    grams_in_words,
    lab_figures,
    number_in_words,
    share_in_words,
    with_doubt,
)


@given(st.floats(-1e6, 1e6), st.integers(0, 4))
def test_a_figure_is_the_nearest_with_so_many_decimals_and_never_minus_zero(value, decimals):
    shown = figure(value, decimals)
    assert abs(shown - value) <= 0.5 * 10**-decimals * (1 + 1e-9) + 1e-9
    assert math.copysign(1, shown) == 1 or shown < 0


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_no_number_is_no_answer(value):
    with pytest.raises(ValueError, match="no answer"):
        figure(value, 2)


def test_colours_and_covariances_for_json():
    assert lab_figures(Lab(50.1251, -0.001, 3)) == [50.13, 0.0, 3.0]
    assert covariance_figures(Covariance(1, 0.12345, 0, 2, 0, 3)) == [[1, 0.123, 0], [0.123, 2, 0], [0, 0, 3]]


def test_numbers_for_people_have_a_real_minus_and_no_minus_zero():
    assert number_in_words(-21.64) == "−21.6"
    assert number_in_words(-0.01) == "0.0"
    assert with_doubt(57.44, 1.44) == "57.4 ±1.2"
    assert share_in_words(0.184) == "18 %"
    assert (grams_in_words(346.2), grams_in_words(1204)) == ("346 g", "1.20 kg")
