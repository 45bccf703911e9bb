from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QWidget

from swatch.screens import gallery
from swatch.screens.style import DARK, LIGHT, TEXT_ON, Surround, contrast, look


@pytest.mark.parametrize("tokens", [LIGHT, DARK], ids=["light", "dark"])
def test_all_text_stands_out_by_4_5_to_1(tokens):
    for text, ground in TEXT_ON:
        assert contrast(getattr(tokens, text), getattr(tokens, ground)) >= 4.5, (text, ground)


def test_contrast_of_published_pairs():
    # W3C, WCAG 2.1: black on white is 21:1; #767676 on white is the lightest grey that passes 4.5:1 (memory).
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21.0)
    assert 4.5 <= contrast("#767676", "#FFFFFF") < 4.6
    assert contrast("#777777", "#FFFFFF") < 4.5


def test_text_on_every_bench_stands_out():
    for surround in Surround:
        look.set_surround(surround)
        assert contrast(look.bench_ink.name(), look.bench.name()) >= 4.5


@pytest.mark.parametrize("tokens", [LIGHT, DARK], ids=["light", "dark"])
def test_everything_but_the_accent_is_a_grey_without_tint(tokens):
    for name in ("window", "panel", "raised", "field", "ink", "quiet", "line", "edge"):
        colour = QColor(getattr(tokens, name))
        assert colour.red() == colour.green() == colour.blue(), name


def test_control_borders_can_be_seen():
    for tokens in (LIGHT, DARK):
        for ground in ("panel", "raised", "field"):
            assert contrast(tokens.edge, getattr(tokens, ground)) >= 3.0


def test_every_page_opens_in_both_schemes_and_all_that_takes_keys_has_a_name(qtbot):
    made = gallery.Gallery()
    qtbot.addWidget(made)
    made.resize(1280, 800)
    made.show()
    for dark in (False, True):
        look.wear(dark=dark)
        for row in range(made.names.count()):
            made.names.setCurrentRow(row)
            assert not made.grab().isNull()
    nameless = [
        type(widget).__name__
        for widget in made.findChildren(QWidget)
        if widget.focusPolicy() != Qt.FocusPolicy.NoFocus
        and not widget.accessibleName()
        and not getattr(widget, "text", str)()
        and not widget.objectName().startswith("qt_")
        and type(widget).__name__ not in ("QScrollArea", "QStackedWidget", "QLineEdit")
    ]
    assert nameless == []
