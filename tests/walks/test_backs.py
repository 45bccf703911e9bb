"""The sheet of tiles photographed from the front, each tile turned in its slot, photographed again."""

from __future__ import annotations

import cv2
import numpy as np
import pytest
from potter import LONG
from PySide6.QtCore import Qt
from small_studio import make_studio

from bench.sheet import number_on, photograph
from swatch.desk.photo_work import State
from swatch.library.originals import sha256_of
from swatch.terms.layering import parse_layers
from swatch.terms.sheet import Paper

SIZE = (2400, 1800)


@pytest.fixture(scope="module")
def shots(tmp_path_factory):
    folder = tmp_path_factory.mktemp("turned")
    files = []
    for name, backs in (("one", False), ("two", True)):
        shot = photograph(131, Paper.A4, size=SIZE, glare=0.0, backs=backs)
        files.append(folder / f"{name}.jpg")
        assert cv2.imwrite(str(files[-1]), shot.pixels[:, :, ::-1], [cv2.IMWRITE_JPEG_QUALITY, 92])
    return shot, *files


def number_seen(file, slots):
    """Which number stands on a picture, by what it looks like."""
    seen = cv2.imread(file, cv2.IMREAD_GRAYSCALE)
    scale = seen.shape[0] / (1.06 * 100)  # pixels per mm: tiles are 10 cm long
    best = {}
    for slot in slots:
        drawn = np.zeros((int(14 * scale), int(32 * scale)), np.uint8)
        font, size = cv2.FONT_HERSHEY_SIMPLEX, 10 * scale / 22
        (wide, high), _ = cv2.getTextSize(number_on(slot), font, size, 1)
        at = (drawn.shape[1] - wide) // 2, (drawn.shape[0] + high) // 2
        cv2.putText(drawn, number_on(slot), at, font, size, 255, max(1, round(scale)), cv2.LINE_AA)
        best[slot] = float(cv2.matchTemplate(255 - seen, drawn, cv2.TM_CCOEFF_NORMED).max())
    return max(best, key=best.get)


def test_the_number_on_the_back_stands_beside_the_box_for_the_tile(potter, shots, tmp_path):
    shot, fronts, backs = shots
    before = [sha256_of(file) for file in (fronts, backs)]
    window, desks = potter.window, potter.window.desks
    assert desks.studio.open(make_studio(tmp_path / "studio"))
    measuring = desks.measuring
    potter.drop(fronts, backs)
    screen = window.now
    potter.wait(lambda: len(measuring.photos) == 2 and bool(measuring.photos[1].backs))
    assert [work.fronts for work in measuring.photos] == [None, fronts]
    assert measuring.photos[1].zones == ()  # bare clay is no reading of a tile
    for zone in list(measuring.photo.zones):
        measuring.choose(zone.key)
        assert screen.form.back.isVisible()
        assert number_seen(measuring.back_of(zone.key).picture, shot.outlines) == int(zone.key)
        screen.form.tile.setText(number_on(int(zone.key)))
        screen.form.tile.editingFinished.emit()
    measuring.write_all("all", body="Palebank", layers=parse_layers("Moss"))
    with potter.qtbot.waitSignal(measuring.kept, timeout=LONG):
        potter.press(screen.keep)
    assert [work.state for work in measuring.photos] == [State.KEPT, State.KEPT]
    studio = desks.studio.studio
    slot = min(shot.outlines)
    kept = studio.back_of(number_on(slot))
    assert kept.name == "two.jpg"
    assert [sha256_of(file) for file in (fronts, backs)] == before
    assert sha256_of(kept.path) == before[1]

    window.show_place("tiles")
    desks.tiles.choose(number_on(slot))
    detail = window.now.detail
    potter.wait(detail.back.isVisible)
    assert number_seen(desks.tiles.back_of(number_on(slot))[0], shot.outlines) == slot

    potter.press(window.header.undo)
    assert studio.back_of(number_on(slot)) is None
    assert not any(reading.tile == number_on(slot) for reading in desks.studio.evidence.readings)


def test_without_a_code_the_user_says_in_one_step_whose_backs_they_are(potter, shots, tmp_path):
    _shot, _fronts, backs = shots
    desks = potter.window.desks
    assert desks.studio.open(make_studio(tmp_path / "studio"))
    measuring = desks.measuring
    bare = tmp_path / "bare.png"  # no sheet, no card: only a place that was outlined
    cv2.imwrite(str(bare), np.full((900, 1200, 3), 200, np.uint8))
    potter.drop(bare, backs)
    potter.wait(lambda: not measuring.reading)
    assert all(work.fronts is None for work in measuring.photos)
    measuring.show_photo(0)
    measuring.draw_zone(((300.0, 300.0), (600.0, 300.0), (600.0, 600.0), (300.0, 600.0)))
    measuring.show_photo(1)
    shows = potter.window.now.shows.choice
    steps = potter.steps
    shows.setFocus()
    potter.key(shows, Qt.Key.Key_Down)
    assert potter.steps == steps + 1
    potter.wait(lambda: bool(measuring.photos[1].backs))
    assert measuring.photos[1].fronts == bare
    potter.key(shows, Qt.Key.Key_Up)
    potter.wait(lambda: bool(measuring.photos[1].zones))
    assert measuring.photos[1].fronts is None
