"""Tables for people line up."""

from __future__ import annotations

from swatch.cli.columns import columns_of_text


def test_columns_line_up_and_numbers_stand_to_the_right():
    assert columns_of_text(["zone", "L*"], [["A", "7.5"], ["long name", "−21.6"]], numbers=[1]) == [
        "zone          L*",
        "A            7.5",
        "long name  −21.6",
    ]


def test_wide_signs_take_two_cells_and_marks_set_on_others_none():
    lines = columns_of_text(["a", "b"], [["釉薬", "x"], ["e\u0301", "x"]])
    assert lines == ["a     b", "釉薬  x", "e\u0301     x"]


def test_nothing_trails():
    assert columns_of_text(["a", "b"], [["x", ""]]) == ["a  b", "x"]
