from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from swatch.desk.photo_work import (
    ZoneEntry,
    in_bands,
    next_tile,
    next_zone,
    split_name,
    step_zones,
    with_tap,
    with_wipe,
    without_tap,
)
from swatch.terms.evidence import Stage
from swatch.terms.layering import Layer, format_layers

jars = st.sampled_from(["Moss", "Amber", "Clear"])


def test_a_jar_tapped_again_is_another_coat():
    layers = with_tap(with_tap(with_tap(None, "Moss"), "Moss"), "Amber")
    assert format_layers(layers) == "Moss*2 > Amber"


def test_a_wiped_layer_takes_no_more_coats():
    assert format_layers(with_tap(with_wipe((Layer("Rill"),)), "Rill")) == "Rill (wiped) > Rill"


@given(st.lists(jars, max_size=8))
def test_every_tap_can_be_taken_back(taps):
    states = [None]
    for jar in taps:
        states.append(with_tap(states[-1], jar))
    layers = states[-1]
    for before in reversed(states[:-1]):
        layers = without_tap(layers)
        assert layers == before


def test_names_go_on_from_the_highest():
    assert next_tile(["T-007", "T-041", "x"]) == "T-042"
    assert next_tile(["T9"]) == "T10"
    assert next_tile([]) == "T-001"
    assert next_zone(["A", "b"]) == "C"


def test_a_zone_in_a_photo_names_tile_and_zone():
    assert split_name("T01 A") == ("T01", "A")
    assert split_name("Big tile B1") == ("Big tile", "B1")
    assert split_name("A1") == ("A1", "A")


def test_a_zone_lacks_layers_then_body_then_cone():
    entry = ZoneEntry("z", ((0.0, 0.0),), "T1", "A")
    assert entry.lacks == "layers"
    raw = ZoneEntry("z", ((0.0, 0.0),), "T1", "A", layers=(), stage=Stage.RAW)
    assert raw.lacks == ""
    assert ZoneEntry("z", ((0.0, 0.0),), "T1", "A", layers=()).lacks == "body"
    assert ZoneEntry("z", ((0.0, 0.0),), "T1", "A", body="Buff", layers=()).lacks == "cone"


def test_a_step_tile_is_thickest_at_the_top():
    square = ((0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (0.0, 9.0))
    entry = ZoneEntry("z", square, "T1", "A", layers=(Layer("Moss"), Layer("Clear")))
    zones = step_zones(entry)
    assert [(zone.zone, format_layers(zone.layers)) for zone in zones] == [
        ("A", "Moss > Clear*3"),
        ("B", "Moss > Clear*2"),
        ("C", "Moss > Clear"),
    ]
    assert zones[0].polygon == ((0.0, 0.0), (9.0, 0.0), (9.0, 3.0), (0.0, 3.0))
    assert len({zone.key for zone in zones}) == 3


@given(st.integers(1, 6))
def test_bands_fill_the_outline_without_overlap(n):
    square = ((1.0, 2.0), (8.0, 2.5), (9.0, 9.0), (0.0, 8.0))

    def area(points):
        pairs = zip(points, (*points[1:], points[0]), strict=True)
        return abs(sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairs)) / 2

    bands = in_bands(square, n)
    assert abs(sum(map(area, bands)) - area(square)) < 1e-9
    assert all(a[2] == b[1] and a[3] == b[0] for a, b in pairwise(bands))
