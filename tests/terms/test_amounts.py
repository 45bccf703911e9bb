"""Amounts: units that never mix, and pints of a country."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swatch.terms.amounts import Amount, Unit, grams_of, ml_of, parse_amount
from swatch.terms.problems import StudioProblem

WEIGHTS = [Unit.GRAMS, Unit.KILOGRAMS, Unit.OUNCES]
VOLUMES = [unit for unit in Unit if unit not in WEIGHTS]
NUMBERS = st.floats(0, 1e5).map(lambda value: round(value, 3))


@pytest.mark.parametrize(
    ("text", "grams"),
    [("650 g", 650.0), ("1.5kg", 1500.0), ("12 oz", 12 * 28.35), ("12 OZ", 12 * 28.35)],
)
def test_weights(text, grams):
    """1 oz 28.35 g (the table of measures)."""
    assert grams_of(parse_amount(text), None) == pytest.approx(grams, rel=1e-4)


@pytest.mark.parametrize(
    ("text", "ml"),
    [("450 ml", 450.0), ("1 US pint", 473.0), ("1 UK pint", 568.0), ("2 uk pints", 1136.0),
     ("1 US fl oz", 29.57), ("1 US fl. oz.", 29.57), ("0.5 l", 500.0)],
)  # fmt: skip
def test_volumes(text, ml):
    """US pint 473 ml, UK pint 568 ml, 1 US fl oz 29.57 ml (the table of measures)."""
    assert ml_of(parse_amount(text)) == pytest.approx(ml, rel=1e-3)


@pytest.mark.parametrize(
    ("text", "code"),
    [("1 pint", "which-pint"), ("2 pints", "which-pint"), ("8 fl oz", "which-pint"), ("12", "bad-amount"),
     ("-3 g", "bad-amount"), ("g", "bad-amount"), ("3 cups", "bad-amount"), ("", "bad-amount"),
     ("1e5 g", "bad-amount"), ("1 g g", "bad-amount")],
)  # fmt: skip
def test_what_may_mean_two_things_or_nothing_is_refused(text, code):
    with pytest.raises(StudioProblem) as caught:
        parse_amount(text)
    assert caught.value.code == code


@given(NUMBERS, st.sampled_from(list(Unit)))
def test_written_and_read_again_it_is_the_same(number, unit):
    amount = Amount(number, unit)
    if "e" not in repr(number):
        assert parse_amount(str(amount)) == amount


@given(NUMBERS, st.sampled_from(VOLUMES), st.floats(1.0, 2.0))
def test_a_volume_is_no_weight_without_its_gravity(number, unit, gravity):
    amount = Amount(number, unit)
    with pytest.raises(StudioProblem, match="no-gravity"):
        grams_of(amount, None)
    assert grams_of(amount, gravity) == pytest.approx(ml_of(amount) * gravity)


@given(NUMBERS, st.sampled_from(WEIGHTS), st.floats(1.0, 2.0))
def test_a_weight_is_no_volume_and_heeds_no_gravity(number, unit, gravity):
    amount = Amount(number, unit)
    with pytest.raises(ValueError, match="no volume"):
        ml_of(amount)
    assert grams_of(amount, gravity) == grams_of(amount, None)


@given(st.floats(0.1, 100))
def test_pints_of_two_countries_are_never_one(number):
    assert ml_of(Amount(number, Unit.UK_PINTS)) / ml_of(Amount(number, Unit.US_PINTS)) == pytest.approx(
        1.2009, 1e-4
    )
    # An imperial fluid ounce is the smaller one, although its pint is the larger.
    assert ml_of(Amount(number, Unit.UK_FLUID_OUNCES)) < ml_of(Amount(number, Unit.US_FLUID_OUNCES))
