"""A load's photo dropped on Editions: which pieces are off, and why; with real workers, steps counted."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest

from swatch.formats.keyword_text import read_card
from swatch.library.studio import Studio
from swatch.resources import resource
from swatch.science import forms
from swatch.science.card import Card
from swatch.science.measuring import decode
from swatch.science.piece_outlines import find_pieces
from swatch.terms.colour import Covariance, Lab
from swatch.terms.editions import EditionRegion, PieceReading, Role
from swatch.terms.holding import LoadVerdict
from swatch.terms.materials import Firing

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
from bench.load_scenes import load_of

LOOK = {"neck": (29.0, 27.0, 11.0), "outside": (53.0, 45.0, 9.0)}
OFF = {"neck": (29.0, 27.0, 11.0), "outside": (62.0, 22.0, 30.0)}
DOUBT = Covariance(0.3, 0.0, 0.0, 0.3, 0.0, 0.3)


@pytest.fixture(scope="module")
def photo(tmp_path_factory):
    table = read_card(resource("cards", "rendition-24.txt").read_bytes(), "rendition-24")
    card = Card(table.name, table.rows, table.columns, np.array(table.lab))
    scene = load_of(card, [LOOK] * 6 + [OFF], seed=21, size=(1400, 1080))
    path = tmp_path_factory.mktemp("load") / "f3.png"
    path.write_bytes(scene.png())
    return path, scene


@pytest.fixture
def shed(tmp_path, photo):
    """A studio with twelve approved pieces from three firings, whose form's regions were placed before."""
    path, scene = photo
    rng = np.random.default_rng(3)
    dates = [Firing(f"F-{k}", f"2026-05-0{k}") for k in (1, 2, 3, 4)]
    approved = [
        PieceReading(
            "Lid", f"L{n:02d}", region, Lab(*(np.array(lab) + rng.normal(0, 0.6, 3))), DOUBT,
            firing=f"F-{1 + n % 3}", shelf=("top", "bottom")[n % 2], role=Role.APPROVED, session=f"S{n % 3}",
        )
        for n in range(1, 13)
        for region, lab in LOOK.items()
    ]  # fmt: skip
    picture = decode(path.read_bytes(), path.name)
    outline = find_pieces(picture, scene.card)[0]
    with Studio.create(tmp_path / "shed") as studio:
        studio.put_firings(dates, frozenset({"date"}))
        studio.put_editions([EditionRegion("Lid", region, planned=60) for region in LOOK], frozenset({"planned"}))
        studio.put_pieces(approved, frozenset({"firing", "shelf", "role", "session"}))
        studio.put_form(forms.form_of("Lid", outline, list(scene.regions[0].items()), picture))
    return tmp_path / "shed"


def test_a_load_dropped_on_editions_tells_which_piece_is_off(potter, shed, photo):
    window, desks = potter.window, potter.window.desks
    assert desks.studio.open(shed)
    potter.press(window.rail["editions"])
    potter.drop(photo[0])
    screen = window.now
    assert screen.code == "load"
    potter.wait(lambda: screen.keep.isEnabled())
    assert screen.list.count() == 7
    assert desks.load_photos.firing == "F-4"
    assert desks.load_photos.entry("1").kept
    assert [desks.load_photos.entry(str(n)).name for n in (2, 7)] == ["L13", "L18"]
    assert screen.keep.text() == "Keep 14 readings and check"
    potter.press(screen.keep)
    potter.wait(lambda: window.now.code == "editions" and desks.checking.answer is not None)
    potter.wait(lambda: not desks.checking.busy and window.now.loads.pieces.isVisible())
    assert potter.steps <= 4
    (load,) = desks.checking.answer.loads
    assert (load.firing, load.pieces) == ("F-4", 6)
    assert load.verdict is not LoadVerdict.KILN_OR_CAMERA  # the approved piece was in the photo
    first = desks.checking.pieces()[0]
    assert (first.piece, first.region, first.verdict.value) == ("L18", "outside", "off")
    with Studio.look(shed) as studio:
        shelves = {one.piece: one.shelf for one in studio.pieces() if one.role is Role.PIECE}
    assert sorted(shelves.values()) == ["bottom"] * 3 + ["top"] * 3
