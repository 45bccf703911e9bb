"""The tables a studio's records can come in as: CSV bytes in, the terms' values out."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

from swatch.formats.columns import (
    BODIES,
    BUTTONS,
    COUNTS,
    EDITIONS,
    FIRING_LOG,
    FIRINGS,
    JARS,
    MATERIALS,
    PIECES,
    TILES,
    WEIGHINGS,
    WITNESS,
    Layout,
)
from swatch.formats.csv_text import Problems, Row, Sheet, read_sheet
from swatch.terms.amounts import Amount, grams_of
from swatch.terms.buttons import ButtonReading
from swatch.terms.colour import Covariance, Lab
from swatch.terms.cone import Cone
from swatch.terms.editions import EditionRegion, PieceReading, Tally, Weighed, Weighing
from swatch.terms.evidence import ZoneReading
from swatch.terms.layering import fold_name
from swatch.terms.materials import BareBody, Firing, Jar, Material, WitnessCone
from swatch.terms.problems import Notice, StudioProblem, Where
from swatch.terms.problems.files import (
    columns_not_used,
    cones_reversed,
    half_a_colour,
    log_in_two_units,
    log_not_in_order,
    missing_column,
    no_rows,
    no_value,
    out_of_range,
    same_row_twice,
)
from swatch.terms.problems.holding import said_twice, weighing_reversed

T = TypeVar("T")

NOT_SAID = Covariance(0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
"""Stands in a reading until its `u` has been turned into a covariance, which is science's to do."""


@dataclass(frozen=True, slots=True)
class WithDoubt(Generic[T]):
    """A reading and the one standard uncertainty its row states, in ΔE00; None where it states none.

    The reading's covariance is the one its row states, which counts before the uncertainty, or `NOT_SAID`.
    """

    value: T
    u: float | None


@dataclass(frozen=True, slots=True)
class Table(Generic[T]):
    """A table that was read whole.

    ``given`` are the value's fields that the header speaks of: only these are written where a row is known
    already. ``row_numbers`` has one entry a row, as a spreadsheet counts them.
    """

    rows: tuple[T, ...]
    given: frozenset[str]
    unknown_columns: tuple[str, ...] = ()
    notices: tuple[Notice, ...] = ()
    row_numbers: tuple[int, ...] = ()


def read_materials(data: bytes, name: str) -> Table[Material]:
    """Read materials: key ``material``. Like every reader here it gives a whole table or raises.

    Parameters
    ----------
    data : bytes
        The file.
    name : str
        What the file is called in messages.

    Raises
    ------
    StudioProblem
        Placed by file and row; several bad rows are raised together as `ManyProblems`.
    """

    def make(cells: Mapping[str, Any]) -> Material:
        low, high = cells.get("cone_from"), cells.get("cone_to")
        if isinstance(low, Cone) and isinstance(high, Cone) and low > high:
            raise cones_reversed(str(low), str(high))
        said = _without_none(cells, "status")
        said["left_g"] = _grams(said, "left_g", "left", said.get("density_g_per_ml"))
        return Material(**said, raw=_colour(cells, "raw_L", "raw_a", "raw_b"))

    return _read(MATERIALS, data, name, make)


def read_bodies(data: bytes, name: str) -> Table[BareBody]:
    """Read bare fired bodies: key ``body`` and ``cone``."""
    return _read(BODIES, data, name, lambda cells: BareBody(**_fields(cells), lab=_colour(cells)))


def read_firings(data: bytes, name: str) -> Table[Firing]:
    """Read firings: key ``firing``."""
    return _read(FIRINGS, data, name, lambda cells: Firing(**_fields(cells)))


def read_witness(data: bytes, name: str) -> Table[WitnessCone]:
    """Read witness cones: key ``firing`` and ``shelf``."""
    return _read(WITNESS, data, name, lambda cells: WitnessCone(**_fields(cells)))


def read_tiles(data: bytes, name: str) -> Table[WithDoubt[ZoneReading]]:
    """Read measured tiles: key ``tile``, ``zone``, ``stage`` and ``reading``."""

    def make(cells: Mapping[str, Any]) -> WithDoubt[ZoneReading]:
        optional = ("stage", "reading", "layers", "faults", "refires")
        value = ZoneReading(
            **_without_none(cells, *optional), lab=_needed_colour(cells), covariance=_covariance(cells)
        )
        return WithDoubt(value, cells.get("u"))

    return _read(TILES, data, name, make)


