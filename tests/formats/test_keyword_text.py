"""ISO 28178 keyword text: cards in, readings out, and what is refused."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swatch.formats.keyword_text import (
    KeywordText,
    read_card,
    read_keyword_text,
    write_card,
    write_keyword_text,
)
from swatch.formats.readings_out import write_readings_text
from swatch.formats.tables import NOT_SAID, WithDoubt
from swatch.terms.colour import Lab
from swatch.terms.evidence import ZoneReading
from swatch.terms.measured import CardTable
from swatch.terms.problems import StudioProblem

CARD = """CGATS.17
FILE_DESCRIPTOR\t"Studio card"   # painted by hand
KEYWORD "SWATCH_ROWS"
KEYWORD "SWATCH_COLUMNS"
SWATCH_ROWS 2
SWATCH_COLUMNS 3
{light}
NUMBER_OF_FIELDS 4
BEGIN_DATA_FORMAT
SAMPLE_ID\tLAB_L LAB_A LAB_B
END_DATA_FORMAT
NUMBER_OF_SETS 6
BEGIN_DATA
A1 95.0 0.1 -1.5
A2 80 0 0
A3 65 0 0
"B 1" 50 20.5 .5
B2 35 0 0
B3 20 0 0
END_DATA
"""
D50 = 'ILLUMINATION_NAME "D50"\nOBSERVER_ANGLE "2"'


def card(light: str = D50, **changes: str) -> bytes:
    text = CARD.format(light=light)
    for old, new in changes.items():
        assert old in text
        text = text.replace(old, new)
    return text.encode()


def refused(data: bytes) -> StudioProblem:
    with pytest.raises(StudioProblem) as caught:
        read_card(data, "card.txt")
    return caught.value


@pytest.mark.parametrize(
    "light",
    [
        D50,
        'WEIGHTING_FUNCTION "ILLUMINANT, D50"\nWEIGHTING_FUNCTION "OBSERVER, 2 degree"',
        'MEASUREMENT_SOURCE "Illumination=D50 ObserverAngle=2° WhiteBase=Abs Filter=No"',
        "ILLUMINATION_NAME D50\nOBSERVER_ANGLE 2",
    ],
)
def test_a_card_stated_for_d50_and_2_degree_is_read_row_by_row(light):
    found = read_card(card(light), "card.txt")
    assert (found.name, found.rows, found.columns) == ("Studio card", 2, 3)
    assert found.lab[0] == Lab(95.0, 0.1, -1.5)
    assert found.lab[3] == Lab(50, 20.5, 0.5)


@pytest.mark.parametrize(
    "light",
    [
        "",
        'ILLUMINATION_NAME "D50"',
        'ILLUMINATION_NAME "D65"\nOBSERVER_ANGLE "2"',
        'ILLUMINATION_NAME "D50"\nOBSERVER_ANGLE "10"',
        'ILLUMINATION_NAME "D50"\nOBSERVER_ANGLE "2"\nWEIGHTING_FUNCTION "ILLUMINANT, D65"',
    ],
)
def test_a_card_not_stated_for_d50_and_2_degree_is_refused(light):
    assert refused(card(light)).code == "card-not-d50"


@pytest.mark.parametrize(
    ("old", "new", "code", "row"),
    [
        ("CGATS.17", "hello", "keyword-text-broken", 1),
        ("SWATCH_ROWS 2", "SWATCH_ROWS 3", "card-layout", None),
        ("SWATCH_ROWS 2", "SWATCH_ROWS 99", "card-layout", None),
        ("SWATCH_COLUMNS 3", "", "card-layout", None),
        ("A2 80 0 0", "A2 80,5 0 0", "decimal-comma", 16),
        ("A2 80 0 0", "A2 80 0", "keyword-text-broken", 16),
        ("A2 80 0 0", "A1 80 0 0", "keyword-text-broken", 16),
        ("A2 80 0 0", 'A2 80 0 "0', "keyword-text-broken", 16),
        ("A2 80 0 0", "A2 180 0 0", "out-of-range", 16),
        ("LAB_L", "XYZ_X", "keyword-text-broken", None),
        ("END_DATA\n", "", "keyword-text-broken", None),
        ("NUMBER_OF_SETS 6", "NUMBER_OF_SETS 7", "keyword-text-broken", None),
        ("NUMBER_OF_FIELDS 4", "NUMBER_OF_FIELDS 5", "keyword-text-broken", 12),
    ],
)
def test_a_broken_card_is_refused_with_its_line(old, new, code, row):
    data = card().decode()
    assert old in data
    # The keyword's own line, not its declaration; and only the last END_DATA.
    head, _, tail = data.rpartition(old)
    problem = refused((head + new + tail).encode())
    assert (problem.code, problem.where.file) == (code, "card.txt")
    if row is not None:
        assert problem.where.row == row


WORDS = st.from_regex(r"[A-Z][A-Z0-9_]{0,8}", fullmatch=True).filter(
    lambda word: not word.startswith(("NUMBER_OF", "BEGIN_", "END_", "KEYWORD"))
)
TEXTS = st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cs", "Zl", "Zp"]), max_size=20)


@st.composite
def keyword_texts(draw):
    fields = tuple(draw(st.lists(WORDS, min_size=1, max_size=5, unique=True)))
    rows = draw(st.lists(st.tuples(*(TEXTS for _ in fields)), max_size=5))
    keywords = draw(st.lists(st.tuples(WORDS, TEXTS), max_size=4))
    return KeywordText(tuple(keywords), fields, tuple(rows))


@given(keyword_texts())
def test_what_is_written_is_read_back_the_same(text):
    back = read_keyword_text(write_keyword_text(text), "t.txt")
    assert (back.keywords, back.fields, back.rows) == (text.keywords, text.fields, text.rows)


@given(
    st.integers(1, 4),
    st.integers(2, 6),
    st.text("abcdef é\"#'", min_size=1, max_size=12).filter(str.strip),
    st.data(),
)
def test_cards_come_back_the_same(rows, columns, name, data):
    if rows * columns < 6:
        rows = 3
    one = st.builds(Lab, st.floats(0, 100), st.floats(-120, 120), st.floats(-120, 120))
    lab = tuple(data.draw(st.lists(one, min_size=rows * columns, max_size=rows * columns)))
    made = CardTable(name, rows, columns, lab)
    assert read_card(write_card(made), "c.txt") == made


@given(st.binary(max_size=200) | TEXTS.map(lambda text: ("ISO28178\n" + text).encode()))
def test_any_bytes_give_a_problem_or_a_file(data):
    try:
        read_keyword_text(data, "t.txt")
    except StudioProblem as caught:
        problem = caught
    else:
        return
    assert problem.where.file == "t.txt"


def test_readings_go_out_as_keyword_text_stated_for_d50_and_2_degree():
    reading = ZoneReading("Tile # 1", 'zone "A"', Lab(50.12346, -0.00001, 3), NOT_SAID)
    back = read_keyword_text(write_readings_text((WithDoubt(reading, 1.25),)), "r.txt")
    assert back.values("ILLUMINATION_NAME", "OBSERVER_ANGLE") == ("D50", "2")
    row = dict(zip(back.fields, back.rows[0], strict=True))
    assert row["SAMPLE_NAME"] == 'Tile # 1 / zone "A" / fired / 1'
    assert [row[f"LAB_{c}"] for c in "LAB"] == ["50.1235", "0", "3"]
    assert row["SWATCH_U"] == "1.25"
