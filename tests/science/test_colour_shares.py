import numpy as np

from bench.painted import chart, jpeg_of, paint
from swatch.science.colour_math import delta_e_2000
from swatch.science.colour_shares import colour_shares, is_mottled
from swatch.science.measuring import decode, measure


def breaking(shares=(0.5, 0.3, 0.2), grain=0.5, n=1500, seed=1):
    """Pixels of a glaze that breaks from blue over tan to rust."""
    rng = np.random.default_rng(seed)
    colours = np.array([[38.0, -4.0, -22.0], [58.0, 6.0, 18.0], [40.0, 24.0, 26.0]])
    which = rng.choice(3, n, p=shares)
    return colours, colours[which] + rng.normal(0, grain, (n, 3))


def test_three_colours_come_back_with_their_shares():
    colours, pixels = breaking()
    found = colour_shares(pixels)
    assert len(found) == 3
    assert abs(sum(share for _, share in found) - 1) < 1e-9
    for (lab, share), colour, wanted in zip(found, colours, (0.5, 0.3, 0.2), strict=True):
        assert delta_e_2000(lab, colour) < 0.5
        assert abs(share - wanted) < 0.04


def test_specks_do_not_move_the_colours_and_the_order_of_pixels_is_nothing():
    colours, pixels = breaking()
    spoilt = pixels.copy()
    spoilt[::101] = [98.0, 0.0, 0.0]
    found = colour_shares(spoilt)
    for (lab, _), colour in zip(found[:3], colours, strict=True):
        assert delta_e_2000(lab, colour) < 1.5
    again = colour_shares(pixels[np.random.default_rng(9).permutation(len(pixels))])
    for (one, share), (two, other) in zip(colour_shares(pixels), again, strict=True):
        assert delta_e_2000(one, two) < 0.1
        assert abs(share - other) < 0.01


def test_a_plain_surface_has_one_colour_and_a_slope_has_several():
    rng = np.random.default_rng(4)
    assert not is_mottled(np.array([50.0, 10.0, 10.0]) + rng.normal(0, 0.8, (800, 3)))
    slope = np.linspace([30.0, 5.0, 0.0], [70.0, 5.0, 30.0], 1000)
    assert is_mottled(slope)
    found = colour_shares(slope)
    assert 3 <= len(found) <= 5
    assert min(share for _, share in found) > 0.04


def test_a_zone_of_a_photo_is_described():
    rng = np.random.default_rng(2)
    colours, _ = breaking()
    pattern = colours[rng.choice(3, (11, 11), p=(0.5, 0.3, 0.2))]
    painted = paint([pattern, (55.0, 0.0, 2.0)])
    plain_of = {"Z1": False, "Z2": True}
    read = measure(decode(jpeg_of(painted), "a"), chart(), painted.zones, photo="a")
    for zone in read.zones:
        assert (zone.colours == ()) is plain_of[zone.zone]
    mottled = read.zones[0]
    assert 3 <= len(mottled.colours) <= 5
    assert abs(sum(one.share for one in mottled.colours) - 1) < 1e-9
    for colour in colours:
        assert min(float(delta_e_2000(np.array(one.lab), colour)) for one in mottled.colours) < 3.0
