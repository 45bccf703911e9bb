from __future__ import annotations

import pytest
from potter import Potter
from PySide6.QtWidgets import QApplication

from swatch.desk.settings import Settings
from swatch.screens.start import furnish, make_frame


@pytest.fixture
def window(qtbot):
    settings = Settings()
    made = make_frame(QApplication.instance(), settings)
    bugs = []
    made.bug.connect(bugs.append)
    desks = furnish(made, settings)
    made.show()
    yield made
    desks.close()
    made.close()
    assert bugs == []


@pytest.fixture
def potter(window, qtbot):
    return Potter(window, qtbot)


@pytest.fixture
def at_demo(potter, own_demo):
    assert potter.window.desks.studio.open(own_demo)
    return potter
