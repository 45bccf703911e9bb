"""Where things lie on the sheet: nothing overlaps, everything is on the paper, twelve tiles fit on A3."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from swatch.science.sheet_layout import (
    DEFAULT_CARD,
    DEFAULT_TILE,
    EDGE,
    GAP,
    LABEL,
    empty_mark,
    lay_out,
    layout_of,
    most_slots,
    printed,
    sheets_for,
)
from swatch.terms.problems import StudioProblem
from swatch.terms.sheet import Box, Paper, SheetCode, Size, Split


@pytest.mark.parametrize(("paper", "tiles"), [(Paper.A3, 12), (Paper.A4, 4), (Paper.LETTER, 4)])
def test_as_many_usual_tiles_fit_beside_the_card(paper, tiles):
    assert most_slots(paper, DEFAULT_TILE, DEFAULT_CARD) == tiles


@settings(max_examples=60, deadline=None)
@given(
    st.sampled_from(Paper),
    st.tuples(st.integers(20, 120), st.integers(20, 120)),
    st.tuples(st.integers(60, 220), st.integers(60, 280)),
)
def test_everything_is_on_the_paper_and_nothing_overlaps(paper, tile, card):
    fits = most_slots(paper, Size(*tile), Size(*card))
    assume(fits)
    layout = lay_out(SheetCode(paper, tile, card, fits))
    paper_inside = Box(0, 0, layout.page.wide, layout.page.high).grown(-EDGE + 1e-6)
    labels = [Box(s.box.left, s.box.top - LABEL, s.box.wide, LABEL) for s in layout.slots]
    things = [*layout.markers, *layout.codes, layout.card, *(s.box for s in layout.slots), *labels]
    things += [layout.heading, layout.advice, layout.bar]
    for thing in things:
        assert paper_inside.left <= thing.left
        assert thing.right <= paper_inside.right
        assert paper_inside.top <= thing.top
        assert thing.low <= paper_inside.low
    for one, other in itertools.combinations(things, 2):
        assert not one.grown(-1e-6).meets(other.grown(-1e-6)), (one, other)
    for one, other in itertools.combinations(layout.slots, 2):
        assert not one.box.grown(GAP / 2 - 1e-6).meets(other.box.grown(GAP / 2 - 1e-6))
    assert [slot.number for slot in layout.slots] == list(range(1, fits + 1))
    assert all(slot.box.wide == tile[0] and slot.box.high == tile[1] for slot in layout.slots)
    assert layout_of(layout.code) == layout


def test_more_tiles_than_fit_make_several_sheets_numbered_on():
    codes = sheets_for(Paper.A3, DEFAULT_TILE, DEFAULT_CARD, 30, Split.STEPS)
    assert [(code.sheet, code.slots) for code in codes] == [(1, 12), (2, 12), (3, 6)]
    assert [slot.number for slot in lay_out(codes[2]).slots] == list(range(25, 31))


def test_a_tile_that_does_not_fit_is_said_so():
    with pytest.raises(StudioProblem) as problem:
        sheets_for(Paper.A4, Size(200, 200), DEFAULT_CARD, None)
    assert problem.value.code == "sheet-no-room"


def test_a_code_of_no_sheet_of_ours_has_no_layout():
    assert layout_of(SheetCode(Paper.A4, (50, 100), (125, 90), 40)) is None
    assert layout_of(SheetCode(Paper.A4, (3, 100), (125, 90), 1)) is None
    assert layout_of(SheetCode(Paper.A3, (200, 200), (300, 300), 1)) is None


def test_the_mark_of_an_empty_slot_lies_in_its_middle():
    layout = lay_out(SheetCode(Paper.A4, (50, 100), (125, 90), 4))
    for slot in layout.slots:
        assert empty_mark(slot).centre == pytest.approx(slot.box.centre)
    assert all(any(box.meets(slot.box) for box in printed(layout)) for slot in layout.slots)
