"""Jars from lists as people write them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swatch.desk.jar_list import by_what_is_said, jars_in_words, read_jars
from swatch.terms.materials import Kind


@pytest.mark.parametrize(
    ("line", "name", "kind", "left"),
    [
        ("Moss green, underglaze", "Moss green", Kind.UNDERGLAZE, None),
        ("Honey amber glaze", "Honey amber glaze", Kind.GLAZE, None),
        ("Window clear", "Window clear", Kind.CLEAR, None),
        ("3x Window (clear) 1 pt", "Window", Kind.CLEAR, None),
        ("3 × Window (clear)", "Window", Kind.CLEAR, None),
        ("- Bone\tslip\t500 g", "Bone", Kind.SLIP, 500.0),
        ("2x Bone, slip, 0.5 kg", "Bone", Kind.SLIP, 1000.0),
        ("Tomato 16 oz jar", "Tomato", None, None),
        ("1. Rust wash x2", "Rust wash", Kind.WASH, None),
        ("Fern ½ pint; glaze", "Fern", Kind.GLAZE, None),
        ("Blue 2000", "Blue 2000", None, None),
        ("Glaze", "Glaze", None, None),
        ("Moss [glaze]", "Moss", Kind.GLAZE, None),
    ],
)
def test_a_line_is_understood(line, name, kind, left):
    (jar,) = read_jars(line)
    assert (jar.name, jar.kind, jar.left_g) == (name, kind, left)


def test_the_first_spelling_stays_and_two_kinds_of_one_name_are_two_jars():
    jars = read_jars("Moss green, underglaze\nmoss  GREEN\nMoss green, glaze\nBone, 100 g\nbone, 50 g")
    assert [(jar.name, jar.kind) for jar in jars[:2]] == [
        ("Moss green", Kind.UNDERGLAZE),
        ("Moss green glaze", Kind.GLAZE),
    ]
    assert (jars[2].name, jars[2].left_g) == ("Bone", 150.0)


def test_what_was_understood_is_said_and_what_was_not_is_asked():
    jars = read_jars("Moss, underglaze\nHoney glaze\nWindow (clear)\nTomato 16 oz jar")
    assert jars_in_words(jars) == "1 underglaze, 1 glaze, 1 clear. Of what kind is Tomato?"
    assert jars_in_words(read_jars("Tomato\nPlum")) == "2 of no kind said, first Tomato."
    assert jars_in_words([]) == ""


def test_what_is_not_said_is_not_written():
    groups = by_what_is_said(read_jars("Moss, glaze\nBone\nFern, glaze, 100 g"))
    assert {tuple(jar.name for jar in jars): given for jars, given in groups} == {
        ("Moss",): frozenset({"kind"}),
        ("Bone",): frozenset(),
        ("Fern",): frozenset({"kind", "left_g"}),
    }


@given(st.text(max_size=200))
def test_any_text_gives_jars_with_a_name_each_once(text):
    jars = read_jars(text)
    assert all(jar.name and "\n" not in jar.name for jar in jars)
    assert len({jar.name for jar in jars}) == len(jars)
