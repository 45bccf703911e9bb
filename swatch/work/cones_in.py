"""Cones of rows that come in, held against the studio's firings and its materials' ranges."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from swatch.formats.csv_text import Problems
from swatch.formats.tables import Table
from swatch.library.studio import Studio
from swatch.terms.cone import Cone
from swatch.terms.evidence import Evidence, Stage, ZoneReading
from swatch.terms.holding import tight_tolerance
from swatch.terms.layering import Layers, fold_name
from swatch.terms.materials import Firing, Material
from swatch.terms.problems import Notice, Where
from swatch.terms.problems.files import firing_not_recorded, lost_zero, no_cone
from swatch.terms.problems.studio import cone_not_the_firings

_HOTTEST_LOW = Cone(0.0)
"""Cone 01: the last cone written with a zero before it."""


class _Ranges:
    """Warns once of each material whose cones are all written with a zero and that meets a cone without."""

    def __init__(self, materials: Iterable[Material], file: str) -> None:
        self._materials = {fold_name(one.name): one for one in materials}
        self._file = file
        self._said: set[tuple[str, Cone]] = set()
        self.notices: list[Notice] = []

    def look(self, layers: Layers, cone: Cone | None, row: int) -> None:
        if cone is None or cone <= _HOTTEST_LOW:
            return
        for layer in layers:
            folded = fold_name(layer.material)
            material = self._materials.get(folded)
            if material is None or material.cone_to is None or material.cone_to > _HOTTEST_LOW:
                continue
            if (folded, cone) not in self._said:
                self._said.add((folded, cone))
                low = material.cone_from or material.cone_to
                notice = lost_zero(str(cone), material.name, str(low), str(material.cone_to))
                self.notices.append(notice.at(Where(file=self._file, row=row)))


class _Unrecorded:
    """Warns once of each firing of whose heat nothing is known: no cone, peak, witness cone or log."""

    def __init__(self, evidence: Evidence, file: str) -> None:
        self._file = file
        self._told = {fold_name(one.firing) for one in evidence.witnesses}
        self._told |= {fold_name(log.firing) for log in evidence.logs}
        self.said: dict[str, Notice] = {}

    def look(self, name: str, firing: Firing | None, row: int) -> None:
        if fold_name(name) in self._told:
            return
        if firing is None or (firing.peak_c is None and firing.cone_reached is None):
            place = Where(file=self._file, row=row)
            self.said.setdefault(fold_name(name), firing_not_recorded(name).at(place))


def check_tiles(studio: Studio, table: Table[Any], file: str) -> tuple[Notice, ...]:
    """Look that every fired row has a cone that does not gainsay its firing.

    Raises
    ------
    StudioProblem
        ``no-cone`` or ``cone-not-the-firings``, all rows at once.
    """
    evidence = studio.evidence()
    firings = {fold_name(firing.name): firing for firing in evidence.firings}
    known = _known_tiles(evidence)
    problems, ranges, notices = Problems(file), _Ranges(evidence.materials, file), _Unrecorded(evidence, file)
    for number, row in zip(table.row_numbers, table.rows, strict=True):
        reading: ZoneReading = row.value
        firing = firings.get(fold_name(reading.firing)) if reading.firing else None
        asked = firing.cone_asked if firing else None
        if firing and asked and reading.cone and reading.cone != asked:
            said = str(reading.cone)
            problems.add(cone_not_the_firings(reading.tile, reading.zone, said, firing.name, str(asked)), number)
        if reading.stage is not Stage.RAW and reading.cone is None and asked is None:
            if reading.firing:
                notices.look(reading.firing, firing, number)
            elif fold_name(reading.tile) not in known:
                problems.add(no_cone(reading.tile), number)
        ranges.look(reading.layers, reading.cone or asked, number)
    problems.raise_any()
    return (*notices.said.values(), *ranges.notices)


def check_editions(studio: Studio, table: Table[Any], file: str) -> tuple[Notice, ...]:
    """Look that an edition's cone is one its materials are for."""
    ranges = _Ranges(studio.evidence().materials, file)
    for number, region in zip(table.row_numbers, table.rows, strict=True):
        ranges.look(region.layers, region.cone, number)
    return (*ranges.notices, *_tight(table, file))


def _tight(table: Table[Any], file: str) -> list[Notice]:
    """Say at once of a tolerance that a sample of six can mostly not support; once for each edition."""
    found: dict[str, Notice] = {}
    for number, region in zip(table.row_numbers, table.rows, strict=True):
        if (notice := tight_tolerance(region.tolerance)) is not None:
            found.setdefault(fold_name(region.edition), notice.at(Where(file=file, row=number)))
    return list(found.values())


def _known_tiles(evidence: Evidence) -> frozenset[str]:
    """Tiles with a reading already: a row that only mends one need not say its cone again."""
    return frozenset(fold_name(reading.tile) for reading in evidence.readings)
