"""What is told of tiles beside their colour bears on answers; each told by the public files of a small studio."""

from __future__ import annotations

import contextlib
import csv
import io
import itertools
import json

import numpy as np
import pytest

from swatch.__main__ import main
from swatch.science import optics
from swatch.science.studio_data import BRUSHED, SPRAYED
from swatch.work.learn import learnt

MATERIALS = {
    # kind, ln K/S or ln K in blue, green and red, ln S a coat
    "Fen Black": ("underglaze", (1.2, 1.1, 1.0), 0.7),
    "Low Rose": ("underglaze", (-0.6, 0.4, -2.2), 0.7),
    "Gorse": ("underglaze", (1.0, -1.0, -2.4), 0.7),
    "Tarn": ("glaze", (-2.6, -1.8, -0.4), -2.2),
    "Honey": ("glaze", (-0.2, -1.3, -2.4), -2.2),
    "Clear Rill": ("clear", (-4.0, -4.2, -4.3), -3.2),
}
BODY = np.linspace(0.7, 0.8, 8)


def colour(layers, hotter=0.0):
    """CIELAB of layers on the one body: two-flux optics, colours fading a little with heat."""
    below = BODY
    for name, coats in layers:
        kind, points, scatter = MATERIALS[name]
        s = np.exp(scatter - 0.1 * hotter)
        ratio = np.exp(np.interp(np.arange(8), [0, 3.5, 7], points) - 0.25 * hotter)
        below = optics.laid(*optics.thin_coat(ratio / (1.0 if kind == "underglaze" else s), s * coats), below)
    return optics.bands_to_lab(optics.through_surface(below, np.full(8, 0.45)))


def plain_tiles(uneven=0.05):
    """Thirty tiles: one, two and three coats of each, and glazes over underglazes; `uneven` in ln coats."""
    random = np.random.default_rng(12)
    plans = [((name, coats),) for name in MATERIALS for coats in (1, 2, 3)]
    under = [name for name, one in MATERIALS.items() if one[0] == "underglaze"]
    over = [name for name in MATERIALS if name not in under]
    plans += [((low, 2), (high, coats)) for low in under for high in over for coats in (1, 2)][:12]
    rows = []
    for i, layers in enumerate(plans):
        laid = [(name, coats * np.exp(uneven * random.normal())) for name, coats in layers]
        L, a, b = colour(laid) + random.normal(0, 0.5, 3)
        text = " > ".join(f"{name}*{coats}" for name, coats in layers)
        rows.append(
            {"tile": f"T{i}", "zone": "A", "body": "Pale", "firing": f"F{i % 2}", "layers": text, "stage": "fired"}
            | {"L": round(L, 3), "a": round(a, 3), "b": round(b, 3), "u": 0.8, "session": f"S{i % 2}"}
        )
    return rows


FIRINGS = [{"firing": "F0", "cone_asked": "6"}, {"firing": "F1", "cone_asked": "6"}]
QUESTIONS = ["Fen Black*2", "Low Rose*2 > Tarn", "Gorse > Honey*2", "Low Rose > Clear Rill", "Tarn*2"]


def table(path, rows):
    names = list(dict.fromkeys(itertools.chain.from_iterable(rows)))
    with path.open("w", newline="", encoding="utf-8") as out:
        writer = csv.DictWriter(out, names, restval="")
        writer.writeheader()
        writer.writerows(rows)
    return str(path)


@pytest.fixture(scope="module")
def ask(tmp_path_factory):
    """Bring a studio in and ask it: colours (k, 3), covariances and the answers whole."""

    def asked(tiles, firings=FIRINGS, questions=QUESTIONS, **others):
        folder = tmp_path_factory.mktemp("told")
        asked.folder = folder / "studio"
        materials = [{"material": name, "kind": one[0]} for name, one in MATERIALS.items()]
        files = {"materials": materials, "firings": firings, "tiles": tiles} | others
        words = [
            word for name, rows in files.items() for word in (f"--{name}", table(folder / f"{name}.csv", rows))
        ]
        listed = table(folder / "asked.csv", [{"layers": q, "body": "Pale", "cone": "6"} for q in questions])
        with contextlib.redirect_stdout(io.StringIO()) as out:
            assert main(["import", "--studio", str(folder / "studio"), *words]) == 0, out.getvalue()
        with contextlib.redirect_stdout(io.StringIO()) as out:
            main(["predict", "--studio", str(folder / "studio"), "--list", listed, "--json"])
        answers = json.loads(out.getvalue())["predictions"]
        lab = np.array([one["lab"] or [np.nan] * 3 for one in answers], dtype=float)
        return lab, np.array([np.trace(one["covariance"]) if one["lab"] else np.nan for one in answers]), answers

    return asked


def moved(one, two):
    return np.linalg.norm(one - two, axis=1)


@pytest.fixture(scope="module")
def plain(ask):
    return ask(plain_tiles())


