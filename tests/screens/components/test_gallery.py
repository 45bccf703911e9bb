from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QWidget

from swatch.science.colour_math import srgb_decode, srgb_encode
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


# Machado, Oliveira & Fernandes (2009), "A physiologically-based model for simulation of color vision deficiency",
# severity 1.0, linear sRGB: memory.
DEFICIENCIES = {
    "protan": [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]],
    "deutan": [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]],
    "tritan": [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]],
}


def as_seen(colour, matrix):
    name = QColor(colour)
    light = srgb_decode(np.array([name.redF(), name.greenF(), name.blueF()]))
    red, green, blue = np.rint(255 * srgb_encode(np.clip(np.array(matrix) @ light, 0, 1))).astype(int).tolist()
    return QColor(red, green, blue).name()


@pytest.mark.parametrize("deficiency", DEFICIENCIES)
def test_all_text_stands_out_to_who_sees_fewer_hues(deficiency):
    matrix = DEFICIENCIES[deficiency]
    assert np.allclose(np.sum(matrix, axis=1), 1.0, atol=1e-5)
    for tokens in (LIGHT, DARK):
        for text, ground in TEXT_ON:
            one, other = (as_seen(getattr(tokens, name), matrix) for name in (text, ground))
            assert contrast(one, other) >= 4.5, (text, ground)


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
