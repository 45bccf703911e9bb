from __future__ import annotations

import subprocess
import sys

import pytest
from PySide6.QtCore import QPointF, Qt

from swatch.screens.components.ab_plane import AbPlane
from swatch.screens.gallery_samples import plane
from swatch.screens.style import Surround, look


@pytest.fixture
def shown(qtbot):
    made = AbPlane()
    qtbot.addWidget(made)
    made.show_plane(plane(), 2)
    made.show()
    qtbot.waitUntil(lambda: made._plot is not None, timeout=60_000)
    return made


def test_a_click_chooses_the_nearest_answer_and_tells(shown, qtbot):
    box = shown._plot.getPlotItem().getViewBox()
    lab = plane().answers[7].lab
    spot = box.mapViewToScene(QPointF(lab.a, lab.b))

    class Press:
        def scenePos(self):  # noqa: N802
            return spot + QPointF(3, -2)

    with qtbot.waitSignal(shown.chosen) as told:
        shown._clicked(Press())
    assert told.args == [8]
    assert "Chosen, 8: Mardle ×2 › Brackle" in shown.accessibleDescription()
    shown._name_point(spot)
    assert shown._plot.toolTip().startswith("8  Mardle ×2 › Brackle")


def test_choosing_from_outside_is_not_told_back(shown):
    told = []
    shown.chosen.connect(told.append)
    shown.choose(5)
    assert shown.rank == 5
    assert told == []


def test_keys_go_through_the_answers(shown, qtbot):
    qtbot.keyClick(shown, Qt.Key.Key_Right)
    assert shown.rank == 3
    qtbot.keyClick(shown, Qt.Key.Key_Left)
    qtbot.keyClick(shown, Qt.Key.Key_Left)
    qtbot.keyClick(shown, Qt.Key.Key_Left)
    assert shown.rank == 1


def test_the_ground_follows_the_surround(shown):
    assert shown._plot.backgroundBrush().color().name() == "#777777"
    look.set_surround(Surround.BLACK)
    assert shown._plot.backgroundBrush().color().name() == "#000000"
    assert shown._plot.getAxis("left").textPen().color().name() == "#ffffff"


def test_labels_lie_inside_and_the_chosen_has_one(shown):
    seen = {rank for rank, text in shown._labels if text.isVisible()}
    assert 2 in seen


def test_it_speaks_target_and_lightness(shown):
    assert "Target: L* 57.4" in shown.accessibleDescription()
    assert "10 answers, 148 own tiles." in shown.accessibleDescription()
    assert "target 57.4" in shown.bar.accessibleDescription()


def test_no_component_loads_anything_heavy_when_it_is_imported():
    code = (
        "import sys, pkgutil, importlib, swatch.screens.components as c\n"
        "for m in pkgutil.iter_modules(c.__path__): importlib.import_module(c.__name__ + '.' + m.name)\n"
        "print(sorted({'pyqtgraph','cv2','scipy','sklearn','colour','PIL','reportlab'} & set(sys.modules)))"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "[]"
