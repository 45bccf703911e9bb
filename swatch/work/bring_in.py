"""Files into the studio: each is taken whole or not at all, and the same file again changes nothing."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from swatch.formats import tables
from swatch.formats.tables import NOT_SAID, Table, WithDoubt
from swatch.library.file import FILE_NAME
from swatch.library.studio import Studio
from swatch.terms.brought import BroughtIn, FileIn
from swatch.terms.colour import Covariance, Lab
from swatch.terms.editions import Counts
from swatch.terms.problems import Notice, StudioProblem, Where
from swatch.terms.problems.files import all_of, doubt_not_stated
from swatch.terms.report import Report, silent
from swatch.work.cones_in import check_editions, check_tiles
from swatch.work.files import read_file
from swatch.work.new_names import look_at_names

UNSTATED_U = 1.0
"""One standard uncertainty, in ΔE00, of a colour whose row states none.

Between the best a camera reaches beside a perfect card (median error 0.9) and what it reaches in a studio's light
(median error 1.4), as found on rendered scenes with known truth; it is said as a warning.
"""


@dataclass(frozen=True, slots=True)
class _Kind:
    read: Callable[[bytes, str], Table[Any]]
    put: Callable[..., Counts]
    placed: bool = False
    """Whether `put` takes the rows' numbers in the file, to place problems of its own."""
    check: Callable[[Studio, Table[Any], str], tuple[Notice, ...]] | None = None


# In the order in which one table may speak of another's rows.
_KINDS: dict[str, _Kind] = {
    "materials": _Kind(tables.read_materials, Studio.put_materials),
    "bodies": _Kind(tables.read_bodies, Studio.put_bodies),
    "firings": _Kind(tables.read_firings, Studio.put_firings),
    "witness": _Kind(tables.read_witness, Studio.put_witnesses),
    "tiles": _Kind(tables.read_tiles, Studio.put_readings, True, check_tiles),
    "editions": _Kind(tables.read_editions, Studio.put_editions, True, check_editions),
    "pieces": _Kind(tables.read_pieces, Studio.put_pieces, True),
    "buttons": _Kind(tables.read_buttons, Studio.put_buttons, True),
    "weighings": _Kind(tables.read_weighings, Studio.put_weighings),
    "jars": _Kind(tables.read_jars, Studio.put_jars),
    "counts": _Kind(tables.read_counts, Studio.put_tallies),
}
TABLES = tuple(_KINDS)
LOG = "log"


@dataclass(frozen=True, slots=True)
class _File:
    """One file to take up; of a log also the firing it is of."""

    table: str
    path: Path
    firing: str | None = None


def _in_order(files: Mapping[str, Path], logs: Mapping[str, Path]) -> list[_File]:
    tables = [_File(table, files[table]) for table in TABLES if table in files]
    return tables + [_File(LOG, path, firing) for firing, path in logs.items()]


def bring_in(
    folder: Path, files: Mapping[str, Path], report: Report = silent, logs: Mapping[str, Path] | None = None
) -> BroughtIn:
    """Bring tables into the studio in `folder`, which is made where there is none.

    Parameters
    ----------
    folder : Path
        The studio's folder.
    files : mapping of table to path
        Tables are those of `TABLES`; they are taken up in that order, whatever the order given.
    report : Report
        Told of every file; cancelling between two files leaves the ones before it in the studio.
    logs : mapping of a firing's name to path
        What the kiln's thermocouple showed; taken up last.

    Returns
    -------
    BroughtIn
        One entry a file. A refused file has all its problems and has changed nothing; where nothing at all could
        be used, no studio was made.

    Raises
    ------
    StudioProblem
        The studio itself cannot be written: another process holds it, a newer program made it.
    """
    asked = _in_order(files, logs or {})
    steps = 2 * len(asked)
    read: list[Table[Any] | StudioProblem] = []
    for file in asked:
        report(len(read), steps, "files")
        read.append(_read(file))
    if all(isinstance(table, StudioProblem) for table in read):
        return BroughtIn(tuple(_refused(file, table) for file, table in zip(asked, read, strict=True)))
    made_here = not os.path.exists(folder / FILE_NAME)
    before = set(os.listdir(folder)) if os.path.isdir(folder) else None
    studio = Studio.create(folder) if made_here else Studio.open(folder)
    entries: list[FileIn] = []
    try:
        for file, table in zip(asked, read, strict=True):
            report(len(asked) + len(entries), steps, "files")
            entries.append(_put(studio, file, table))
    finally:
        studio.close()
        if made_here and not any(entry.counts is not None for entry in entries):
            _unmake(folder, before)
    report(steps, steps, "files")
    return BroughtIn(tuple(entries))


