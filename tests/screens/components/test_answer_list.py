from __future__ import annotations

import time

import pytest
from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QImage, QPainter

from swatch.screens.components.answer_list import AnswerList
from swatch.screens.components.answer_row import ROW_HEIGHT, columns, help_text
from swatch.screens.components.painting import write
from swatch.screens.gallery_samples import BEYOND, TARGET, rows
from swatch.screens.style import look


@pytest.fixture
def answers(qtbot):
    made = AnswerList()
    qtbot.addWidget(made)
    made.rows.show(TARGET, rows())
    made.resize(720, 56 + 10 * ROW_HEIGHT)
    made.show()
    return made


def test_the_target_is_one_strip_down_the_whole_list_and_every_answer_touches_it(answers, name_of, picture):
    image = picture(answers.view)
    at = columns(answers.view.viewport().width())
    middle = at.strip[0] + at.strip[1] // 2
    strip = {image.pixelColor(middle, y).name() for y in range(10 * ROW_HEIGHT)}
    assert strip == {name_of(TARGET)}
    for k, row in enumerate(rows()):
        y = k * ROW_HEIGHT + 32
        edge = at.strip[0] + at.strip[1]
        assert image.pixelColor(edge - 1, y).name() == name_of(TARGET)
        assert image.pixelColor(edge, y).name() == name_of(row.lab)
        assert image.pixelColor(at.draws[0], k * ROW_HEIGHT + 6).name() == name_of(row.draws[0])


def test_swapped_the_strip_stands_on_the_other_side_and_still_touches(answers, name_of, qtbot, picture):
    qtbot.keyClick(answers.view, Qt.Key.Key_X)
    image = picture(answers.view)
    at = columns(answers.view.viewport().width())
    for k, row in enumerate(rows()):
        y = k * ROW_HEIGHT + 32
        assert image.pixelColor(at.strip[0], y).name() == name_of(TARGET)
        assert image.pixelColor(at.strip[0] - 1, y).name() == name_of(row.lab)


def test_no_accent_and_no_selection_lies_on_the_bench(answers, picture):
    before = picture(answers.view)
    answers.choose(4)
    after = picture(answers.view)
    at = columns(answers.view.viewport().width())
    left, wide = at.bench
    bench = QRect(left, 0, wide, 10 * ROW_HEIGHT)
    assert before.copy(bench) == after.copy(bench)
    accents = {look.colour("accent").name(), look.colour("accent_text").name()}
    seen = {after.pixelColor(x, y).name() for x in range(0, after.width(), 2) for y in range(0, after.height(), 2)}
    assert not accents & seen


def test_keys_go_through_the_answers_and_tell(answers, qtbot, picture):
    assert answers.chosen_row().rank == 1
    with qtbot.waitSignal(answers.chosen) as told:
        qtbot.keyClick(answers.view, Qt.Key.Key_Down)
    assert told.args == [1]
    assert answers.chosen_row().rank == 2


def test_the_first_answer_is_chosen_and_an_empty_list_says_what_to_do(qtbot, picture):
    made = AnswerList()
    qtbot.addWidget(made)
    made.set_empty_text("Choose a target, then Find.")
    made.resize(720, 300)
    made.show()
    empty = picture(made.view)
    made.set_empty_text("")
    assert picture(made.view) != empty
    assert made.chosen_row() is None


def test_every_part_of_a_row_can_be_asked(qapp):
    row, at = rows()[8], columns(720)
    assert help_text(row, TARGET, at, at.strip[0] + 3).startswith("Target: L* 57.4")
    assert "Mean: L* 60.0" in help_text(row, TARGET, at, at.draws[0] + 3)
    assert "cannot show" in help_text(row, BEYOND, at, at.strip[0] + 3)
    assert help_text(row, TARGET, columns(1200), 400) == ""
    assert row.name in help_text(row, TARGET, columns(680), 330)


def test_ten_answers_paint_within_a_frame_or_so(answers, picture):
    """Against the bare drawing of as many texts and rectangles, which no list can do without."""
    image = QImage(720, 640, QImage.Format.Format_RGB32)

    def bare():
        painter = QPainter(image)
        for k in range(10):
            for text in range(7):
                write(painter, QRect(300, 64 * k + 8 * text, 240, 20), f"Halm Moss ×2 {text}", look.bench_ink)
            for cell in range(40):
                painter.fillRect(QRect(16 * cell, 64 * k, 16, 28), look.bench)
        painter.end()

    picture(answers.view), bare()
    whole = min(_cpu(lambda: picture(answers.view)) for _turn in range(5))
    least = min(_cpu(bare) for _turn in range(5))
    assert whole <= 8 * least


def _cpu(work):
    start = time.process_time()
    work()
    return time.process_time() - start
