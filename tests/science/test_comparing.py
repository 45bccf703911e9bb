from dataclasses import replace

import numpy as np
import pytest

from bench.painted import chart, jpeg_of, paint
from swatch.science.colour_math import delta_e_2000
from swatch.science.comparing import by_colours, compare, compare_zones, difference_covariance, shared_part
from swatch.science.measuring import decode, measure
from swatch.terms.colour import Lab
from swatch.terms.measured import ColourShare
from swatch.terms.problems import StudioProblem

TWINS = ((52.0, 14.0, 20.0), (52.0, 14.0, 20.0), (53.5, 14.0, 20.0), (30.0, -10.0, -20.0))


@pytest.fixture(scope="module")
def read():
    painted = paint(TWINS)
    return measure(decode(jpeg_of(painted), "a"), chart(), painted.zones, photo="a")


def test_twins_cannot_be_told_apart_and_are_known_better_than_either(read):
    same = compare(read, "Z1", "Z2")
    assert not same.told_apart
    assert same.de00_95[0] == 0.0
    one, other = (next(z for z in read.zones if z.zone == name) for name in ("Z1", "Z2"))
    apart = np.sqrt(one.u95_de00**2 + other.u95_de00**2)
    assert same.u95_de00 < 0.6 * apart


def test_a_difference_has_the_sign_and_size_that_were_painted(read):
    found = compare(read, "Z3", "Z1")
    np.testing.assert_allclose(found.difference, [1.5, 0, 0], atol=0.4)
    assert abs(found.de00 - delta_e_2000(np.array(TWINS[2]), np.array(TWINS[0]))) < 0.4
    assert found.de00_95[1] > found.de00
    far = compare(read, "Z1", "Z4")
    assert far.told_apart
    assert far.de00_95[0] < far.de00 < far.de00_95[1]


def test_the_difference_turned_round_is_the_same(read):
    one, other = read.zones[0], read.zones[3]
    np.testing.assert_allclose(difference_covariance(one, other), difference_covariance(other, one))
    there, back = compare_zones(one, other), compare_zones(other, one)
    np.testing.assert_allclose(there.difference, [-part for part in back.difference])
    assert np.linalg.eigvalsh(there.covariance.rows()).min() > 0


def test_errors_are_shared_less_the_further_colours_lie_apart():
    at = [shared_part(np.zeros(3), np.array([d, 0.0, 0.0])) for d in (0, 5, 20, 60)]
    assert at == sorted(at, reverse=True)
    assert 0 < at[-1] < 0.1 < 0.7 < at[0] < 1


def mottled(zone, *colours):
    return replace(zone, colours=tuple(ColourShare(Lab(*lab), share) for lab, share in colours))


def test_speckles_of_one_mean_are_told_by_their_colours(read):
    zone = read.zones[0]
    fine = mottled(zone, ((50.0, 0, 0), 0.5), ((54.0, 0, 0), 0.5))
    coarse = mottled(zone, ((42.0, 0, 0), 0.5), ((62.0, 0, 0), 0.5))
    assert by_colours(zone, zone) is None
    assert by_colours(fine, fine) == 0.0
    apart = by_colours(fine, coarse)
    # each half moves by 8 in L*, and no cheaper way leads there
    expected = np.mean([delta_e_2000(np.array([50.0, 0, 0]), np.array([42.0, 0, 0])),
                        delta_e_2000(np.array([54.0, 0, 0]), np.array([62.0, 0, 0]))])  # fmt: skip
    assert apart == pytest.approx(expected)
    assert by_colours(coarse, fine) == pytest.approx(apart)
    found = compare_zones(fine, coarse)
    assert found.by_colours_de00 == pytest.approx(apart)
    assert not found.told_apart


def test_a_share_that_is_larger_costs_what_has_to_move(read):
    zone = read.zones[0]
    some = mottled(zone, ((50.0, 0, 0), 0.8), ((70.0, 0, 0), 0.2))
    more = mottled(zone, ((50.0, 0, 0), 0.6), ((70.0, 0, 0), 0.4))
    whole = float(delta_e_2000(np.array([50.0, 0, 0]), np.array([70.0, 0, 0])))
    assert by_colours(some, more) == pytest.approx(0.2 * whole)


def test_a_zone_that_was_not_read_is_a_problem(read):
    with pytest.raises(StudioProblem, match="compare-zone-missing") as caught:
        compare(read, "Z1", "Z9")
    assert caught.value.where.zone == "Z9"
