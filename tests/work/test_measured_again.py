"""Photos on record measured again: changes are told first, kept only when asked, taken back by one undo."""

import json
import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from bench.painted import jpeg_of, paint
from swatch.cli.main import run
from swatch.formats.zones_file import write_zones
from swatch.library.kept_photos import kept_photos
from swatch.library.studio import Studio
from swatch.terms.cone import Cone
from swatch.terms.evidence import ZoneReading
from swatch.terms.layering import Layer
from swatch.work.measure import MeasureRequest, measure_photos
from swatch.work.measured_again import AgainRequest, again_in


@pytest.fixture(scope="module")
def built(tmp_path_factory):
    """A studio with the readings of one photo, one of which was kept 5 L* too light, by another program."""
    folder = tmp_path_factory.mktemp("again")
    painted = paint(seed=3)
    photo, zones = folder / "kiln.jpg", folder / "zones.json"
    photo.write_bytes(jpeg_of(painted))
    zones.write_bytes(write_zones(painted.zones))
    (read,) = measure_photos(MeasureRequest((str(photo),), zones=str(zones))).photos
    kept = []
    for k, zone in enumerate(read.zones[:3]):
        lab = zone.lab._replace(L=zone.lab.L + 5) if k == 0 else zone.lab
        layers = (Layer("Moss"),)
        value = ZoneReading(f"T{k}", "A", lab, zone.covariance, body="Buff", layers=layers, cone=Cone(6.0))
        kept.append((replace(zone, lab=lab), value))
    with Studio.create(folder / "shed") as studio:
        studio.keep_shot(photo, read, kept)
    return folder / "shed"


@pytest.fixture
def shed(built, tmp_path):
    return Path(shutil.copytree(built, tmp_path / "shed"))


def test_what_would_change_is_told_and_nothing_is_changed(shed, capfd):
    before = (shed / "studio.sqlite").read_bytes()
    words = ["measure", "--again", "kiln.jpg", "other.jpg", "--studio", str(shed), "--json"]
    assert run(words, lambda folder: 0) == 4
    said = capfd.readouterr()
    whole = json.loads(said.out)
    (photo,) = whole["again"]
    assert photo["photo"] == "kiln.jpg"
    first, *others = photo["zones"]
    assert (first["tile"], first["zone"], first["stage"], first["reading"]) == ("T0", "A", "fired", 1)
    assert first["before"]["lab"][0] - first["now"]["lab"][0] == pytest.approx(5, abs=0.02)
    assert first["moved_de00"] > 3
    assert first["before"]["u95_de00"] == pytest.approx(first["now"]["u95_de00"], abs=0.5)
    assert all(zone["moved_de00"] == 0 for zone in others)
    assert whole["kept"] == 0
    assert (shed / "studio.sqlite").read_bytes() == before
    assert [problem["code"] for problem in whole["problems"]] == ["photo-not-kept"]
    assert "other.jpg" in said.err


def test_keeping_replaces_colours_only_and_one_undo_takes_it_back(shed):
    with Studio.open(shed) as studio:
        before = studio.evidence().readings
        assert again_in(studio, AgainRequest(keep=True)).kept == 3
        after = studio.evidence().readings
        assert len(after) == len(before)
        moved = before[0].lab.L - after[0].lab.L
        assert moved == pytest.approx(5, abs=0.02)
        for old, new in zip(before, after, strict=True):
            assert replace(new, lab=old.lab, covariance=old.covariance) == old
        studio.undo()
        assert studio.evidence().readings == before


def test_a_reading_set_aside_is_left_alone(shed, capfd):
    with Studio.open(shed) as studio:
        readings = [reading.id for tile in studio.tiles() for zone in tile.zones for reading in zone.readings]
        studio.set_aside(readings[:1])
        (photo,) = kept_photos(studio.file)
        assert [zone.tile for zone in photo.zones] == ["T1", "T2"]
        studio.set_aside(readings[1:])
    assert run(["measure", "--again", "--studio", str(shed), "--json"], lambda folder: 0) == 3
    assert [problem["code"] for problem in json.loads(capfd.readouterr().out)["problems"]] == ["no-kept-photos"]


@pytest.mark.parametrize("words", [["--keep", "a.jpg"], [], ["--again", "--merge"], ["--again", "--zones", "z"]])
def test_words_that_do_not_go_together(capfd, words):
    assert run(["measure", *words], lambda folder: 0) == 2
