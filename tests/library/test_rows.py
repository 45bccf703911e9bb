"""Lists of tiles: what was set aside is in them, with the photo a reading comes from."""

from __future__ import annotations

import dataclasses

from kept_by_hand import photo_in, read_of, reading

from swatch.library.rows import find
from swatch.terms.cone import Cone
from swatch.terms.evidence import Sheen
from swatch.terms.layering import parse_layers


def test_a_tile_row_tells_zones_readings_and_photo(studio, tmp_path):
    photo = photo_in(tmp_path, "a.jpg")
    path, read, _ = read_of(photo)
    one = reading("T1", 50, firing="F1", cone=Cone(6.0), layers=parse_layers("Rill*2 > Vale"), sheen=Sheen.MATT,
        body="Pale", faults=("ran",), lot="L1", method="dipped", shelf="top")  # fmt: skip
    two = (one[0], dataclasses.replace(one[1], zone="B", layers=()))
    ids = studio.keep_shot(path, read, [one, two])
    studio.set_aside(ids[1:])
    (tile,) = studio.tiles()
    assert (tile.name, tile.body, [zone.name for zone in tile.zones]) == ("T1", "Pale", ["A", "B"])
    (a,), (b,) = (zone.readings for zone in tile.zones)
    assert (a.id, a.set_aside, b.id, b.set_aside) == (ids[0], False, ids[1], True)
    kept = studio.evidence().readings[0]
    shared = {field.name for field in dataclasses.fields(kept)} & {field.name for field in dataclasses.fields(a)}
    assert {name: getattr(a, name) for name in shared} == {name: getattr(kept, name) for name in shared}
    assert a.photo is not None
    assert a.photo.path.read_bytes() == photo.read_bytes()
    assert a.warnings[0].where.photo == "a.jpg"
    assert a.variation_de00 == 1.25
    assert a.photo.thumbnail == b.photo.thumbnail  # the same outline in the same photo


def test_a_search_finds_every_word_in_any_order_and_case(studio, tmp_path):
    path, read, _ = read_of(photo_in(tmp_path, "a.jpg"))
    kept = [
        reading("T1", 1, firing="May 3", cone=Cone(-5.0), layers=parse_layers("Rill*2 > Vale"), faults=("ran",))
    ]
    studio.keep_shot(path, read, [*kept, reading("T2", 1, body="Éclair")])
    rows = studio.tiles()
    for text, found in (
        ("VALE rill", ["T1"]), ("cone 06", ["T1"]), ("may", ["T1"]), ("ran", ["T1"]), ("éCLAIR", ["T2"]),
        ("", ["T1", "T2"]), ("t", ["T1", "T2"]), ("rill éclair", []),
    ):  # fmt: skip
        assert [row.name for row in find(rows, text)] == found, text
    assert studio.bodies() == ("Éclair",)
