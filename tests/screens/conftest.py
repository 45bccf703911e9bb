from __future__ import annotations

import pytest
from PySide6.QtWidgets import QApplication
from small_studio import ToldWorkers, make_studio

from swatch.desk.desks import Desks
from swatch.desk.jobs import Jobs
from swatch.desk.settings import Settings
from swatch.library.studio import Studio
from swatch.screens.start import make_frame


class Shop:
    """A window on a studio, with workers that say what the test tells them."""

    def __init__(self, qtbot):
        self.workers = ToldWorkers()
        settings = Settings()
        self.window = make_frame(QApplication.instance(), settings)
        self.desks = Desks(settings, Jobs(workers=self.workers))
        self.window.attach(self.desks)
        self.bugs = []
        self.window.bug.connect(self.bugs.append)
        self.window.show()
        self.qtbot = qtbot

    def place(self, code):
        self.window.show_place(code)
        QApplication.processEvents()
        return self.window.now

    def close(self):
        self.desks.close()
        self.window.close()
        assert self.bugs == []


@pytest.fixture
def shop(qtbot):
    made = Shop(qtbot)
    yield made
    made.close()


@pytest.fixture
def small_shop(shop, tmp_path):
    assert shop.desks.studio.open(make_studio(tmp_path / "studio"))
    return shop


@pytest.fixture
def empty_shop(shop, tmp_path):
    with Studio.create(tmp_path / "mine"):
        pass
    assert shop.desks.studio.open(tmp_path / "mine")
    return shop
