"""Problems of files that come in: tables, zones, cards, and the cells in them."""

from __future__ import annotations

from collections.abc import Sequence

from swatch.terms.problems.base import Notice, StudioProblem


class ManyProblems(StudioProblem):
    """Several problems of one file; speaks as the first of them, and holds all.

    A file is used whole or not at all, but the potter is told of every bad row at once.
    """

    def __init__(self, problems: Sequence[StudioProblem]) -> None:
        first = problems[0]
        super().__init__(first.code, first.where, **first.facts)
        self.problems = tuple(problems)


def all_of(problem: StudioProblem) -> tuple[StudioProblem, ...]:
    """Return every problem that was raised together."""
    return problem.problems if isinstance(problem, ManyProblems) else (problem,)


def bad_cone(text: str) -> StudioProblem:
    """A cone field holds something that is no cone, or may be a spreadsheet's spoiling of one."""
    return StudioProblem("bad-cone", text=text)


def bad_layers(text: str, part: str) -> StudioProblem:
    """A layers field cannot be read; `part` is the piece that cannot."""
    return StudioProblem("bad-layers", text=text, part=part)


def no_studio_named() -> StudioProblem:
    """A command names no studio, and there is none that was used before."""
    return StudioProblem("no-studio-named")


# --- the file as a whole


def unknown_ending(name: str, endings: str) -> StudioProblem:
    """The ending of a file to be written names no format."""
    return StudioProblem("unknown-ending", name=name, endings=endings)


def file_too_big(megabytes: float, most: float) -> StudioProblem:
    """The file is larger than any real one would be."""
    return StudioProblem("file-too-big", megabytes=round(megabytes, 1), most=most)


def empty_file() -> StudioProblem:
    """The file holds nothing."""
    return StudioProblem("empty-file")


def not_utf8(encoding: str) -> StudioProblem:
    """The text is not UTF-8; `encoding` is what it seems to be, or empty."""
    return StudioProblem("not-utf8", encoding=encoding)


def nul_in_text() -> StudioProblem:
    """The text holds a NUL: it is no text file, or a damaged one."""
    return StudioProblem("nul-in-text")


def wrong_separator(separator: str) -> StudioProblem:
    """The columns are parted by something other than commas."""
    return StudioProblem("wrong-separator", separator=separator)


def bad_quotes() -> StudioProblem:
    """A quotation mark is opened and not closed, or stands in the middle of a cell."""
    return StudioProblem("bad-quotes")


def too_many_rows(most: int) -> StudioProblem:
    """The table is longer than any real one would be."""
    return StudioProblem("too-many-rows", most=most)


def missing_column(column: str, table: str) -> StudioProblem:
    """A column the table cannot do without is not there."""
    return StudioProblem("missing-column", column=column, table=table)


def column_twice(column: str) -> StudioProblem:
    """Two columns have one name."""
    return StudioProblem("column-twice", column=column)


def more_bad_rows(more: int) -> StudioProblem:
    """More rows of the file are bad than are named."""
    return StudioProblem("more-bad-rows", more=more)


# --- a row and its cells


def too_many_cells(cells: int, columns: int) -> StudioProblem:
    """A row has more cells than the header: a decimal comma does that."""
    return StudioProblem("too-many-cells", cells=cells, columns=columns)


def too_few_cells(cells: int, columns: int) -> StudioProblem:
    """A row has fewer cells than the header."""
    return StudioProblem("too-few-cells", cells=cells, columns=columns)


def cell_too_long(column: str, most: int) -> StudioProblem:
    """A cell holds more text than any real one would."""
    return StudioProblem("cell-too-long", column=column, most=most)


def line_break_in_cell(column: str) -> StudioProblem:
    """A cell holds a line break or another character that cannot be seen."""
    return StudioProblem("line-break-in-cell", column=column)


def no_value(column: str) -> StudioProblem:
    """A cell that cannot be left empty is empty."""
    return StudioProblem("no-value", column=column)


def decimal_comma(column: str, text: str) -> StudioProblem:
    """A number is written with a comma. It is never guessed what was meant."""
    return StudioProblem("decimal-comma", column=column, text=text)


def bad_number(column: str, text: str) -> StudioProblem:
    """A cell that holds a number holds something else."""
    return StudioProblem("bad-number", column=column, text=text)


