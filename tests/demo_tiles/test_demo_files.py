"""The demo studio's files: as their makers would make them today, whole, in the public formats."""

import csv
import json
from pathlib import Path

import cv2
import numpy as np
import pytest

from demo_tiles import make, tables, tiles
from demo_tiles.studio import BODIES, DISCONTINUED, MATERIALS
from swatch.formats.tables import read_editions, read_firings, read_materials, read_weighings, read_witness
from swatch.formats.zones_file import read_zones
from swatch.resources import demo_tiles
from swatch.terms.layering import parse_layers

FOLDER = demo_tiles()
ROOT = Path(__file__).parents[2]


def _layers():
    with (FOLDER / "layers.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def _truth():
    return json.loads((FOLDER / "truth.json").read_text())


def test_tables_are_what_would_be_written_today():
    for name, data in tables.tables().items():
        assert (FOLDER / name).read_bytes() == data, name


@pytest.mark.parametrize(
    ("name", "read", "rows"),
    [
        ("materials.csv", read_materials, 15), ("firings.csv", read_firings, 6), ("witness.csv", read_witness, 18),
        ("editions.csv", read_editions, 7), ("weighings.csv", read_weighings, 7),
    ],
)  # fmt: skip
def test_tables_are_in_the_public_formats(name, read, rows):
    table = read((FOLDER / name).read_bytes(), name)
    assert len(table.rows) == rows
    assert not table.unknown_columns
    assert not table.notices


def test_layers_name_only_what_the_studio_has():
    firings = {firing.name for firing in tiles.FIRINGS}
    rows = _layers()
    for row in rows:
        assert row["body"] in BODIES
        assert row["stage"] in ("fired", "raw")
        assert (row["firing"] in firings) == (row["stage"] == "fired")
        assert {layer.material for layer in parse_layers(row["layers"])} <= set(MATERIALS)
    fired = [row for row in rows if row["stage"] == "fired" and row["layers"]]
    assert 60 <= len({row["tile"] for row in fired}) <= 72
    assert len(fired) >= 90
    assert {row["layers"] for row in rows if row["stage"] == "raw"} == set(MATERIALS)
    bare = {(row["body"], row["firing"]) for row in rows if row["stage"] == "fired" and not row["layers"]}
    assert len(bare) == 4
    assert {row["body"] for row in fired if DISCONTINUED in row["layers"]} == set(BODIES)
    assert len({(row["tile"], row["zone"]) for row in rows}) == len(rows)


def test_every_zone_has_an_outline_in_its_photo_and_a_truth():
    wanted = {(row["photo"], row["zone_in_photo"]) for row in _layers()}
    demo = json.loads((FOLDER / "demo.json").read_text())
    wanted.add((demo["reference_photo"], demo["reference_zone"]))
    outlined = set()
    for photo in tiles.PHOTOS:
        name = photo.name.replace(".jpg", ".zones.json")
        for zone in read_zones((FOLDER / name).read_bytes(), name):
            outlined.add((photo.name, zone.zone))
            corners = np.array(zone.polygon)
            assert corners.min() > 0
            assert (corners < make.SIZE).all()
            assert cv2.contourArea(corners.astype(np.float32)) > 5000
    assert outlined == wanted
    assert {(row["photo"], row["zone_in_photo"]) for row in _truth()["zones"]} == wanted


def test_photos_are_photos_of_the_stated_size_and_weight():
    photos = sorted(FOLDER.glob("*.jpg"))
    assert [path.name for path in photos] == sorted(photo.name for photo in tiles.PHOTOS)
    assert sum(path.stat().st_size for path in photos) < 8_000_000
    for path in photos:
        assert cv2.imread(str(path)).shape == (make.SIZE[1], make.SIZE[0], 3)
        assert b"Invented" in path.read_bytes()


def test_program_never_reads_the_truth():
    for source in (ROOT / "swatch").rglob("*.py"):
        assert "truth.json" not in source.read_text(encoding="utf-8"), source


def test_a_photo_made_again_is_the_same():
    name = "bare_bodies.jpg"
    photo = next(photo for photo in tiles.PHOTOS if photo.name == name)
    rgb, drawn, to_photo = make.render(photo)
    again = cv2.imdecode(np.frombuffer(make.jpeg_bytes(rgb), np.uint8), cv2.IMREAD_COLOR).astype(int)
    kept = cv2.imread(str(FOLDER / name)).astype(int)
    # Other library versions may round a pixel otherwise; JPEG spreads that over its block.
    assert np.abs(again - kept).mean() < 0.5
    assert np.percentile(np.abs(again - kept), 99.9) <= 8
    zones = json.loads((FOLDER / name.replace(".jpg", ".zones.json")).read_text())["zones"]
    for made, old in zip(make.zones_json(drawn, to_photo)["zones"], zones, strict=True):
        assert made["zone"] == old["zone"]
        assert np.abs(np.array(made["polygon"]) - np.array(old["polygon"])).max() <= 1
    truth = {row["zone_in_photo"]: row["lab"] for row in _truth()["zones"] if row["photo"] == name}
    for one in drawn:
        assert one.lab == pytest.approx(truth[one.zone], abs=0.02)
