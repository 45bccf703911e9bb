"""A card with patches that are not as published: learnt under several lights, used without narrowing any doubt."""

import json

import numpy as np
import pytest

from bench.painted import chart, jpeg_of, light_of, paint
from swatch.cli.main import run
from swatch.formats.zones_file import write_zones
from swatch.science.colour_math import delta_e_2000
from swatch.terms.problems import StudioProblem
from swatch.work.measure import MeasureRequest, measure_photos
from swatch.work.own_card import OwnCardRequest, learn_own_card

FADED = {7: (54.0, 8.0, -20.0), 14: (46.0, 44.0, 22.0), 2: (53.0, -5.0, -17.0)}  # patch index: its colour now
LIGHTS = ((1.0, 1.0, 1.0), (1.12, 1.0, 0.8), (0.92, 1.0, 1.1))


@pytest.fixture
def photos(tmp_path, monkeypatch):
    """Three photos of one faded card, each under another lamp, and the zones in them."""
    monkeypatch.chdir(tmp_path)
    names = []
    for k, tint in enumerate(LIGHTS):
        painted = paint(tint=tint, seed=k)
        for patch, lab in FADED.items():
            y, x = 130 + 58 * (patch // 6), 60 + 58 * (patch % 6)
            painted.light[y : y + 50, x : x + 50] = light_of(lab) * 0.85 * np.array(tint)
        names.append(f"{k}.jpg")
        (tmp_path / names[-1]).write_bytes(jpeg_of(painted))
    (tmp_path / "zones.json").write_bytes(write_zones(painted.zones))
    return names


def test_patches_move_towards_what_they_are_and_no_doubt_gets_smaller(photos, tmp_path):
    learnt = learn_own_card(OwnCardRequest(tuple(photos), "own.txt"))
    assert (learnt.photos, learnt.lights) == (3, 3)
    published = chart().lab
    for patch, lab in FADED.items():
        before, after = (float(delta_e_2000(np.array(one[patch]), lab)) for one in (published, learnt.card.lab))
        assert after < 0.8 * before
    plain, own = (
        measure_photos(MeasureRequest(tuple(photos), zones="zones.json", own_card=card)).photos
        for card in (None, "own.txt")
    )
    truth = paint().truth
    off = []
    for one, other in zip(plain, own, strict=True):
        assert (one.verdict, one.card, [n.code for n in one.warnings]) == (
            other.verdict,
            other.card,
            [n.code for n in other.warnings],
        )
        for first, second in zip(one.zones, other.zones, strict=True):
            assert second.u95_de00 > 0.9 * first.u95_de00
            off.append([float(delta_e_2000(np.array(z.lab), truth[z.zone])) for z in (first, second)])
    assert np.mean(off, axis=0)[1] < np.mean(off, axis=0)[0]


def test_one_light_is_not_enough_and_nothing_is_written(photos, tmp_path):
    learnt = learn_own_card(OwnCardRequest((photos[0], photos[0]), "own.txt"))
    assert learnt.card is None
    assert [problem.code for problem in learnt.problems] == ["own-card-too-few"]
    assert not (tmp_path / "own.txt").exists()


def test_a_photo_is_never_written_over(photos, tmp_path):
    before = (tmp_path / photos[0]).read_bytes()
    with pytest.raises(StudioProblem, match="file-not-written"):
        learn_own_card(OwnCardRequest(tuple(photos), photos[0]))
    assert (tmp_path / photos[0]).read_bytes() == before


def test_the_command_says_that_it_is_no_truer(photos, capfd):
    assert run(["learn-card", *photos, "--out", "own.txt"], lambda folder: 0) == 0
    assert "no truer" in capfd.readouterr().out
    assert run(["measure", photos[0], "--own-card", "zones.json", "--json"], lambda folder: 0) == 3
    assert json.loads(capfd.readouterr().out)["problems"][0]["where"]["file"] == "zones.json"
