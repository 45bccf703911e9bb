"""Components are drawn as the program draws them, and every test leaves the looks as it found them."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QPoint
from PySide6.QtGui import QColor, QImage, QPainter

from swatch.desk.colours_on_screen import screen_colours
from swatch.screens.style import Surround, look


@pytest.fixture(scope="session")
def _dressed_once(qapp):
    look.dress(qapp)


@pytest.fixture(autouse=True)
def _dressed(_dressed_once):
    if look.tokens.dark:
        look.wear(dark=False)
    yield
    # Widgets that a test has done with are gone before the looks change: each would be styled once more.
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    look.set_surround(Surround.GREY)
    if look.swapped:
        look.swap()
    screen_colours().use_profile(None)


@pytest.fixture
def drawn(qtbot):
    """Draw a widget at a scale; gives a function from logical coordinates to the colour's name."""

    def draw(widget, scale=1.0):
        qtbot.addWidget(widget)
        widget.resize(widget.sizeHint())
        size = widget.size()
        image = QImage(round(size.width() * scale), round(size.height() * scale), QImage.Format.Format_RGB32)
        image.setDevicePixelRatio(scale)
        image.fill(QColor("#FF00FF"))
        painter = QPainter(image)
        widget.render(painter, QPoint(0, 0))
        painter.end()
        return image

    return draw


@pytest.fixture
def picture():
    """Draw the inside of a list or grid at scale 1."""

    def draw(view):
        inside = view.viewport()
        image = QImage(inside.size(), QImage.Format.Format_RGB32)
        painter = QPainter(image)
        inside.render(painter, QPoint(0, 0))
        painter.end()
        return image

    return draw


@pytest.fixture
def name_of():
    """The 8-bit colour of a Lab on this screen, as ``#rrggbb``."""
    return lambda lab: screen_colours().shown(lab).colour.name()
