from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from swatch.screens.components import swatch_grid
from swatch.screens.components.swatch_grid import CELL, SwatchGrid
from swatch.screens.gallery_samples import FIRED, tile_model
from swatch.screens.style import Surround, look


@pytest.fixture
def grid(qtbot):
    made = SwatchGrid(tile_model(20_000), cell_of=lambda held: held)
    qtbot.addWidget(made)
    made.resize(652, 696)
    made.show()
    return made


def counted(monkeypatch):
    painted = []
    real = swatch_grid.paint_cell
    monkeypatch.setattr(
        swatch_grid, "paint_cell", lambda p, r, cell: (painted.append(cell.name), real(p, r, cell))
    )
    return painted


def test_of_twenty_thousand_only_what_is_seen_is_painted_and_only_once(grid, monkeypatch, picture):
    painted = counted(monkeypatch)
    grid.delegate.forget()
    picture(grid)
    seen = len(painted)
    assert 0 < seen <= 6 * 7
    picture(grid)
    assert len(painted) == seen
    grid.verticalScrollBar().setValue(CELL.height())
    picture(grid)
    assert seen < len(painted) <= seen + 6


def test_what_is_kept_stays_bounded(grid, monkeypatch, picture):
    monkeypatch.setattr(swatch_grid, "MOST_KEPT_BYTES", 40 * 4 * CELL.width() * CELL.height())
    grid.delegate.forget()
    for value in range(0, 20 * CELL.height(), CELL.height()):
        grid.verticalScrollBar().setValue(value)
        picture(grid)
    assert len(grid.delegate._kept) <= 41


def test_colours_are_true_and_the_frame_goes_around_the_label_too(grid, name_of, picture):
    grid.choose(3)
    image = picture(grid)
    index = grid.model().index(3, 0)
    place = grid.visualRect(index)
    assert grid.delegate.cell(index).labs[-1] is not None
    first = grid.delegate.cell(grid.model().index(0, 0))
    assert image.pixelColor(12, 12).name() == name_of(first.labs[0])
    assert image.pixelColor(place.left() + 2, place.bottom() - 10).name() == "#000000"
    assert image.pixelColor(place.left() + 6, place.bottom() - 1).name() == "#000000"
    assert FIRED


def test_a_change_of_surround_paints_anew(grid, picture):
    picture(grid)
    look.set_surround(Surround.WHITE)
    assert picture(grid).pixelColor(103, 60).name() == "#ffffff"


def test_keys_walk_the_bench_and_tell(grid, qtbot, picture):
    grid.choose(0)
    with qtbot.waitSignal(grid.chosen) as told:
        qtbot.keyClick(grid, Qt.Key.Key_Right)
    assert told.args == [1]
    with qtbot.waitSignal(grid.chosen) as told:
        qtbot.keyClick(grid, Qt.Key.Key_Down)
    assert told.args[0] in (6, 7)


def test_a_tile_is_spoken_with_its_mark_and_what_the_screen_cannot_show(grid, picture):
    assert "cannot show" in grid.delegate.spoken(grid.model().index(5, 0))
    assert "doubtful" in grid.delegate.spoken(grid.model().index(22, 0))


def test_an_empty_bench_says_what_to_do_first(qtbot, picture):
    made = SwatchGrid(tile_model(0), cell_of=lambda held: held)
    qtbot.addWidget(made)
    made.resize(400, 300)
    made.show()
    before = picture(made)
    made.set_empty_text("Drop photos here.")
    assert picture(made) != before
