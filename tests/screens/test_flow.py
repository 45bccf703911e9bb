"""Buttons side by side that go on in the next line."""

from PySide6.QtWidgets import QWidget

from swatch.screens.flow import Flow
from swatch.screens.widgets import button


def test_no_button_is_narrower_than_its_words_and_lines_are_broken_where_they_are_full(qtbot):
    held = QWidget()
    qtbot.addWidget(held)
    flow = Flow(spacing=8)
    assert flow.sizeHint().isEmpty()
    assert flow.heightForWidth(100) == 0
    made = [button(text) for text in ("Outline zones", "Mark card corners", "Leave zone out", "Match")]
    for one in made:
        flow.addWidget(one)
    held.setLayout(flow)
    wide = made[0].sizeHint().width() + 8 + made[1].sizeHint().width()
    held.resize(wide, flow.heightForWidth(wide))
    held.show()
    assert [one.width() >= one.sizeHint().width() for one in made] == [True] * 4
    assert made[0].y() == made[1].y() < made[2].y()
    assert made[-1].geometry().bottom() < held.height()
    made[0].hide()
    flow.activate()
    assert made[1].x() == 0
    flow.removeWidget(made[1])
    assert flow.count() == 3
