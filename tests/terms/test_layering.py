"""Layers as text and back, and names compared without case and with single spaces."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swatch.terms.layering import MOST_COATS, Layer, fold_name, format_layers, parse_layers
from swatch.terms.problems import StudioProblem

NAMES = (
    st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cs", "Zl", "Zp"]), min_size=1, max_size=15)
    .map(lambda text: " ".join(text.translate({ord(c): None for c in ">*"}).split()))
    .filter(lambda name: name and not name.endswith(")") and not name.startswith("("))
)
LAYERINGS = st.lists(
    st.builds(Layer, NAMES, st.sampled_from([0.25, 0.5, 1.0, 1.5, 2.0, 3.0, 12.0]), st.booleans()), max_size=4
)


@given(LAYERINGS)
def test_layers_written_are_read_back_the_same(layers):
    neighbours = itertools.pairwise(layers)
    if any(fold_name(a.material) == fold_name(b.material) and a.wiped == b.wiped for a, b in neighbours):
        return  # written as two, read as one: that is the next test's
    assert parse_layers(format_layers(tuple(layers))) == tuple(layers)


@given(NAMES, st.integers(1, 6), st.integers(1, 6))
def test_neighbours_of_one_material_are_one_layer_with_the_coats_added(name, one, other):
    both = parse_layers(
        f"{name}*{one} >  {name.swapcase() if fold_name(name.swapcase()) == fold_name(name) else name}*{other}"
    )
    assert [(fold_name(layer.material), layer.coats) for layer in both] == [(fold_name(name), one + other)]


@given(st.text(max_size=30))
def test_any_text_is_layers_or_a_problem(text):
    try:
        layers = parse_layers(text)
    except StudioProblem as caught:
        problem = caught
    else:
        assert parse_layers(format_layers(layers)) == layers
        return
    assert problem.code == "bad-layers"


def test_layers_run_from_the_body_outward():
    assert parse_layers(" Iron slip*2>Clear ") == (Layer("Iron slip", 2), Layer("Clear"))


def test_no_text_is_the_bare_body():
    assert parse_layers("  ") == ()
    assert format_layers(()) == ""


@pytest.mark.parametrize("text", ["Rust wash (wiped)", "Rust wash (Wiped) * 1", "Rust wash*1 (wiped)"])
def test_a_wiped_wash_is_read_in_either_order(text):
    assert parse_layers(text) == (Layer("Rust wash", 1, wiped=True),)


def test_a_wiped_and_an_unwiped_wash_stay_two_layers():
    assert len(parse_layers("Rust (wiped) > Rust")) == 2


@pytest.mark.parametrize(("text", "coats"), [("A*½", 0.5), ("A*1½", 1.5), ("A * 2.5", 2.5), ("A", 1.0)])
def test_coats_may_be_halves(text, coats):
    assert parse_layers(text)[0].coats == coats


@pytest.mark.parametrize(
    "text",
    [">", "A >", "> A", "A*0", "A*", "A*x", "A*-1", "A**2", "*2", "A*21", "A*12 > A*12", "A (thin)", "A\nB\0"],
)
def test_what_is_no_layering_is_refused(text):
    with pytest.raises(StudioProblem) as caught:
        parse_layers(text)
    assert caught.value.code == "bad-layers"


@given(st.text(max_size=20))
def test_folding_twice_is_folding_once(name):
    assert fold_name(fold_name(name)) == fold_name(name)


def test_names_are_compared_without_case_and_with_single_spaces():
    assert fold_name("  Tarn   BLUE ") == fold_name("tarn blue")
    assert fold_name("Cafe\u0301") == fold_name("CAFÉ")


@pytest.mark.parametrize("coats", [0.0, -1.0, MOST_COATS + 1, float("nan")])
def test_a_layer_has_a_real_number_of_coats(coats):
    with pytest.raises(ValueError, match="coats"):
        Layer("A", coats)