def read_editions(data: bytes, name: str) -> Table[EditionRegion]:
    """Read editions, a row a region: key ``edition`` and ``region``."""
    return _read(EDITIONS, data, name, lambda cells: EditionRegion(**_without_none(cells, "layers")))


def read_pieces(data: bytes, name: str) -> Table[WithDoubt[PieceReading]]:
    """Read measured pieces: key ``edition``, ``piece``, ``region`` and ``reading``."""

    def make(cells: Mapping[str, Any]) -> WithDoubt[PieceReading]:
        value = PieceReading(
            **_without_none(cells, "role", "reading"), lab=_needed_colour(cells), covariance=_covariance(cells)
        )
        return WithDoubt(value, cells.get("u"))

    return _read(PIECES, data, name, make)


def read_buttons(data: bytes, name: str) -> Table[WithDoubt[ButtonReading]]:
    """Read measured witness buttons: key ``button``, ``stripe`` and ``reading``."""

    def make(cells: Mapping[str, Any]) -> WithDoubt[ButtonReading]:
        said = _without_none(cells, "reading", "layers")
        return WithDoubt(
            ButtonReading(**said, lab=_needed_colour(cells), covariance=_covariance(cells)), cells.get("u")
        )

    return _read(BUTTONS, data, name, make)


def read_weighings(data: bytes, name: str) -> Table[Weighing]:
    """Read weighings: key ``material`` and ``at``.

    Raises
    ------
    StudioProblem
        As every reader here; also ``jar-weighed-backwards`` and ``piece-weighed-backwards``.
    """

    def make(cells: Mapping[str, Any]) -> Weighing:
        said = _fields(cells)
        gravity = said.pop("specific_gravity", None)
        for side in ("before", "after"):
            said[f"{side}_g"] = _grams(said, f"{side}_g", side, gravity)
        one = Weighing(**said)
        check_weighing(one)
        return one

    return _read(WEIGHINGS, data, name, make)


def check_weighing(one: Weighing) -> None:
    """Refuse a jar that got heavier, or a piece that got lighter.

    Raises
    ------
    StudioProblem
        ``jar-weighed-backwards`` or ``piece-weighed-backwards``.
    """
    if one.grams is not None and one.grams < 0 and one.before_g is not None and one.after_g is not None:
        raise weighing_reversed(one.before_g, one.after_g, str(one.weighed or Weighed.JAR))


def read_jars(data: bytes, name: str) -> Table[Jar]:
    """Read jars: key ``material``, ``jar`` and ``lot``; what is left as such, or as the scales show it."""

    def make(cells: Mapping[str, Any]) -> Jar:
        said = _without_none(cells, "jar", "tare_g", "locked")
        gravity, gross = said.pop("specific_gravity", None), said.pop("gross_g", None)
        said["left_g"] = _grams(said, "left_g", "left", gravity)
        if gross is not None:
            if said["left_g"] is not None:
                raise said_twice("gross_g", "left_g")
            tare = said.get("tare_g", 0.0)
            if gross < tare:
                raise out_of_range("gross_g", f"{gross:g}", tare, 1e6)
            said["left_g"] = gross - tare
        return Jar(**said)

    return _read(JARS, data, name, make)


def read_counts(data: bytes, name: str) -> Table[Tally]:
    """Read how many pieces were made, fired, good and sold: key ``edition``, ``at``, ``what`` and ``firing``."""
    return _read(COUNTS, data, name, lambda cells: Tally(**_fields(cells)))


LogPoint = tuple[float, float]
"""Minutes since the start of a firing, and °C."""


def read_firing_log(data: bytes, name: str) -> Table[LogPoint]:
    """Read the log of one firing: columns ``minutes`` and ``celsius`` or ``fahrenheit``, in the order of time.

    Raises
    ------
    StudioProblem
        As every reader here; also ``log-not-in-order``, with the row that goes back in time, and
        ``log-in-two-units``.
    """

    units = {title.casefold() for title in read_sheet(data, name).header} & {"celsius", "fahrenheit"}
    if len(units) != 1:
        problem = log_in_two_units() if units else missing_column("celsius", FIRING_LOG.name)
        raise problem.at(Where(file=name, row=1))
    (column,) = units

    def make(cells: Mapping[str, Any]) -> LogPoint:
        if cells[column] is None:
            raise no_value(column)
        degrees = cells[column]
        return cells["minutes"], degrees if column == "celsius" else (degrees - 32.0) * 5.0 / 9.0

    table = _read(FIRING_LOG, data, name, make)
    for row, (before, now) in zip(table.row_numbers[1:], itertools.pairwise(table.rows), strict=True):
        if now[0] < before[0]:
            raise log_not_in_order().at(Where(file=name, row=row))
    return table


