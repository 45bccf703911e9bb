"""Which new names look like a slip of another, and which are told apart on purpose."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swatch.work.new_names import is_near


@pytest.mark.parametrize(
    ("one", "other"),
    [("iron slip", "iron slp"), ("iron slip", "iorn slip"), ("rill", "rills"), ("tarn blue", "tarn-blue"),
     ("low rose", "lowrose"), ("ochre", "ocher")],
)  # fmt: skip
def test_slips(one, other):
    assert is_near(one, other)
    assert is_near(other, one)


@pytest.mark.parametrize(
    ("one", "other"),
    [("rose 1", "rose 2"), ("f12", "f13"), ("rose a", "rose b"), ("rill", "vale"), ("iron", "iron"),
     ("moss", "mosaic"), ("tarn blue", "tarn rose"), ("rose", "rose 2")],
)  # fmt: skip
def test_names_told_apart_on_purpose(one, other):
    assert not is_near(one, other)
    assert not is_near(other, one)


@given(st.text("abcdefg ", min_size=5, max_size=12), st.integers(0, 10), st.sampled_from("hijk"))
def test_any_one_wrong_letter_in_a_long_word_is_near(name, place, letter):
    name = name.replace(" ", "a")
    slip = name[: place % len(name)] + letter + name[place % len(name) + 1 :]
    assert is_near(name, slip)
