"""What cannot be seen is written out, and what can is left alone."""

from __future__ import annotations

import unicodedata

from hypothesis import given
from hypothesis import strategies as st

from swatch.wording.visible import visible


@given(st.text())
def test_nothing_unseen_is_left(text):
    shown = visible(text)
    assert not any(unicodedata.category(ch) in ("Cc", "Cs", "Zl", "Zp") for ch in shown)
    assert not set("\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\ufeff") & set(shown)


@given(st.text(st.characters(categories=["L", "N", "P", "S", "Zs"])))
def test_letters_figures_and_signs_are_left_alone(text):
    assert visible(text) == text


def test_joiners_that_shape_letters_stay():
    assert visible("می\u200cخواهم") == "می\u200cخواهم"


def test_signs_beyond_the_first_plane_are_written_with_eight_figures():
    assert visible("\U000e0001") == "\\U000e0001"
