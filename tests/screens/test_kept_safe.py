"""The studio copied, checked and brought back, and a material written down anew, by real widgets."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog

from swatch.terms.cone import Cone
from swatch.terms.materials import Kind

LEFT = Qt.MouseButton.LeftButton


def test_a_copy_is_saved_checked_and_brought_back(small_shop, tmp_path, monkeypatch):
    window, studio, menu = small_shop.window, small_shop.desks.studio, small_shop.window.menus.safekeeping
    told = []
    monkeypatch.setattr(window, "tell", lambda *said: told.append(" ".join(said)))
    kept = studio.evidence
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(tmp_path / "copy"), ""))
    menu.save.trigger()
    small_shop.qtbot.waitUntil(lambda: len(told) == 1 and not small_shop.desks.safekeeping.busy)
    assert (tmp_path / "copy.zip").is_file()
    assert "copied" in told[0]
    assert "last 2" in menu.save.text()
    menu.check.trigger()
    small_shop.qtbot.waitUntil(lambda: len(told) == 2 and not small_shop.desks.safekeeping.busy)
    assert "reads well" in told[1]
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(tmp_path / "copy.zip"), ""))
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(tmp_path / "back"), ""))
    menu.back.trigger()
    small_shop.qtbot.waitUntil(lambda: len(told) == 3 and not small_shop.desks.safekeeping.busy)
    assert studio.folder == tmp_path / "back"
    assert studio.evidence == kept
    # What is there already is never written over, and the studio that is open is only shown.
    menu.back.trigger()
    small_shop.qtbot.waitUntil(lambda: len(told) == 4 and not small_shop.desks.safekeeping.busy)
    assert "not empty" in told[3]
    small_shop.place("tiles")
    assert studio.open(tmp_path / "back")
    assert window.now.code == "next"
    assert len(told) == 4


def test_a_material_is_written_down_anew_in_its_panel_and_that_can_be_undone(small_shop):
    qtbot, studio = small_shop.qtbot, small_shop.desks.studio
    screen = small_shop.place("materials")
    small_shop.desks.materials.choose("Moss")
    before = small_shop.desks.materials.chosen
    form = screen.detail.form
    qtbot.mouseClick(screen.detail.edit, LEFT)
    assert small_shop.window.focusWidget() is form.name
    form.name.setText("Moss green")
    form.low.setText("1222C")
    qtbot.keyClick(form.low, Qt.Key.Key_Return)
    assert form.bad.isVisible()
    assert small_shop.desks.materials.chosen == before
    form.low.setText("5")
    form.high.setText("6")
    form.kind.show_value(Kind.SLIP)
    form.density.setText("1,4")
    qtbot.keyClick(form.low, Qt.Key.Key_Return)
    assert not form.isVisible()
    after = small_shop.desks.materials.chosen
    assert (after.name, after.kind, after.cone_from, after.density_g_per_ml) == (
        "Moss green",
        Kind.SLIP,
        Cone(5.0),
        1.4,
    )
    assert after.left_g == before.left_g
    assert all(layer.material != "Moss" for r in studio.evidence.readings for layer in r.layers)
    assert "Edit Moss" in small_shop.desks.undoing.undo_name
    small_shop.desks.undoing.undo()
    assert before in studio.evidence.materials
    # A name that another material has is refused, and nothing is changed.
    small_shop.desks.materials.choose("Moss")
    screen.detail.open_form()
    form.name.setText("Amber")
    qtbot.mouseClick(form.keep, LEFT)
    assert form.isVisible()
    qtbot.keyClick(form.name, Qt.Key.Key_Escape)
    assert small_shop.desks.materials.chosen == before
