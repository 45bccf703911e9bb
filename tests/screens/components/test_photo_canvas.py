from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton

from swatch.screens import gallery_photo as sample
from swatch.screens.components.photo_canvas import PhotoCanvas, Tool


@pytest.fixture
def canvas(qtbot):
    made = PhotoCanvas()
    qtbot.addWidget(made)
    made.resize(792, 584)
    made.show()
    made.set_photo(sample.photo())
    made.set_outlines(sample.outlines())
    return made


def on_screen(canvas, key, corner=None):
    outline = next(one for one in canvas.outlines if one.key == key)
    if corner is None:
        x, y = (sum(values) / 4 for values in zip(*outline.points))
    else:
        x, y = outline.points[corner]
    left, top = canvas.view.to_screen((x, y))
    return QPoint(round(left), round(top))


def drag(canvas, start, by):
    QTest.mousePress(canvas, Qt.MouseButton.LeftButton, pos=start)
    QTest.mouseMove(canvas, start + by / 2)
    QTest.mouseMove(canvas, start + by)
    QTest.mouseRelease(canvas, Qt.MouseButton.LeftButton, pos=start + by)


def test_a_corner_is_dragged_and_told_once(canvas, qtbot):
    told = []
    canvas.outline_moved.connect(lambda key, points: told.append((key, points)))
    before = canvas.outlines[0].points
    drag(canvas, on_screen(canvas, "card", 2), QPoint(30, -20))
    assert len(told) == 1
    key, points = told[0]
    assert key == "card"
    assert points[2][0] - before[2][0] == pytest.approx(30 / canvas.view.scale, abs=3)
    assert points[2][1] - before[2][1] == pytest.approx(-20 / canvas.view.scale, abs=3)
    assert points[:2] == before[:2]


def test_a_zone_is_dragged_as_a_whole(canvas):
    told = []
    canvas.outline_moved.connect(lambda key, points: told.append((key, points)))
    before = next(one.points for one in canvas.outlines if one.key == "tile-3")
    drag(canvas, on_screen(canvas, "tile-3"), QPoint(10, 6))
    ((key, points),) = told
    assert key == "tile-3"
    steps = {(round(x2 - x1, 3), round(y2 - y1, 3)) for (x1, y1), (x2, y2) in zip(before, points)}
    assert len(steps) == 1


def test_a_click_without_a_drag_only_chooses(canvas, qtbot):
    told = []
    canvas.outline_moved.connect(lambda *args: told.append(args))
    with qtbot.waitSignal(canvas.chosen) as chosen:
        QTest.mouseClick(canvas, Qt.MouseButton.LeftButton, pos=on_screen(canvas, "tile-5"))
    assert chosen.args == ["tile-5"]
    assert told == []


def test_everything_works_by_keys(canvas, qtbot):
    told = []
    canvas.outline_moved.connect(lambda key, points: told.append(points))
    qtbot.keyClick(canvas, Qt.Key.Key_PageDown)
    assert canvas.chosen_key == "card"
    qtbot.keyClick(canvas, Qt.Key.Key_PageDown)
    assert canvas.chosen_key == "tile-1"
    before = canvas.chosen_outline().points
    qtbot.keyClick(canvas, Qt.Key.Key_C)
    qtbot.keyClick(canvas, Qt.Key.Key_C)
    assert canvas.corner == 1
    assert "Tile 1, corner 2 at" in canvas.accessibleDescription()
    step = max(1.0, round(1 / canvas.view.scale))
    qtbot.keyClick(canvas, Qt.Key.Key_Right)
    assert told[-1][1] == (before[1][0] + step, before[1][1])
    qtbot.keyClick(canvas, Qt.Key.Key_Up, Qt.KeyboardModifier.ShiftModifier)
    assert told[-1][1][1] == pytest.approx(before[1][1] - 10 * step)
    qtbot.keyClick(canvas, Qt.Key.Key_Escape)
    assert canvas.corner is None
    qtbot.keyClick(canvas, Qt.Key.Key_Left)
    assert told[-1][0] == (before[0][0] - step, before[0][1])
    qtbot.keyClick(canvas, Qt.Key.Key_Escape)
    assert canvas.chosen_key == ""


