"""What the photo workspace says once something is kept, refused, doubtful, or not to be seen."""

from PySide6.QtCore import QPoint, Qt
from test_photo_workspace import CARD, SIZE, drag, measure, press, preview
from test_photo_workspace import workspace as _workspace

from swatch.desk.photo_work import State
from swatch.screens.components.photo_canvas import Tool
from swatch.terms.colour import Covariance
from swatch.terms.measured import PhotoRead, Verdict, ZoneRead
from swatch.terms.problems import Notice, StudioProblem

workspace = _workspace


def one_kept(shop):
    screen, measuring = shop.window.now, shop.desks.measuring
    press(shop, screen.draw)
    drag(shop, 500, 100, 200, 200)
    press(shop, screen.shelf.jars["Moss"])
    shop.qtbot.waitUntil(lambda: len(measuring.photo.keepable()) == 1)
    with shop.qtbot.waitSignal(measuring.kept, timeout=10_000):
        press(shop, screen.keep)
    return screen, measuring


def readings(shop):
    return [r for r in shop.desks.studio.evidence.readings if r.session]


def test_what_is_kept_says_so_until_something_changes_and_leads_on(workspace):
    screen, measuring = one_kept(workspace)
    assert screen.keep.text() == "Kept"
    assert not screen.keep.isEnabled()
    measuring.keep()
    assert len(readings(workspace)) == 1
    press(workspace, workspace.window.header.undo)
    assert readings(workspace) == []
    assert measuring.photo.state is State.READ
    assert screen.keep.isEnabled()
    workspace.desks.undoing.redo()
    assert len(readings(workspace)) == 1
    assert screen.keep.text() == "Kept"
    press(workspace, screen.shelf.jars["Moss"])
    assert screen.keep.text() == "Keep changes"
    with workspace.qtbot.waitSignal(measuring.kept, timeout=10_000):
        press(workspace, screen.keep)
    assert screen.keep.text() == "Kept"
    assert len(readings(workspace)) == 1
    path, tile = measuring.photo.path, measuring.photo.kept[0].tile
    press(workspace, screen.see)
    assert workspace.window.now.code == "tiles"
    assert workspace.desks.tiles.chosen.tile == tile
    workspace.window.show_place("measure")
    press(workspace, screen.close_kept)
    assert measuring.photos == []
    assert workspace.window.now.code == "tiles"
    # The same photo in a later sitting.
    workspace.window.take_files([path])
    workspace.qtbot.waitUntil(lambda: measuring.photo.state is State.READ)
    press(workspace, screen.draw)
    drag(workspace, 500, 100, 200, 200)
    press(workspace, screen.shelf.jars["Moss"])
    workspace.qtbot.waitUntil(lambda: "replaces its 1 reading" in screen.lacking.whole())


def test_a_doubtful_reading_is_marked_as_the_tiles_mark_it_and_a_refused_photo_leaves_only_the_way_out(workspace):
    wide = Covariance(9.0, 0.0, 0.0, 9.0, 0.0, 9.0)

    def poor(asked):
        read = measure(asked)
        zones = tuple(ZoneRead(z.zone, z.polygon, z.lab, wide, 1.0, 1.0, 0.9) for z in read.zones)
        return PhotoRead(read.photo, read.size, Verdict.GOOD, CARD, zones)

    workspace.workers.answers["measure"] = poor
    screen, measuring = workspace.window.now, workspace.desks.measuring
    press(workspace, screen.draw)
    drag(workspace, 500, 100, 200, 200)
    press(workspace, screen.shelf.jars["Moss"])
    workspace.qtbot.waitUntil(lambda: len(measuring.photo.doubtful()) == 1)
    entry = measuring.entry
    assert screen.list.rows.warning(entry) == "doubtful"
    assert "doubtful" in screen.lacking.whole()
    said = screen.list.rows.known(entry)
    with workspace.qtbot.waitSignal(measuring.kept, timeout=10_000):
        press(workspace, screen.keep)
    view = next(view for view in workspace.desks.studio.tiles() if view.tile == entry.tile)
    assert f"{view.zones[0].known_to:.1f}" == said

    def refused(asked):
        return PhotoRead(asked["photo"], SIZE, Verdict.REFUSED, None, (), (Notice("card-shadow", {}),))

    workspace.workers.answers["measure"] = refused
    measuring.read_again()
    workspace.qtbot.waitUntil(lambda: measuring.photo.refused)
    assert "refused" in screen.heading()[1]
    assert "This photo cannot be used." in screen.trouble.accessibleDescription()
    assert not screen.draw.isEnabled()
    assert screen.corners.isEnabled()


def test_marking_the_card_shows_and_ends_with_its_corners_by_escape_and_with_another_photo(workspace, tmp_path):
    screen, canvas = workspace.window.now, workspace.window.now.canvas
    spots = [QPoint(round(x), round(y)) for x, y in map(canvas.view.to_screen, CARD.corners)]
    for way in ("escape", "corners", "another photo"):
        press(workspace, screen.corners)
        assert screen.corners.isChecked()
        assert "0 of 4" in screen.hint.whole()
        for n, spot in enumerate(spots[: 4 if way == "corners" else 2], 1):
            workspace.qtbot.mouseClick(canvas, Qt.MouseButton.LeftButton, pos=spot)
            assert n == 4 or f"{n} of 4" in screen.hint.whole()
        if way == "escape":
            workspace.qtbot.keyClick(canvas, Qt.Key.Key_Escape)
        elif way == "another photo":
            workspace.window.take_files([tmp_path / "other.jpg"])
        assert canvas.tool is Tool.CHOOSE
        assert not screen.corners.isChecked()
        assert not screen.hint.isVisible()
        assert (workspace.desks.measuring.photos[0].corners is not None) == (way != "escape")
    while workspace.desks.measuring.photos:
        screen.draw.setChecked(True)
        press(workspace, screen.away)
    assert not screen.draw.isChecked()
    assert screen.open_first.isVisible()


def test_a_picture_that_cannot_be_made_is_said_and_made_again(workspace, tmp_path):
    def fails(asked):
        raise StudioProblem("disk-full", folder="cache")

    workspace.workers.answers["preview"] = fails
    measuring, screen = workspace.desks.measuring, workspace.window.now
    workspace.window.take_files([tmp_path / "unseen.jpg"])
    workspace.qtbot.waitUntil(lambda: measuring.photo.state is State.READ and measuring.photo.unseen)
    assert "could not be shown" in screen.nothing.sentence.whole()
    workspace.workers.answers["preview"] = preview
    press(workspace, screen.show_again)
    workspace.qtbot.waitUntil(lambda: screen.canvas.photo == SIZE)
    assert screen.stage.currentWidget() is screen.canvas
    # The card's note lies on no zone.
    canvas = screen.canvas
    press(workspace, screen.draw)
    for left in (60, 260, 460):
        drag(workspace, left, 270, 180, 200)
    workspace.qtbot.waitUntil(lambda: "card" in canvas._notes)
    note = canvas._notes["card"]
    for outline in canvas.outlines:
        box = canvas._screen_box(outline)
        assert note.right <= box.left or note.left >= box.right or note.bottom <= box.top or note.top >= box.bottom
