"""CSV as text: what is read, what is refused, and where the row is said to be."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swatch.formats.csv_text import MOST_CELL, read_sheet, write_sheet
from swatch.terms.problems import StudioProblem
from swatch.terms.problems.files import all_of

CELLS = st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cs", "Zl", "Zp"]), max_size=30).map(
    str.strip
)


def refused(data: bytes) -> StudioProblem:
    with pytest.raises(StudioProblem) as caught:
        read_sheet(data, "t.csv")
    return caught.value


@given(st.lists(st.tuples(CELLS, CELLS, CELLS), max_size=8))
def test_what_is_written_is_read_back_the_same(rows):
    sheet = read_sheet(write_sheet(("one", "two", "three"), iter(rows)), "t.csv")
    assert [row.cells for row in sheet.rows] == [row for row in rows if any(row)]


@given(st.binary(max_size=300))
def test_any_bytes_give_a_table_or_a_placed_problem(data):
    try:
        sheet = read_sheet(data, "t.csv")
    except StudioProblem as caught:
        problem = caught
    else:
        assert all(len(row.cells) == len(sheet.header) for row in sheet.rows)
        return
    assert problem.where.file == "t.csv"


def test_a_byte_order_mark_is_not_part_of_the_first_column():
    assert read_sheet(b"\xef\xbb\xbfa,b\r\n1,2\r\n", "t.csv").header == ("a", "b")


def test_rows_are_counted_as_a_spreadsheet_shows_them_even_after_blank_lines():
    assert [row.number for row in read_sheet(b"a,b\n\n1,2\n,\n3,4\n", "t.csv").rows] == [3, 5]


@pytest.mark.parametrize(
    ("data", "code", "row"),
    [
        (b"", "empty-file", None),
        (b"  \n\n", "empty-file", None),
        (b',,\n"",\n', "empty-file", None),
        (b"\xff\xfea\0,\0b\0", "not-utf8", None),
        ("a,b\n1,2\nJosé,3\n".encode("cp1252"), "not-utf8", 3),
        (b"a,b\n1,2\n1,\x00\n", "nul-in-text", 3),
        (b"a;b\n1;2\n", "wrong-separator", 1),
        (b"a\tb\n1\t2\n", "wrong-separator", 1),
        (b'a,b\n1,"2\n', "bad-quotes", 2),
        (b'a,b\n1,"2"3\n', "bad-quotes", 2),
        (b"a,A\n1,2\n", "column-twice", 1),
        (b"a,b\n54,3,1\n", "too-many-cells", 2),
        (b"a,b\n54\n", "too-few-cells", 2),
        (b"a,b\n1," + b"x" * (MOST_CELL + 1) + b"\n", "cell-too-long", 2),
        (b"a,b\n1," + b"x" * 200_000 + b"\n", "cell-too-long", 2),
        (b'a,b\n1,"x\ny"\n', "line-break-in-cell", 2),
    ],
)
def test_what_cannot_be_read_is_refused_with_its_row(data, code, row):
    problem = refused(data)
    assert (problem.code, problem.where.row, problem.where.file) == (code, row, "t.csv")


def test_every_bad_row_is_named_at_once_up_to_a_limit():
    problems = all_of(refused(b"a,b\n" + b"1\n" * 30))
    assert [problem.where.row for problem in problems[:20]] == list(range(2, 22))
    assert (problems[-1].code, problems[-1].facts["more"]) == ("more-bad-rows", 10)