def _read(layout: Layout, data: bytes, name: str, make: Callable[[Mapping[str, Any]], T]) -> Table[T]:
    sheet = read_sheet(data, name)
    places, unknown = places_of(layout, sheet, name)
    problems = Problems(name)
    rows: list[T] = []
    numbers: list[int] = []
    seen: dict[tuple[str, ...], tuple[int, T]] = {}
    for row in sheet.rows:
        try:
            cells = _cells(layout, places, row)
            value = make(cells)
        except StudioProblem as problem:
            problems.add(problem, row.number)
            continue
        key = tuple(fold_name(str(cells.get(part) or layout.key_default(part))) for part in layout.key)
        if key in seen:
            first, same = seen[key]
            if same != value:
                problems.add(same_row_twice(" / ".join(filter(None, key)), first), row.number)
            continue
        seen[key] = (row.number, value)
        rows.append(value)
        numbers.append(row.number)
    problems.raise_any()
    given = frozenset(layout.fields[column] for column in places if layout.fields.get(column))
    return Table(tuple(rows), given, unknown, tuple(_notices(name, unknown, rows)), tuple(numbers))


def places_of(layout: Layout, sheet: Sheet, name: str) -> tuple[dict[str, int], tuple[str, ...]]:
    """Find the place of each column of the layout, and the columns that mean nothing to it."""
    known = {column.casefold(): column for column in layout.columns}
    places: dict[str, int] = {}
    unknown: list[str] = []
    for place, title in enumerate(sheet.header):
        column = known.get(title.casefold())
        if column is not None:
            places[column] = place
        elif title:
            unknown.append(title)
    problems = Problems(name)
    for column in layout.required:
        if column not in places:
            problems.add(missing_column(column, layout.name), 1)
    problems.raise_any()
    return places, tuple(unknown)


def _cells(layout: Layout, places: Mapping[str, int], row: Row) -> dict[str, Any]:
    cells: dict[str, Any] = {}
    for column, place in places.items():
        text = row.cells[place]
        if text:
            cells[column] = layout.columns[column](column, text)
        elif column in layout.required:
            raise no_value(column)
        else:
            cells[column] = None
    return {layout.renamed.get(column, column): value for column, value in cells.items()}


def _notices(name: str, unknown: tuple[str, ...], rows: list[T]) -> Iterator[Notice]:
    where = Where(file=name)
    if unknown:
        yield columns_not_used(unknown).at(where)
    if not rows:
        yield no_rows().at(where)


_COLOUR = ("L", "a", "b", "u", "covariance", "raw_L", "raw_a", "raw_b")


def _covariance(cells: Mapping[str, Any]) -> Covariance:
    found = cells.get("covariance")
    return found if isinstance(found, Covariance) else NOT_SAID


def _fields(cells: Mapping[str, Any]) -> dict[str, Any]:
    """The cells that are a field of the value as they stand."""
    return {column: value for column, value in cells.items() if column not in _COLOUR}


def _grams(said: dict[str, Any], column: str, beside: str, gravity: float | None) -> float | None:
    """Grams of a column that states them, or of the one beside it that has a unit of its own; takes both out."""
    plain: float | None = said.pop(column, None)
    other: Amount | None = said.pop(beside, None)
    if other is None:
        return plain
    if plain is not None:
        raise said_twice(column, beside)
    return grams_of(other, gravity)


def _without_none(cells: Mapping[str, Any], *columns: str) -> dict[str, Any]:
    """The same, where an empty cell of `columns` means the value's own default."""
    return {
        column: value for column, value in _fields(cells).items() if value is not None or column not in columns
    }


def _colour(cells: Mapping[str, Any], *columns: str) -> Lab | None:
    """All three numbers of a colour, or none of them."""
    columns = columns or ("L", "a", "b")
    found = [cells.get(column) for column in columns]
    if all(value is None for value in found):
        return None
    if any(value is None for value in found):
        raise half_a_colour(", ".join(columns))
    return Lab(*(float(value) for value in found if value is not None))


def _needed_colour(cells: Mapping[str, Any]) -> Lab:
    lab = _colour(cells)
    assert lab is not None  # L, a and b are required columns, and an empty required cell has been refused
    return lab
