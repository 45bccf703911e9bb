from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from swatch.screens.components.swatch_pair import PairWithWords, SwatchPair
from swatch.screens.gallery_samples import BEYOND, TARGET, suggestions
from swatch.screens.style import Surround, look

OTHER = suggestions()[1].prediction.lab


@pytest.mark.parametrize("scale", [1.0, 1.25, 1.5, 2.0])
@pytest.mark.parametrize("dark", [False, True])
def test_the_two_touch_with_no_line_between(drawn, name_of, scale, dark):
    look.wear(dark=dark)
    pair = SwatchPair(TARGET, OTHER)
    image = drawn(pair, scale)
    left, right = pair.halves()
    y = round(left.center().y() * scale)
    row = [
        image.pixelColor(x, y).name() for x in range(round(left.left() * scale), int((right.right() + 1) * scale))
    ]
    assert set(row) == {name_of(TARGET), name_of(OTHER)}
    assert row == sorted(row, key=lambda colour: colour == name_of(OTHER))


def test_the_bench_is_the_same_grey_in_both_schemes_and_changes_with_the_surround(drawn):
    pair = SwatchPair(TARGET, OTHER)
    seen = []
    for dark in (False, True):
        look.wear(dark=dark)
        seen.append(drawn(pair).pixelColor(2, 2).name())
    look.set_surround(Surround.WHITE)
    seen.append(drawn(pair).pixelColor(2, 2).name())
    assert seen == ["#777777", "#777777", "#ffffff"]


def test_x_swaps_and_s_changes_the_surround(qtbot, drawn, name_of):
    pair = SwatchPair(TARGET, OTHER)
    before = drawn(pair)
    qtbot.keyClick(pair, Qt.Key.Key_X)
    after = drawn(pair)
    assert before.pixelColor(20, 30).name() == name_of(TARGET)
    assert after.pixelColor(20, 30).name() == name_of(OTHER)
    assert after.pixelColor(pair.width() - 20, 30).name() == name_of(TARGET)
    qtbot.keyClick(pair, Qt.Key.Key_S)
    assert look.surround is Surround.WHITE


def test_it_speaks_both_colours_and_their_difference(drawn):
    pair = SwatchPair(TARGET, OTHER)
    drawn(pair)
    said = pair.accessibleDescription()
    assert "Target: L* 57.4, a* −21.6, b* 13.8." in said
    assert "Redder by 1.9, yellower by 1.8." in said
    assert pair.accessibleName() == "Target / Prediction"
    assert pair.focusPolicy() == Qt.FocusPolicy.StrongFocus


def test_what_the_screen_cannot_show_is_notched_and_said(drawn, name_of):
    pair = SwatchPair(TARGET, BEYOND)
    image = drawn(pair)
    right = pair.halves()[1]
    assert image.pixelColor(right.right(), right.top()).name() == "#777777"
    assert image.pixelColor(right.left() + 3, right.top()).name() == name_of(BEYOND)
    assert image.pixelColor(pair.halves()[0].right(), right.top()).name() == name_of(TARGET)
    assert "This screen cannot show it" in pair.accessibleDescription()
    assert "This screen cannot show it" in pair.toolTip()


def test_what_is_not_known_is_never_a_colour(drawn):
    pair = SwatchPair(TARGET, None)
    image = drawn(pair)
    right = pair.halves()[1]
    assert image.pixelColor(right.left() + 6, right.top() + 6).name() == "#777777"
    assert "Prediction: not known." in pair.accessibleDescription()


def test_words_stand_beside(qtbot):
    both = PairWithWords(SwatchPair(TARGET, OTHER))
    qtbot.addWidget(both)
    assert both.words.text() == "Redder by 1.9, yellower by 1.8."
    both.show_pair(TARGET, TARGET)
    assert both.words.text() == "The same to the eye."
