"""Amounts in the units chosen: there and back again, and against the definitions."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swatch.wording import units as u
from swatch.wording.units import Heat, Units, Volume, Weight

ALL = st.builds(Units, st.sampled_from(Heat), st.sampled_from(Weight), st.sampled_from(Volume))
PAIRS = (
    (u.heat_figure, u.celsius_of),
    (u.rate_figure, u.celsius_per_h_of),
    (u.weight_figure, u.grams_of),
    (u.volume_figure, u.ml_of),
)


@pytest.fixture(autouse=True)
def _metric():
    yield
    u.use_units(Units())


@given(ALL, st.floats(-300.0, 1e6), st.sampled_from(PAIRS))
def test_what_is_shown_and_typed_again_is_the_same(chosen, value, pair):
    shown, read = pair
    u.use_units(chosen)
    assert read(shown(value)) == pytest.approx(value, rel=1e-12, abs=1e-9)


def test_figures_against_the_definitions():
    """NIST Special Publication 811, appendix B.8, from memory: °F = 1.8 °C + 32; ounce 28.34952 g; US pint
    0.4731765 l; Canadian and UK pint 0.5682612 l."""
    u.use_units(Units(Heat.FAHRENHEIT, Weight.OUNCES, Volume.US_PINTS))
    assert (u.heat_figure(0.0), u.heat_figure(100.0)) == (32.0, 212.0)
    assert u.rate_figure(60.0) == 108.0
    assert u.grams_of(1.0) == pytest.approx(28.34952, abs=5e-6)
    assert u.ml_of(1.0) == pytest.approx(473.1765, abs=5e-5)
    assert u.ml_of(16) / u.ml_of(1) == 16
    u.use_units(Units(volume=Volume.UK_PINTS))
    assert u.ml_of(1.0) == pytest.approx(568.2612, abs=1e-4)


def test_words_name_which_pint():
    for volume, said in (
        (Volume.ML, "473 ml"),
        (Volume.US_PINTS, "1.00 US pints"),
        (Volume.UK_PINTS, "0.83 UK pints"),
    ):
        u.use_units(Units(volume=volume))
        assert u.ml_in_words(473.176) == said
    u.use_units(Units(Heat.FAHRENHEIT, Weight.OUNCES))
    assert (u.heat_in_words(1222.0), u.grams_in_words(640.0)) == ("2232 °F", "22.6 oz")


def test_half_a_hundred_grams_goes_up_as_people_round():
    u.use_units(Units())
    assert [u.grams_in_words(grams) for grams in (2150.0, 2149.0, 1000.0, 640.0)] == [
        "2.2 kg",
        "2.1 kg",
        "1.0 kg",
        "640 g",
    ]
