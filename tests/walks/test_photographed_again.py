"""``swatch self-test`` as called."""

import json
import shutil

import cv2
import pytest

from swatch.cli.main import run
from swatch.resources import demo_tiles


@pytest.fixture
def again(tmp_path, monkeypatch):
    """Three photos of the same four tiles: one as it is, two coded anew and a little darker."""
    monkeypatch.chdir(tmp_path)
    shutil.copy(demo_tiles() / "bare_bodies.jpg", "one.jpg")
    shutil.copy(demo_tiles() / "bare_bodies.zones.json", "zones.json")
    levels = cv2.imread("one.jpg")
    cv2.imwrite("two.jpg", cv2.convertScaleAbs(levels, alpha=0.97), [cv2.IMWRITE_JPEG_QUALITY, 80])
    cv2.imwrite("bad.jpg", levels[:, -levels.shape[1] // 3 :])
    return tmp_path


def called(words, capfd):
    status = run(["self-test", *words, "--zones", "zones.json", "--json"], lambda folder: 0)
    said = capfd.readouterr()
    return status, json.loads(said.out) if said.out else None, said.err


def test_two_photos_of_the_same_tiles_tell_how_well_measuring_repeats(again, capfd):
    status, whole, _ = called(["one.jpg", "two.jpg"], capfd)
    found = whole["self_test"]
    assert status == 0
    assert 0.0 < found["repeatability_de00"] < 1.5 < found["mean_u95_de00"]
    assert found["reproducibility_de00"] is None
    assert found["measuring_de00"] == found["repeatability_de00"]
    assert len(found["zones"]) == 4
    assert len(whole["photos"]) == 2


def test_a_refused_photo_leaves_too_little_and_is_named(again, capfd):
    status, whole, err = called(["one.jpg", "bad.jpg"], capfd)
    assert status == 3
    assert whole["self_test"] is None
    assert {"card-not-found", "self-test-too-few-photos"} <= {problem["code"] for problem in whole["problems"]}
    assert "bad.jpg" in err


@pytest.mark.parametrize(
    "words", [["one.jpg"], ["one.jpg", "one.jpg"], ["one.jpg", "two.jpg", "--then", "bad.jpg"]]
)
def test_words_that_do_not_go_together(again, capfd, words):
    status, whole, err = called(words, capfd)
    assert (status, whole) == (2, None)
    assert "self-test" in err


def test_people_get_sentences(again, capfd):
    assert run(["self-test", "one.jpg", "two.jpg", "--zones", "zones.json"], lambda folder: 0) == 0
    assert "95 % of readings stay within" in capfd.readouterr().out
