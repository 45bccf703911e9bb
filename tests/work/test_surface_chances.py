from __future__ import annotations

from dataclasses import replace

import pytest
from small_studio import FIELDS, make_studio, reading

from swatch.cli.entries import prediction_entry
from swatch.library.studio import Studio
from swatch.terms.answers import Question
from swatch.terms.cone import Cone
from swatch.terms.evidence import Sheen
from swatch.terms.layering import parse_layers
from swatch.wording.surface import surface_in_words
from swatch.work.predict import predict

WITH_FAULTS = FIELDS | {"faults"}


def _asked(layers):
    return Question(parse_layers(layers), "Palebank", Cone(6.0))


@pytest.fixture
def folder(tmp_path):
    made = make_studio(tmp_path / "studio")
    with Studio.open(made) as studio:
        tiles = [
            replace(reading(f"C{i}", "A", "Moss > Amber", (36.0 + i, 0.0, 20.0)), faults=("crazed",) * (i < 4))
            for i in range(6)
        ]
        # A second photo of a zone is no second tile.
        studio.put_readings([*tiles, replace(tiles[5], reading=2)], WITH_FAULTS)
    return made


def test_chances_of_sheen_and_faults_come_with_a_prediction(folder):
    (said,) = predict(folder, [_asked("Moss > Amber")])
    sheen, faults = dict(said.surface.sheen), dict(said.surface.faults)
    assert sheen[Sheen.GLOSS] > 0.8
    assert sum(sheen.values()) == pytest.approx(1.0)
    assert set(faults) == {"crazed"}  # no other was ever seen here
    assert 0.4 < faults["crazed"] < 0.7
    assert said.surface.tiles == pytest.approx(6 * 1.0 + 1.0 + 0.4, abs=0.05)
    entry = prediction_entry(said)["surface"]
    assert entry["faults"]["crazed"] == pytest.approx(faults["crazed"], abs=1e-3)
    assert "crazed" in surface_in_words(said.surface)


def test_without_enough_tiles_like_it_nothing_is_said(folder):
    (said,) = predict(folder, [_asked("Amber > Moss")])
    assert said.surface is None
    assert "surface" not in prediction_entry(said)
