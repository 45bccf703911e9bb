"""``swatch measure`` as called: what goes with the photo fails, and what was read of it stands."""

import json
import shutil

import cv2
import numpy as np
import pytest

from swatch.cli.main import run
from swatch.resources import demo_tiles


def main(words):
    return run(words, lambda folder: 0)


@pytest.fixture
def photo(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    for name in ("reference_shutter.jpg", "reference_shutter.zones.json"):
        shutil.copy(demo_tiles() / name, tmp_path / name)
    return ["measure", "reference_shutter.jpg", "--zones", "reference_shutter.zones.json", "--json"]


def answer(capfd):
    return json.loads(capfd.readouterr().out)


def test_an_overlay_that_cannot_be_written_leaves_the_photo_read(photo, capfd, tmp_path):
    before = sorted(path.name for path in tmp_path.iterdir())
    assert main([*photo, "--overlay", "no/such/folder/seen.png"]) == 4
    whole = answer(capfd)
    assert [len(one["zones"]) for one in whole["photos"]] == [1]
    (problem,) = whole["problems"]
    assert (problem["code"], problem["where"]["file"]) == ("file-not-written", "no/such/folder/seen.png")
    assert problem["next_step"]
    assert sorted(path.name for path in tmp_path.iterdir()) == before


def test_an_overlay_is_written_beside_the_answer(photo, capfd, tmp_path):
    assert main([*photo, "--overlay", "seen.png"]) == 0
    assert len(answer(capfd)["photos"][0]["zones"]) == 1
    assert cv2.imread(str(tmp_path / "seen.png")).shape[2] == 3


@pytest.mark.parametrize("kind", ["blank-shows-card", "blank-not-even"])
def test_a_blank_photo_that_is_none_is_refused(photo, capfd, tmp_path, kind):
    levels = cv2.imread(str(tmp_path / "reference_shutter.jpg"))
    if kind == "blank-shows-card":  # the card alone, on a large plain sheet
        high, wide = levels.shape[:2]
        small = cv2.resize(levels, (wide // 4, high // 4), interpolation=cv2.INTER_AREA)
        levels[:] = 200
        levels[: high // 4, : wide // 4] = small
    else:
        levels[:, ::2] = levels[:, ::2] // 2
        levels = np.kron(np.random.default_rng(3).integers(60, 220, (30, 40, 1)), np.ones((40, 40, 3))).astype(
            np.uint8
        )
        levels = cv2.resize(levels, (1600, 1200))
    cv2.imwrite(str(tmp_path / "blank.jpg"), levels)
    assert main([*photo, "--blank", "blank.jpg"]) == 3
    whole = answer(capfd)
    assert whole["photos"] == []
    assert [problem["code"] for problem in whole["problems"]] == [kind]
    assert whole["problems"][0]["next_step"]


def test_a_photo_is_read_by_a_neutral_point_and_serves_as_a_target(photo, capfd, demo_answers):
    assert main([*photo, "--neutral", "900,600", "--neutral-lightness", "93"]) == 0
    (read,) = answer(capfd)["photos"]
    assert (read["card"], read["verdict"]) == (None, "usable")
    assert [warning["code"] for warning in read["warnings"]] == ["neutral-only"]
    (zone,) = read["zones"]
    assert zone["u95_de00"] > 5
    chances = []
    for more in ([], ["--target-u", f"{zone['u95_de00'] / 1.6:.2f}"]):
        target = ",".join(map(str, zone["lab"]))
        words = [
            "match",
            "--studio",
            str(demo_answers.folder),
            "--target",
            target,
            "--body",
            "Palebank",
            "--cone",
            "6",
        ]
        assert main([*words, "--top", "1", "--json", *more]) == 0
        chances.append(answer(capfd)["suggestions"][0]["de00_80"])
    assert chances[1][1] > chances[0][1]


@pytest.mark.parametrize(
    "words",
    [
        ["--neutral-lightness", "94"],
        ["--neutral", "10,10", "--blank", "b.jpg"],
        ["--neutral", "10"],
    ],
)
def test_words_that_do_not_go_with_a_neutral_point(photo, words):
    assert main([*photo, *words]) == 2


def test_a_neutral_point_needs_zones(photo):
    assert main(["measure", "reference_shutter.jpg", "--neutral", "10,10"]) == 2
