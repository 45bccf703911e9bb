"""Photos of a load through the command line: regions placed once, pieces kept, and the check."""

from __future__ import annotations

import io
import json
import sys
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path

import numpy as np
import pytest

from swatch.cli.main import run
from swatch.formats.keyword_text import read_card
from swatch.library.studio import Studio
from swatch.resources import resource
from swatch.science.card import Card
from swatch.terms.colour import Covariance, Lab
from swatch.terms.editions import EditionRegion, PieceReading, Role
from swatch.terms.materials import Firing

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
from bench.load_scenes import load_of

LOOK = {"neck": (29.0, 27.0, 11.0), "outside": (53.0, 45.0, 9.0)}
OTHER = {"neck": (29.0, 27.0, 11.0), "outside": (58.0, 38.0, 14.0)}
DOUBT = Covariance(0.3, 0.0, 0.0, 0.3, 0.0, 0.3)


def swatch(*words):
    out, err = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        status = run([*words, "--json"], open_window=lambda _folder: 0)
    text = out.getvalue()
    return status, json.loads(text) if text else {}, err.getvalue()


@pytest.fixture(scope="module")
def photos(tmp_path_factory):
    """Two photos of a load, the approved piece first; regions outlined on it in the first photo."""
    folder = tmp_path_factory.mktemp("load")
    table = read_card(resource("cards", "rendition-24.txt").read_bytes(), "rendition-24")
    card = Card(table.name, table.rows, table.columns, np.array(table.lab))
    first = load_of(card, [LOOK, LOOK, LOOK, OTHER], seed=11, size=(1400, 800))
    second = load_of(card, [LOOK, LOOK], seed=12, size=(1400, 800), upside=True)
    for name, scene in (("a.png", first), ("b.png", second)):
        (folder / name).write_bytes(scene.png())
    zones = [{"zone": name, "polygon": polygon.tolist()} for name, polygon in first.regions[0].items()]
    (folder / "zones.json").write_text(json.dumps({"zones": zones}))
    return folder


@pytest.fixture
def lids(tmp_path):
    with Studio.create(tmp_path / "shed") as studio:
        studio.put_firings([Firing("F-1", "2026-05-01"), Firing("F-2", "2026-06-01")], frozenset({"date"}))
        studio.put_editions([EditionRegion("Lid", region) for region in LOOK], frozenset())
        approved = [
            PieceReading("Lid", f"L{k}", region, Lab(*lab), DOUBT, firing="F-1", role=Role.APPROVED, session="old")
            for k in (1, 2)
            for region, lab in LOOK.items()
        ]
        studio.put_pieces(approved, frozenset({"firing", "role", "session"}))
    return tmp_path / "shed"


def test_regions_outlined_on_one_piece_are_read_on_all_and_compared(photos):
    status, said, err = swatch("measure", str(photos / "a.png"), "--pieces", str(photos / "zones.json"))
    assert status == 0, err
    (photo,) = said["photos"]
    assert [(one["piece"], one["beside_card"]) for one in photo["pieces"]] == [
        ("1", True), ("2", False), ("3", False), ("4", False),
    ]  # fmt: skip
    assert min(one["alike"] for one in photo["pieces"]) > 0.93
    apart = {tuple(one["zones"]): one for one in photo["comparisons"]}
    assert not apart["2 outside", "1 outside"]["told_apart"]
    assert apart["4 outside", "1 outside"]["told_apart"]
    assert apart["4 outside", "1 outside"]["de00"] > 4


def test_a_load_is_kept_and_the_regions_need_not_be_placed_again(photos, lids):
    words = ("--edition", "lid", "--load", "F-2", "--approved", "L1", "--studio", str(lids))
    placed = ("--pieces", str(photos / "zones.json"), "--shelves", "top,middle,bottom")
    status, said, err = swatch("measure", str(photos / "a.png"), *words, *placed)
    assert status == 0, err
    assert said["readings_kept"] == 8
    assert [one["kept_as"] for one in said["photos"][0]["pieces"]] == ["L1", "L3", "L4", "L5"]
    status, said, err = swatch("measure", str(photos / "b.png"), *words)
    assert status == 0, err
    assert [one["kept_as"] for one in said["photos"][0]["pieces"]] == ["L1", "L6"]
    swatch("measure", str(photos / "b.png"), *words)  # the very same photo again
    with Studio.look(lids) as studio:
        pieces = studio.pieces()
    kept = [one for one in pieces if one.piece == "L1" and one.region == "outside"]
    assert [(one.reading, one.firing, one.role) for one in kept] == [
        (n, "F-1", Role.APPROVED) for n in range(1, len(kept) + 1)
    ]
    assert len(kept) == 3  # one brought in, one a photo
    new = {one.piece: (one.firing, one.shelf) for one in pieces if one.role is Role.PIECE}
    assert new["L3"] == ("F-2", "top")
    assert new["L5"] == ("F-2", "bottom")
    status, said, _ = swatch("check", "--edition", "Lid", "--studio", str(lids))
    assert status == 0
    assert [load["firing"] for load in said["loads"]] == ["F-2"]


def test_what_is_wrong_is_said_and_nothing_is_kept(photos, lids):
    photo, studio = str(photos / "a.png"), ("--studio", str(lids))
    for words, code in (
        (("--edition", "Lid", "--load", "F-9", "--approved", "L1"), "firing-not-known"),
        (("--edition", "Lid", "--load", "F-2", "--approved", "L7"), "not-an-approved-piece"),
        (("--edition", "Lid", "--load", "F-2", "--approved", "none"), "regions-not-placed"),
        (("--edition", "Lad", "--load", "F-2", "--approved", "none"), "unknown-edition"),
    ):
        status, said, _ = swatch("measure", photo, *words, *studio)
        assert status == 3
        assert [one["code"] for one in said["problems"]] == [code]
    assert swatch("measure", photo, "--load", "F-2", *studio)[0] == 2
    with Studio.look(lids) as records:
        assert len(records.pieces()) == 4