def bring_into(
    studio: Studio, files: Mapping[str, Path], report: Report = silent, logs: Mapping[str, Path] | None = None
) -> BroughtIn:
    """Bring tables into a studio that is open already, so that what they change can be taken back there.

    As `bring_in`; the caller keeps everyone else from writing meanwhile.
    """
    asked = _in_order(files, logs or {})
    entries: list[FileIn] = []
    for file in asked:
        report(len(entries), len(asked), "files")
        entries.append(_put(studio, file, _read(file)))
    report(len(asked), len(asked), "files")
    return BroughtIn(tuple(entries))


def _unmake(folder: Path, before: set[str] | None) -> None:
    """Take away a studio made a moment ago into which nothing came; `before` is what its folder held before."""
    for inside in folder.iterdir():
        if before is not None and inside.name in before:
            continue
        if inside.is_dir():
            shutil.rmtree(inside)
        else:
            inside.unlink()
    if before is None:
        folder.rmdir()


def _read(file: _File) -> Table[Any] | StudioProblem:
    reader = tables.read_firing_log if file.table == LOG else _KINDS[file.table].read
    try:
        return reader(read_file(file.path), str(file.path))
    except StudioProblem as problem:
        return problem


def _put(studio: Studio, file: _File, table: Table[Any] | StudioProblem) -> FileIn:
    if isinstance(table, StudioProblem):
        return _refused(file, table)
    try:
        if file.firing is not None:
            return _taken(file, studio.put_firing_log(file.firing, table.rows), table.notices)
        kind = _KINDS[file.table]
        found = kind.check(studio, table, str(file.path)) if kind.check is not None else ()
        found = look_at_names(studio, file.table, table, str(file.path)) + found
        values, more = _with_covariances(table, str(file.path))
        counts = kind.put(studio, values, table.given, *([table.row_numbers] if kind.placed else []))
        return _taken(file, counts, (*table.notices, *found, *more))
    except StudioProblem as problem:
        return _refused(file, problem)


def _taken(file: _File, counts: Counts, notices: tuple[Notice, ...]) -> FileIn:
    return FileIn(file.table, str(file.path), counts, notices)


def _refused(file: _File, problem: object) -> FileIn:
    assert isinstance(problem, StudioProblem)
    placed = tuple(one.at(Where(file=str(file.path))) for one in all_of(problem))
    return FileIn(file.table, str(file.path), None, (), placed)


def _with_covariances(table: Table[Any], file: str) -> tuple[Sequence[Any], tuple[Notice, ...]]:
    """Give every reading without a covariance the one its `u` stands for, and say where neither was stated."""
    if not table.rows or not isinstance(table.rows[0], WithDoubt):
        return table.rows, ()
    doubts = [UNSTATED_U if row.u is None else row.u for row in table.rows]
    made = covariances_of([row.value.lab for row in table.rows], doubts)
    said = [row.value.covariance != NOT_SAID for row in table.rows]
    values = [
        row.value if as_said else replace(row.value, covariance=one)
        for row, one, as_said in zip(table.rows, made, said, strict=True)
    ]
    unstated = sum(row.u is None and not as_said for row, as_said in zip(table.rows, said, strict=True))
    if not unstated:
        return values, ()
    return values, (doubt_not_stated(unstated, UNSTATED_U).at(Where(file=file)),)


def covariances_of(colours: Sequence[Lab], doubts: Sequence[float]) -> list[Covariance]:
    """Turn one standard uncertainty in ΔE00 into a covariance of (L*, a*, b*).

    Nothing is known of its direction, so it is taken as equal in every direction as CIEDE2000 counts it: with G
    the local metric, Σ = u²/3 G⁻¹, so that trace(G Σ) = u².

    Parameters
    ----------
    colours : (n,) Lab
    doubts : (n,) float
        In ΔE00, above 0.

    Returns
    -------
    (n,) Covariance
    """
    import numpy as np

    from swatch.science.colour_math import de00_metric

    inverse = np.linalg.inv(de00_metric(np.asarray(colours, dtype=float)))
    sigma = np.square(np.asarray(doubts, dtype=float))[:, None, None] / 3 * inverse
    return [Covariance(*map(float, (s[0, 0], s[0, 1], s[0, 2], s[1, 1], s[1, 2], s[2, 2]))) for s in sigma]


def doubts_of(colours: Sequence[Lab], covariances: Sequence[Covariance]) -> list[float]:
    """Turn covariances back into one standard uncertainty each: u = √trace(G Σ), in ΔE00."""
    import numpy as np

    from swatch.science.colour_math import de00_metric

    if not colours:
        return []
    metric = de00_metric(np.asarray(colours, dtype=float))
    sigma = np.array([covariance.rows() for covariance in covariances])
    return [float(u) for u in np.sqrt(np.maximum(np.einsum("nij,nji->n", metric, sigma), 0.0))]
