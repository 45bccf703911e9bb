"""Bytes of a CSV file to cells of text, with the row each stands in. Nothing is guessed.

Rows are counted as a spreadsheet shows them: the header is row 1.
"""

from __future__ import annotations

import csv
import io
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass

from swatch.terms.problems import StudioProblem, Where
from swatch.terms.problems.files import (
    ManyProblems,
    bad_quotes,
    cell_too_long,
    column_twice,
    empty_file,
    file_too_big,
    line_break_in_cell,
    more_bad_rows,
    not_utf8,
    nul_in_text,
    too_few_cells,
    too_many_cells,
    too_many_rows,
    wrong_separator,
)

MOST_BYTES = 64 * 1024 * 1024
MOST_ROWS = 200_000
MOST_COLUMNS = 200
MOST_CELL = 1_000
"""Characters in a cell; a layering of twenty long names has about 600."""
MOST_PROBLEMS = 20
"""Bad rows of one file that are named; the rest are counted."""

_UTF16 = (b"\xff\xfe", b"\xfe\xff")
_SEPARATORS = {";": "semicolons", "\t": "tabs", "|": "upright strokes"}
_SEEN_LINE = "\n\r\v\f\x1c\x1d\x1e\x85\u2028\u2029"


@dataclass(frozen=True, slots=True)
class Row:
    """One row's cells, trimmed, and the row they stand in."""

    number: int
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """A table as text: every row has as many cells as the header; rows without any text are left out."""

    header: tuple[str, ...]
    rows: tuple[Row, ...]


class Problems:
    """The problems of one file, each placed; raised together at the end."""

    def __init__(self, name: str) -> None:
        self._name = name
        self._found: list[StudioProblem] = []
        self._more = 0

    def add(self, problem: StudioProblem, row: int | None = None) -> None:
        """Keep one more problem, placed by file and row."""
        if len(self._found) < MOST_PROBLEMS:
            self._found.append(problem.at(Where(file=self._name, row=row)))
        else:
            self._more += 1

    def __bool__(self) -> bool:
        return bool(self._found)

    def raise_any(self) -> None:
        """Raise all that were kept, if any were."""
        if self._more:
            self._found.append(more_bad_rows(self._more).at(Where(file=self._name)))
        if self._found:
            raise ManyProblems(self._found)


def read_text(data: bytes, name: str) -> str:
    """Decode a text file: UTF-8, with or without a byte order mark.

    Raises
    ------
    StudioProblem
        ``file-too-big``, ``empty-file``, ``not-utf8`` or ``nul-in-text``; the last two with the row.
    """
    where = Where(file=name)
    if len(data) > MOST_BYTES:
        raise file_too_big(len(data) / 1024**2, MOST_BYTES / 1024**2).at(where)
    if data.startswith(_UTF16):
        raise not_utf8("UTF-16").at(where)
    at = data.find(b"\0")
    if at >= 0:
        raise nul_in_text().at(Where(file=name, row=_row_of(data, at)))
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise not_utf8("").at(Where(file=name, row=_row_of(data, error.start))) from None
    if not text.strip():
        raise empty_file().at(where)
    return text


def read_sheet(data: bytes, name: str) -> Sheet:
    """Read a comma-separated table.

    Parameters
    ----------
    data : bytes
        The whole file.
    name : str
        What the file is called in messages.

    Raises
    ------
    StudioProblem
        Placed by file and row; several bad rows are raised together as `ManyProblems`.
    """
    records = _records(read_text(data, name), name)
    filled = (record for record in records if any(cell.strip() for cell in record[1]))
    number, first = next(filled, (0, []))
    if not first:  # separators and quotation marks alone
        raise empty_file().at(Where(file=name))
    header = tuple(cell.strip() for cell in first)
    _check_header(header, name, number)
    problems, rows = Problems(name), []
    for number, cells in records:
        if number > MOST_ROWS:
            raise too_many_rows(MOST_ROWS).at(Where(file=name))
        trimmed = tuple(cell.strip() for cell in cells)
        if not any(trimmed):
            continue
        if (wrong := _wrong_cells(header, trimmed)) is not None:
            problems.add(wrong, number)
        else:
            rows.append(Row(number, trimmed))
    problems.raise_any()
    return Sheet(header, tuple(rows))


def write_sheet(header: tuple[str, ...], rows: Iterator[tuple[str, ...]]) -> bytes:
    """Write a table as `read_sheet` reads it."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(header)
    writer.writerows(rows)
    return out.getvalue().encode("utf-8")


def _records(text: str, name: str) -> Iterator[tuple[int, list[str]]]:
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    number = 0
    while True:
        number += 1
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            # The reader's own limit on a cell is far above ours.
            problem = cell_too_long("", MOST_CELL) if "field limit" in str(error) else bad_quotes()
            raise problem.at(Where(file=name, row=number)) from None
        yield number, cells


def _check_header(header: tuple[str, ...], name: str, row: int) -> None:
    where = Where(file=name, row=row)
    if len(header) == 1:
        for separator, called in _SEPARATORS.items():
            if separator in header[0]:
                raise wrong_separator(called).at(where)
    if len(header) > MOST_COLUMNS:
        raise too_many_cells(len(header), MOST_COLUMNS).at(where)
    seen: set[str] = set()
    for cell in header:
        if len(cell) > MOST_CELL:
            raise cell_too_long("", MOST_CELL).at(where)
        if not plain_line(cell):
            raise line_break_in_cell(cell).at(where)
        if cell and cell.casefold() in seen:
            raise column_twice(cell).at(where)
        seen.add(cell.casefold())


def _wrong_cells(header: tuple[str, ...], cells: tuple[str, ...]) -> StudioProblem | None:
    if len(cells) > len(header) and any(cells[len(header) :]):
        return too_many_cells(len(cells), len(header))
    if len(cells) != len(header):
        return too_few_cells(len(cells), len(header)) if len(cells) < len(header) else None
    for column, cell in zip(header, cells, strict=True):
        if len(cell) > MOST_CELL:
            return cell_too_long(column, MOST_CELL)
        if not plain_line(cell):
            return line_break_in_cell(column)
    return None


def plain_line(text: str) -> bool:
    """Whether a text is one line without control characters (tabs included: names are compared by spaces)."""
    if text.isascii():
        return text.isprintable()
    return not any(ch in _SEEN_LINE or unicodedata.category(ch) in ("Cc", "Cs") for ch in text)


def _row_of(data: bytes, at: int) -> int:
    return data.count(b"\n", 0, at) + 1
