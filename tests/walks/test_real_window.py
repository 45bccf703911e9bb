"""One walk in a real window on a real display: run where one is wanted, with ``SWATCH_REAL_WINDOW=1``."""

from __future__ import annotations

import os

import pytest
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QLabel

from swatch.desk.settings import Settings
from swatch.screens.start import furnish, make_frame

pytestmark = pytest.mark.skipif("SWATCH_REAL_WINDOW" not in os.environ, reason="needs a display of its own")
LONG = 120_000


def colours_on(screen):
    """Number of different colours a person in front of the screen would see."""
    seen = screen.grabWindow(0).toImage()
    assert (seen.width(), seen.height()) >= (1280, 800)
    return len({seen.pixel(x, y) for x in range(0, seen.width(), 5) for y in range(0, seen.height(), 5)})


def words_on(window):
    return " ".join(label.text() for label in window.findChildren(QLabel) if label.isVisible())


def test_from_the_welcome_page_to_what_replaces_the_discontinued_glaze(qtbot, qapp, own_demo, demo_answers):
    assert QGuiApplication.platformName() == "xcb"
    settings = Settings()
    window = make_frame(qapp, settings)
    qtbot.addWidget(window)
    window.resize(1280, 800)
    with qtbot.waitExposed(window):
        window.show()
    desks = furnish(window, settings)
    try:
        assert "Welcome" in words_on(window)
        desks.studio.open(own_demo)
        qtbot.waitUntil(lambda: window.now.isVisible(), timeout=LONG)
        material = demo_answers.replace.material
        window.replace_material(material)
        qtbot.waitUntil(lambda: len(desks.matching.suggestions) > 0, timeout=LONG)
        qtbot.waitUntil(lambda: colours_on(qapp.primaryScreen()) > 100, timeout=LONG)
        assert material in words_on(window)
        assert "nvented" in words_on(window)
    finally:
        desks.close()