def test_the_plain_studio_is_answered_near_its_truth(plain):
    lab = plain[0]
    truth = [colour(x) for x in ([("Fen Black", 2)], [("Low Rose", 2), ("Tarn", 1)], [("Gorse", 1), ("Honey", 2)])]
    assert moved(lab[:3], np.array(truth)).max() < 5


def test_a_session_in_other_light_moves_answers_by_less_than_half_of_it(ask, plain):
    tiles = [row | ({"L": row["L"] + 3.0} if row["session"] == "S1" else {}) for row in plain_tiles()]
    assert moved(ask(tiles)[0], plain[0]).mean() < 1.5


def test_a_programme_stands_for_the_cone_it_reaches(ask, plain):
    programme = [row | {"cone_asked": "", "peak_c": 1222, "rate_c_per_h": 60, "hold_min": 0} for row in FIRINGS]
    other, _spread, answers = ask(plain_tiles(), programme)
    assert moved(other, plain[0]).max() < 1.0
    assert all(one["evidence"]["basis"].startswith("own") for one in answers)


def test_a_witness_cone_tells_whether_the_kiln_or_the_material_was_off(ask):
    tiles = plain_tiles()
    random = np.random.default_rng(3)
    hot = ["Fen Black*2", "Low Rose*2", "Gorse*2", "Tarn*2", "Honey*2"]
    for i, text in enumerate(hot):
        name, coats = text.split("*")
        L, a, b = colour([(name, int(coats))], hotter=1.5) + random.normal(0, 0.5, 3)
        tiles.append(
            tiles[0]
            | {"tile": f"H{i}", "layers": text, "firing": "F2", "shelf": "top", "session": "S2"}
            | {"L": round(L, 3), "a": round(a, 3), "b": round(b, 3)}
        )
    firings = [*FIRINGS, {"firing": "F2", "cone_asked": "6"}]
    plain, _spread, _answers = ask(tiles, firings, hot)
    told, _spread, _answers = ask(
        tiles, firings, hot, witness=[{"firing": "F2", "shelf": "top", "cone_reached": "7.5"}]
    )
    truth = np.array([colour([(text.split("*")[0], 2)]) for text in hot])
    assert moved(told, plain).max() > 0.05
    assert moved(told, truth).mean() <= moved(plain, truth).mean() + 0.05


def test_the_method_of_a_tile_reaches_the_learning_of_its_scatter(ask):
    even, uneven = plain_tiles(), plain_tiles(uneven=0.5)
    tiles = [row | {"method": "brushed"} for row in even[::2]] + [
        row | {"method": "sprayed"} for row in uneven[1::2]
    ]
    ask(tiles, questions=QUESTIONS[:1])
    found = learnt(ask.folder).fit
    assert found.method_sd[SPRAYED] > 1.5 * found.method_sd[BRUSHED]
    assert found.thickness_sd.max() < found.method_sd[SPRAYED]


def test_fired_again_is_kept_apart(ask, plain):
    again = [row | {"refires": 1, "reading": 2, "L": row["L"] - 20, "firing": "F1"} for row in plain_tiles()[:8:2]]
    lab, spread, _answers = ask([*plain_tiles(), *again])
    assert lab == pytest.approx(plain[0], abs=0.01)
    assert spread == pytest.approx(plain[1], rel=1e-3)


def test_a_chart_speaks_of_what_was_never_fired_and_hardly_of_what_was(ask):
    own = [row for row in plain_tiles() if "Honey" not in row["layers"]]
    lab, _spread, answers = ask(own, questions=[*QUESTIONS[:2], "Honey*2"])
    assert answers[2]["lab"] is None
    chart = [
        row | {"tile": f"C{i}", "stage": "maker", "firing": "", "session": "", "cone": "6", "L": row["L"] + 8}
        for i, row in enumerate(plain_tiles())
        if " > " not in row["layers"]
    ]
    other, spread, answers = ask([*own, *chart], questions=[*QUESTIONS[:2], "Honey*2"])
    assert answers[2]["evidence"]["basis"] == "maker's chart"
    assert spread[2] > 1.5 * spread[:2].max()
    assert moved(other[:2], lab[:2]).max() < 1.5


def test_a_wash_wiped_back_shows_what_lies_beneath(ask):
    tiles = plain_tiles()
    wiped = [
        tiles[0]
        | {"tile": f"W{i}", "layers": "Fen Black*2 (wiped)" if not i else "Tarn > Fen Black (wiped)"}
        | dict(zip("Lab", np.round(0.3 * colour([("Fen Black", 2)]) + 0.7 * colour([("Tarn", 1)] * i), 3)))
        for i in range(2)
    ]
    questions = ["Fen Black", "Fen Black (wiped)", "Honey > Fen Black", "Honey > Fen Black (wiped)", "Honey"]
    lab, _spread, _answers = ask([*tiles, *wiped], questions=questions)
    assert lab[1, 0] > lab[0, 0] + 5
    assert moved(lab[3:4], lab[4:5])[0] < moved(lab[2:3], lab[4:5])[0]
