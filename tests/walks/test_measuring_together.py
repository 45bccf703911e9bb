"""Comparing and merging from the command line, through the worker."""

import json

import pytest

from bench.painted import COLOURS, jpeg_of, paint
from swatch.__main__ import main


@pytest.fixture
def place(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    for k, gloss in enumerate(((0.25, 0.3), (0.75, 0.6))):
        painted = paint(COLOURS[:2], gloss=gloss, seed=k)
        (tmp_path / f"{'ab'[k]}.jpg").write_bytes(jpeg_of(painted))
    zones = [{"zone": shape.zone, "polygon": shape.polygon} for shape in painted.zones]
    (tmp_path / "z.json").write_text(json.dumps({"zones": zones}))
    return tmp_path


def test_two_photos_are_merged_and_zones_compared(place, capfd):
    words = ["measure", "a.jpg", "b.jpg", "--zones", "z.json", "--merge", "--compare", "Z1,Z2"]
    assert main([*words, "--json"]) == 0
    whole = json.loads(capfd.readouterr().out)
    assert [photo["photo"] for photo in whole["photos"]] == ["a.jpg", "b.jpg"]
    assert whole["merged"]["photos"] == ["a.jpg", "b.jpg"]
    assert [zone["zone"] for zone in whole["merged"]["zones"]] == ["Z1", "Z2"]
    assert whole["merged"]["zones"][0]["used_share"] >= whole["photos"][0]["zones"][0]["used_share"]
    (found,) = whole["photos"][0]["comparisons"]
    assert (found["zones"], found["told_apart"]) == (["Z1", "Z2"], True)
    assert found["de00_95"][0] < found["de00"] < found["de00_95"][1]
    assert whole["merged"]["comparisons"][0]["told_apart"]


def test_in_words_and_with_a_bad_photo_beside(place, capfd):
    (place / "c.jpg").write_bytes(b"%PDF-1.7")
    assert main(["measure", "a.jpg", "b.jpg", "c.jpg", "--zones", "z.json", "--merge", "--compare", "Z1,Z9"]) == 4
    said = capfd.readouterr()
    assert "2 photos merged" in said.out
    assert "Z9" in said.err
    assert "c.jpg" in said.err


def test_wrong_calls_are_status_2(place, capfd):
    assert main(["measure", "a.jpg", "--merge"]) == 2
    assert main(["measure", "a.jpg", "--compare", "Z1"]) == 2
    assert main(["measure", "a.jpg", "--compare", "Z1,Z1"]) == 2
    capfd.readouterr()
