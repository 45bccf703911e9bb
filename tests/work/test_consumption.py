import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swatch.terms.editions import Weighing
from swatch.terms.layering import Layer
from swatch.terms.materials import Material
from swatch.work.consumption import Consumption


def weighing(grams, area, coats=1.0, material="Iron slip"):
    return Weighing(material, "2026-05-01", before_g=1000.0, after_g=1000.0 - grams, area_dm2=area, coats=coats)


def test_a_plan_worked_by_hand():
    # 40 g on 10 dm² in 2 coats is 2 g per dm² and coat; three weighings alike leave the least scatter, 0.15 in ln,
    # for one more application 0.15 √(1 + 1/3). A piece of 5 dm² in 2 coats takes 20 g; 1,000 g make 50.
    used = Consumption([weighing(40.0, 10.0, 2.0)] * 3)
    low, high = used.pieces((Layer("iron  SLIP", 2.0),), [Material("Iron slip", left_g=1000.0)], 5.0)
    scatter = 1.2816 * 0.15 * math.sqrt(1 + 1 / 3)
    assert (low, high) == (math.floor(50 * math.exp(-scatter)), math.floor(50 * math.exp(scatter)))


def test_the_layer_that_runs_out_first_decides():
    used = Consumption([weighing(20.0, 10.0), weighing(20.0, 10.0, material="Clear")])
    stock = [Material("Iron slip", left_g=100.0), Material("Clear", left_g=10_000.0)]
    both = used.pieces((Layer("Iron slip"), Layer("Clear")), stock, 5.0)
    assert both == used.pieces((Layer("Iron slip"),), stock, 5.0)


def test_a_material_never_weighed_borrows_from_the_others_and_is_less_sure():
    used = Consumption([weighing(20.0, 10.0)] * 4)
    stock = [Material("Iron slip", left_g=1000.0), Material("Clear", left_g=1000.0)]
    own, borrowed = (used.pieces((Layer(name),), stock, 5.0) for name in ("Iron slip", "Clear"))
    assert borrowed[0] < own[0] < own[1] < borrowed[1]


@pytest.mark.parametrize("stock", [[], [Material("Iron slip")]])
def test_nothing_is_said_of_what_was_never_weighed_or_stocked(stock):
    assert Consumption([weighing(20.0, 10.0)]).pieces((Layer("Iron slip"),), stock, 5.0) is None
    assert Consumption([]).pieces((Layer("Iron slip"),), [Material("Iron slip", left_g=10.0)], 5.0) is None
    assert Consumption([weighing(20.0, 10.0)]).pieces((), stock, 5.0) is None


@given(st.floats(1, 1e4), st.floats(0.5, 50), st.floats(0.25, 6), st.floats(0.1, 500))
def test_the_low_end_never_takes_more_than_is_left(left, area, coats, grams):
    used = Consumption([weighing(grams, 10.0)])
    low, high = used.pieces((Layer("Iron slip", coats),), [Material("Iron slip", left_g=left)], area)
    assert 0 <= low <= high
    assert low * area * coats * grams / 10.0 <= left * (1 + 1e-9)
