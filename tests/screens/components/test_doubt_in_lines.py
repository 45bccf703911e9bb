from __future__ import annotations

import pytest
from PySide6.QtWidgets import QLabel

from swatch.desk.sureness import sureness_of
from swatch.screens.components.caution_line import CautionLine
from swatch.screens.components.chance_bar import ChanceBar
from swatch.screens.components.de_line import SCALE_END, DeLine, x_of
from swatch.screens.components.how_sure import HowSure
from swatch.screens.gallery_samples import TARGET, suggestions
from swatch.screens.style import look


def dark_columns(image, y, colour):
    return [x for x in range(image.width()) if image.pixelColor(x, y).name() == colour]


@pytest.mark.parametrize("expected", [0.0, 1.9, 4.0, 7.9])
def test_the_tick_stands_where_the_value_is(drawn, expected):
    line = DeLine(expected, max(0.0, expected - 1), min(8.0, expected + 1), 9.0)
    image = drawn(line)
    columns = dark_columns(image, 46 - 7, look.colour("ink").name())
    assert columns
    assert sum(columns) / len(columns) == pytest.approx(4 + 96 * expected / SCALE_END, abs=1.2)


def test_one_scale_for_every_row_and_its_end_holds():
    assert x_of(0, 0) == 0
    assert x_of(8, 0) == x_of(30, 0) == 96
    assert x_of(2, 0) == 24


def test_a_range_off_the_scale_ends_in_an_arrow(drawn):
    quiet = look.colour("quiet").name()
    inside = dark_columns(drawn(DeLine(5.0, 4.0, 7.0)), 46, quiet)
    beyond = dark_columns(drawn(DeLine(7.0, 4.0, 10.0)), 46, quiet)
    assert max(inside) <= 4 + 84
    assert max(beyond) > 4 + 96


def test_a_line_speaks_the_meaning_first(qtbot):
    line = DeLine(2.6, 1.5, 3.9, 2.0)
    qtbot.addWidget(line)
    said = line.accessibleDescription()
    assert said == "Seen side by side, usually accepted: 2.6, likely 1.5–3.9; wanted within 2.0."


@pytest.mark.parametrize(("chance", "share"), [(0.0, 0.0), (0.25, 0.25), (0.63, 0.63), (1.0, 1.0)])
def test_the_bar_is_filled_from_the_left_by_the_chance(drawn, chance, share):
    bar = ChanceBar(chance)
    image = drawn(bar)
    filled = dark_columns(image, 32, look.colour("quiet").name())
    assert len(filled) == pytest.approx(58 * share, abs=1)
    if filled:
        assert filled == list(range(filled[0], filled[0] + len(filled)))


def test_a_chance_under_one_percent_is_said_so(qtbot):
    bar = ChanceBar(0.003, "84 pieces", 2.0)
    qtbot.addWidget(bar)
    assert bar.accessibleDescription() == "under 1 % of such pieces come within 2.0. Enough for 84 pieces."


def test_a_caution_has_shape_and_words_and_is_gone_without_them(qtbot):
    line = CautionLine("Runs: wipe 3 mm clear of the foot.")
    qtbot.addWidget(line)
    assert line.isVisibleTo(None)
    assert line.accessibleDescription() == "Runs: wipe 3 mm clear of the foot."
    line.show_caution("")
    assert not line.isVisibleTo(None)


def test_how_sure_says_sentence_range_chance_and_evidence_in_this_order(qtbot):
    block = HowSure(sureness_of(suggestions()[1], TARGET))
    qtbot.addWidget(block)
    block.resize(320, 200)
    block.show()
    labels = sorted(block.findChildren(QLabel), key=lambda label: label.y())
    texts = [label.text() for label in labels]
    assert texts[0] == "Redder by 1.9, yellower by 1.8."
    assert "1 in 10" in texts[1]
    assert "about 3 come within 2.0" in texts[2]
    assert texts[3] == "New layering, 14 of these materials."
    with qtbot.waitSignal(block.evidence_asked):
        block.show_evidence.click()
    block.show_sureness(None)
    assert not block.show_evidence.isVisible()