def out_of_range(column: str, text: str, low: float, high: float) -> StudioProblem:
    """A number lies outside what can be."""
    return StudioProblem("out-of-range", column=column, text=text, low=low, high=high)


def half_a_colour(columns: str) -> StudioProblem:
    """Some of a colour's three numbers are there and others not."""
    return StudioProblem("half-a-colour", columns=columns)


def unknown_word(column: str, text: str, allowed: Sequence[str]) -> StudioProblem:
    """A cell that takes one of a few words holds another."""
    return StudioProblem("unknown-word", column=column, text=text, allowed=", ".join(allowed))


def bad_covariance(column: str, text: str) -> StudioProblem:
    """A cell is no covariance of a colour."""
    return StudioProblem("bad-covariance", column=column, text=text)


def bad_date(column: str, text: str) -> StudioProblem:
    """A date is not written year-month-day."""
    return StudioProblem("bad-date", column=column, text=text)


def bad_name(column: str, text: str) -> StudioProblem:
    """A material's name holds a character that layers are written with."""
    return StudioProblem("bad-name", column=column, text=text)


def cones_reversed(low: str, high: str) -> StudioProblem:
    """A material's range runs from hot to cool: often a zero was lost."""
    return StudioProblem("cones-reversed", low=low, high=high)


def same_row_twice(key: str, first_row: int) -> StudioProblem:
    """Two rows of one file speak of the same thing and do not say the same."""
    return StudioProblem("same-row-twice", key=key, first_row=first_row)


def log_not_in_order() -> StudioProblem:
    """A firing's log goes back in time."""
    return StudioProblem("log-not-in-order")


def log_in_two_units() -> StudioProblem:
    """A firing's log gives its temperatures in °C and in °F."""
    return StudioProblem("log-in-two-units")


# --- rows against the studio


def no_cone(tile: str) -> StudioProblem:
    """A fired colour has neither a firing nor a cone."""
    return StudioProblem("no-cone", tile=tile)


def firing_not_recorded(firing: str) -> Notice:
    """Tiles speak of a firing of which neither a cone nor a programme is known, and say no cone themselves."""
    return Notice("firing-not-recorded", {"firing": firing})


def lost_zero(cone: str, material: str, low: str, high: str) -> Notice:
    """A hot cone stands where the material is only for cool ones: a spreadsheet may have eaten the zero."""
    return Notice("lost-zero", {"cone": cone, "material": material, "low": low, "high": high})


def columns_not_used(columns: Sequence[str]) -> Notice:
    """Columns that mean nothing to this table."""
    return Notice("columns-not-used", {"columns": ", ".join(columns), "count": len(columns)})


def name_near_another(what: str, name: str, near: str) -> Notice:
    """A name that was not there before was made, and looks like a slip of another; `what` is what it names."""
    return Notice(f"new-{what}-near-another", {"name": name, "near": near})


def no_rows() -> Notice:
    """A table has a header and nothing under it."""
    return Notice("no-rows")


def doubt_not_stated(rows: int, u: float) -> Notice:
    """Rows state no uncertainty, so one was taken for them."""
    return Notice("doubt-not-stated", {"rows": rows, "u": u})


# --- zones and keyword text


def zones_not_json(reason: str) -> StudioProblem:
    """A zones file is not JSON, or not of the shape a zones file has."""
    return StudioProblem("zones-not-json", reason=reason)


def zone_bad_outline(reason: str) -> StudioProblem:
    """One zone's outline cannot be used."""
    return StudioProblem("zone-bad-outline", reason=reason)


def zone_twice(zone: str) -> StudioProblem:
    """Two zones of one file have one name."""
    return StudioProblem("zone-twice", zone=zone)


def keyword_text_broken(reason: str) -> StudioProblem:
    """A file is not keyword text as ISO 28178 has it."""
    return StudioProblem("keyword-text-broken", reason=reason)


def card_not_d50(found: str) -> StudioProblem:
    """A card's colours are not stated for D50 and the 2 degree observer."""
    return StudioProblem("card-not-d50", found=found)


def card_layout(reason: str) -> StudioProblem:
    """A card's rows and columns are not stated, or do not go with its patches."""
    return StudioProblem("card-layout", reason=reason)
