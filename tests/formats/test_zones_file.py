"""Zones files: what is read and what is refused."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swatch.formats.zones_file import read_zones, write_zones
from swatch.terms.measured import ZoneShape
from swatch.terms.problems import StudioProblem

SQUARE = [[0, 0], [10, 0], [10, 10], [0, 10]]


def refused(data: bytes) -> StudioProblem:
    with pytest.raises(StudioProblem) as caught:
        read_zones(data, "z.json")
    return caught.value


def test_zones_are_read_in_the_file_s_order():
    zones = read_zones(json.dumps({"zones": [{"zone": " B  2", "polygon": SQUARE}]}).encode(), "z.json")
    assert zones == (ZoneShape("B 2", ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))),)


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"", "empty-file"),
        (b"%PDF-1.7", "zones-not-json"),
        (b"[]", "zones-not-json"),
        (b'{"zones": []}', "zones-not-json"),
        (b'{"zones": [{"polygon": []}]}', "zones-not-json"),
        (b'{"zones": [{"zone": "a\\nb", "polygon": []}]}'.replace(b"\\n", b"\\u0007"), "zones-not-json"),
        (b'{"zones": [{"zone": "A", "polygon": [[0, 0], [1, NaN], [2, 2]]}]}', "zones-not-json"),
        (b'{"zones": [{"zone": "A", "polygon": [[0, 0], [9, 9]]}]}', "zone-bad-outline"),
        (b'{"zones": [{"zone": "A", "polygon": [[0, 0], [9, 9], [5, 5]]}]}', "zone-bad-outline"),
        (b'{"zones": [{"zone": "A", "polygon": [[0, 0], [1e400, 9], [5, 0]]}]}', "zone-bad-outline"),
        (b'{"zones": [{"zone": "A", "polygon": [[0, 0], [' + b"9" * 400 + b", 9], [5, 0]]}]}", "zone-bad-outline"),
        (b'{"zones": [{"zone": "A", "polygon": [[0, true], [9, 9], [5, 0]]}]}', "zone-bad-outline"),
        (b'{"zones": ' + b"[" * 100_000, "zones-not-json"),
        (b'{"zones": ' + b"9" * 10_000 + b"}", "zones-not-json"),
    ],
)
def test_what_is_no_zones_file_is_refused(data, code):
    problem = refused(data)
    assert (problem.code, problem.where.file) == (code, "z.json")


def test_two_zones_of_one_name_are_refused_by_name():
    zones = [{"zone": "A", "polygon": SQUARE}] * 2
    problem = refused(json.dumps({"zones": zones}).encode())
    assert (problem.code, problem.where.zone) == ("zone-twice", "A")


@given(st.recursive(st.none() | st.booleans() | st.floats() | st.text(), lambda x: st.lists(x) | st.dictionaries(
    st.sampled_from(["zones", "zone", "polygon"]), x), max_leaves=12))  # fmt: skip
def test_any_json_gives_zones_or_a_placed_problem(value):
    try:
        read_zones(json.dumps(value).encode(), "z.json")
    except StudioProblem as caught:
        problem = caught
    else:
        return
    assert problem.where.file == "z.json"


@given(st.integers(3, 12), st.floats(-1000, 1000), st.floats(2, 500))
def test_zones_written_come_back_the_same(corners, centre, radius):
    import math

    turn = [2 * math.pi * i / corners for i in range(corners)]
    shape = ZoneShape("Zoné", tuple((centre + radius * math.cos(t), radius * math.sin(t)) for t in turn))
    assert read_zones(write_zones((shape,)), "z.json") == (shape,)