def test_a_corner_can_be_typed(canvas, qtbot):
    canvas.choose("tile-2", 0)
    qtbot.keyClick(canvas, Qt.Key.Key_Return)
    assert canvas.entry.isVisible()
    assert canvas.entry.name.text() == "Tile 2, corner 1"
    canvas.entry.across.selectAll()
    with qtbot.waitSignal(canvas.outline_moved) as moved:
        qtbot.keyClicks(canvas.entry.across, canvas.locale().toString(812.5))
        qtbot.keyClick(canvas.entry.across, Qt.Key.Key_Return)
    assert moved.args[1][0][0] == 812.5
    assert not canvas.entry.isVisible()


def test_a_new_rectangle_is_drawn_and_a_slip_is_not(canvas, qtbot):
    canvas.set_tool(Tool.RECTANGLE)
    with qtbot.waitSignal(canvas.outline_drawn) as made:
        drag(canvas, QPoint(60, 60), QPoint(120, 50))
    (points,) = made.args
    assert points[2][0] - points[0][0] == pytest.approx(120 / canvas.view.scale, abs=3)
    assert canvas.tool is Tool.CHOOSE
    told = []
    canvas.outline_drawn.connect(told.append)
    canvas.set_tool(Tool.RECTANGLE)
    QTest.mouseClick(canvas, Qt.MouseButton.LeftButton, pos=QPoint(60, 60))
    assert told == []


def test_four_corners_are_set_one_by_one(canvas, qtbot):
    canvas.set_tool(Tool.CORNERS)
    with qtbot.waitSignal(canvas.outline_drawn) as made:
        for spot in (QPoint(50, 50), QPoint(150, 55), QPoint(145, 120), QPoint(48, 118)):
            QTest.mouseClick(canvas, Qt.MouseButton.LeftButton, pos=spot)
    assert len(made.args[0]) == 4


def test_the_callout_hides_no_outline_and_its_actions_can_be_pressed(canvas, qtbot):
    canvas.set_callout(sample.callout())
    box = canvas.callout_box
    assert box.isVisible()
    for outline in canvas.outlines:
        spots = [canvas.view.to_screen(point) for point in outline.points]
        assert not any(box.geometry().contains(round(x), round(y)) for x, y in spots)
    leave = next(button for button in box.findChildren(QPushButton) if button.text() == "Leave out tile 8")
    with qtbot.waitSignal(canvas.acted) as acted:
        leave.click()
    assert acted.args == ["tile-8", "leave-out"]
    canvas.set_callout(None)
    assert not box.isVisible()


def test_zoom_keeps_to_the_photo(canvas, qtbot):
    whole = canvas.view
    qtbot.keyClick(canvas, Qt.Key.Key_Plus)
    assert canvas.view.scale == pytest.approx(1.25 * whole.scale)
    for _press in range(3):
        qtbot.keyClick(canvas, Qt.Key.Key_Minus)
    assert canvas.view == whole
    qtbot.keyClick(canvas, Qt.Key.Key_Plus)
    qtbot.keyClick(canvas, Qt.Key.Key_0)
    assert canvas.view == whole


def test_a_large_photo_may_be_shown_by_a_small_picture(canvas):
    canvas.set_photo(sample.photo(), (6080, 4560))
    assert canvas.view.scale == pytest.approx(568 / 4560, rel=0.01)
    assert canvas.outlines == ()


def test_it_speaks_what_is_outlined(canvas):
    assert canvas.accessibleName() == "Photo with 13 outlines"
    canvas.choose("card")
    assert canvas.accessibleDescription().startswith("Card: ")
    assert canvas.accessibleDescription().endswith("Card found, patch 16 worst")
