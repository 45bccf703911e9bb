"""Layers of glaze against what two-flux theory says of its limits.

Sources: Kubelka & Munk (1931), Z. tech. Phys. 12, 593; Kubelka (1948), J. Opt. Soc. Am. 38, 448;
Saunderson (1942), J. Opt. Soc. Am. 32, 727.
"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from swatch.science import optics

ratios = st.floats(1e-3, 1e3)
powers = st.floats(0.0, 50.0)
shares = st.floats(0.0, 1.0)


def _over(ratio: float, power: float, below: float) -> float:
    return float(
        optics.lay_over_slopes(optics.coat(np.array([ratio]), np.array([power])), np.array([below]))[0][0]
    )


@given(ratios)
def test_a_thick_layer_reflects_what_kubelka_and_munk_say(ratio):
    said = 1 + ratio - np.sqrt(ratio**2 + 2 * ratio)
    assert float(optics.infinite_reflectance(np.array(ratio))) == pytest.approx(said, abs=1e-9, rel=1e-6)
    assert _over(ratio, 1e4, 0.5) == pytest.approx(said, abs=1e-9, rel=1e-6)


@given(ratios, shares)
def test_no_thickness_gives_the_layer_below(ratio, below):
    assert _over(ratio, 0.0, below) == pytest.approx(below, abs=1e-12)


@given(ratios, powers, shares)
def test_two_half_coats_equal_one(ratio, power, below):
    half = _over(ratio, power / 2, below)
    assert _over(ratio, power / 2, half) == pytest.approx(_over(ratio, power, below), abs=1e-9)


@given(ratios, powers, shares)
def test_a_layer_matches_the_hyperbolic_form(ratio, power, below):
    """R = (1 − R_g (a − b coth bSX)) / (a − R_g + b coth bSX), Kubelka (1948)."""
    a = 1 + ratio
    b = np.sqrt(a * a - 1)
    if b * power < 1e-6:
        return
    coth = 1 / np.tanh(b * power)
    assert _over(ratio, power, below) == pytest.approx(
        (1 - below * (a - b * coth)) / (a - below + b * coth), abs=1e-7
    )


@given(ratios, powers, shares)
def test_quick_and_careful_layers_agree(ratio, power, below):
    x, y = np.array([ratio]), np.array([power])
    careful = optics.coat(x, y)
    quick = optics.thin_coat(x, y)
    assert quick[0] == pytest.approx(careful.reflected, abs=1e-9)
    assert quick[1] == pytest.approx(careful.passed, abs=1e-9)
    laid = optics.laid(*quick, np.array([below]))
    assert float(laid[0]) == pytest.approx(_over(ratio, power, below), abs=1e-9)


@given(shares, st.floats(0.0, 0.6))
def test_the_surface_is_saundersons(inside, inner):
    """R = k + (1 − k)(1 − k₂) R / (1 − k₂ R), with the first term as the glint that reaches the eye."""
    seen = float(optics.through_surface(np.array([inside]), np.array([inner]))[0])
    assert seen == pytest.approx(0.005 + 0.96 * (1 - inner) * inside / (1 - inner * inside), abs=1e-12)


def test_band_weights_are_the_observers_under_d50():
    """Weights worked out anew from CIE 1931 2 degree colour matching functions and D50 (colour-science)."""
    colour = pytest.importorskip("colour")
    shape = colour.SpectralShape(380, 780, 5)
    eye = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(shape).values
    light = colour.SDS_ILLUMINANTS["D50"].copy().align(shape).values
    hats = np.array([np.interp(np.arange(380, 781, 5), optics.BANDS_NM, row) for row in np.eye(8)])
    weights = hats @ (eye * light[:, None])
    assert pytest.approx(weights / weights.sum(axis=0), abs=1e-6) == optics.BAND_TO_XYZ


def test_white_is_white_and_black_is_black():
    assert optics.bands_to_lab(np.ones(8)) == pytest.approx([100, 0, 0], abs=1e-9)
    assert optics.bands_to_lab(np.zeros(8)) == pytest.approx([0, 0, 0], abs=1e-9)
    assert optics.bands_to_lab(np.ones(4)) == pytest.approx([100, 0, 0], abs=1e-9)
