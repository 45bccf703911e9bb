"""The sheet's code: what is written is read, and what is damaged is not."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swatch.science.sheet_code import COLUMNS, ROWS, cells_of, check_bits, code_of
from swatch.terms.sheet import Paper, SheetCode, Split, firing_mark

CODES = st.builds(
    SheetCode,
    paper=st.sampled_from(Paper),
    tile=st.tuples(st.integers(20, 200), st.integers(20, 200)),
    card=st.tuples(st.integers(40, 300), st.integers(40, 300)),
    slots=st.integers(1, 255),
    sheet=st.integers(1, 255),
    split=st.sampled_from(Split),
    firing=st.integers(0, (1 << 24) - 1),
)


@given(CODES)
def test_a_code_comes_back_as_it_was(code):
    assert code_of(cells_of(code)) == code


@given(CODES, st.sets(st.integers(0, ROWS * COLUMNS - 1), min_size=1, max_size=3))
def test_up_to_three_wrong_cells_are_noticed(code, wrong):
    cells = [list(row) for row in cells_of(code)]
    for k in wrong:
        cells[k // COLUMNS][k % COLUMNS] ^= True
    assert code_of(tuple(tuple(row) for row in cells)) is None


def test_blank_and_black_patches_are_no_code():
    for cell in (True, False):
        assert code_of(((cell,) * COLUMNS,) * ROWS) is None


def test_the_check_is_the_published_one():
    # CRC-16/IBM-3740 ("CCITT-FALSE"), check value 29B1 of the text 123456789: catalogue of parametrised CRC
    # algorithms, from memory.
    assert check_bits(int.from_bytes(b"123456789", "big"), 72) == 0x29B1


def test_a_figure_too_large_for_its_place_is_a_bug():
    with pytest.raises(ValueError, match="does not fit"):
        cells_of(SheetCode(Paper.A4, (50, 100), (125, 90), 256))


def test_every_row_has_light_and_dark_cells():
    for row in cells_of(SheetCode(Paper.A4, (50, 100), (125, 90), 4)):
        assert 2 <= sum(row) <= COLUMNS - 2


def test_a_firing_s_mark_is_of_its_name_as_names_are_compared():
    assert firing_mark("Kiln 2,  May") == firing_mark("kiln 2, may") != firing_mark("Kiln 2, June")
    assert firing_mark(" ") == 0
    assert 0 < firing_mark("Kiln 2") < 1 << 24
