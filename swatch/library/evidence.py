"""The records as one frozen snapshot for learning, and the editions' side of them.

Twenty thousand tiles are read in well under a second: few statements, no statement a row.
"""

from __future__ import annotations

import gc
import json
import sqlite3
from bisect import bisect_left
from collections.abc import Collection, Generator, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from operator import itemgetter
from typing import Any

from swatch.library.jars import locked_of
from swatch.library.materials import left_of
from swatch.library.words import cone_of
from swatch.library.zone_layers import NONE_KNOWN, merged
from swatch.terms.buttons import ButtonReading
from swatch.terms.colour import Covariance, Lab
from swatch.terms.cone import Cone
from swatch.terms.editions import EditionRegion, MottledReading, PieceReading, RegionKind, Role, Weighed, Weighing
from swatch.terms.evidence import Evidence, Sheen, Stage, ZoneReading
from swatch.terms.layering import Layer, Layers, fold_name
from swatch.terms.materials import BareBody, Firing, FiringLog, Kind, Material, Status, WitnessCone
from swatch.terms.measured import ColourShare

NO_COVARIANCE = Covariance(0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
"""Stands where a colour was stated without its doubt."""

_READINGS = """
SELECT ware.name, zone.name, zone.id, reading.stage, reading.number, reading.L, reading.a, reading.b,
    LL, La, Lb, aa, ab, bb, body.name, firing.name, ifnull(firing.cone_asked, ware_event.cone), place.shelf,
    session.name, ifnull(ware_event.refires, 0), look.sheen, look.faults, zone_lot.name, place.spot, edition.name,
    ware.role, clay.name
FROM reading
JOIN zone ON zone.id = reading.zone_id
JOIN ware ON ware.id = zone.ware_id
LEFT JOIN body ON body.id = ware.body_id
LEFT JOIN edition ON edition.id = ware.edition_id
LEFT JOIN ware_event ON ware_event.id = reading.event_id
LEFT JOIN firing ON firing.id = ware_event.firing_id
LEFT JOIN place ON place.id = ware_event.place_id
LEFT JOIN session ON session.id = reading.session_id
LEFT JOIN look ON look.zone_id = zone.id AND look.event_id IS reading.event_id
LEFT JOIN lot AS zone_lot ON zone_lot.id = zone.lot_id
LEFT JOIN lot AS clay ON clay.id = ware.body_lot_id
WHERE superseded_by IS NULL AND set_aside = 0 AND ware.kind IN (?, ?) {which}
ORDER BY {order}
"""
_BY_NAME = "ware.folded, zone.folded, reading.stage, reading.number"
STEP = 300
"""Rows of a step: some milliseconds."""


def read_evidence(sql: sqlite3.Connection) -> Evidence:
    """Read everything a prediction can rest on, inside the caller's transaction."""
    with no_collecting():
        steps = evidence_in_steps(sql)
        while True:
            try:
                next(steps)
            except StopIteration as end:
                found: Evidence = end.value
                return found


def evidence_in_steps(sql: sqlite3.Connection) -> Generator[None, None, Evidence]:
    """Read the same in steps of some milliseconds, so that whoever waits can do something else between them."""
    stock = read_stock(sql)
    yield
    layers = ZoneLayers(sql, at_once=False)
    while layers.take(STEP):
        yield
    readings: list[ZoneReading] = []
    rows = sql.execute(_READINGS.format(which="", order=_BY_NAME), ("tile", "chip"))
    while found := rows.fetchmany(STEP):
        readings += _readings(found, layers)
        yield
    return replace(stock, readings=tuple(readings))


def read_stock(sql: sqlite3.Connection) -> Evidence:
    """Read all of the evidence but the readings: it is never of size."""
    return Evidence(
        materials=tuple(read_materials(sql)),
        bodies=tuple(_bodies(sql)),
        firings=tuple(read_firings(sql)),
        witnesses=tuple(_witnesses(sql)),
        logs=tuple(_logs(sql)),
    )


def readings_of_tiles(sql: sqlite3.Connection, tiles: Collection[str]) -> tuple[ZoneReading, ...]:
    """Read what the evidence holds of a few tiles, in its order."""
    folded = [fold_name(tile) for tile in tiles]
    marks = ", ".join("?" * len(folded))
    rows = sql.execute(
        _READINGS.format(which=f"AND ware.folded IN ({marks})", order=_BY_NAME), ("tile", "chip", *folded)
    ).fetchall()
    return tuple(_readings(rows, ZoneLayers(sql, zones={row[2] for row in rows})))


def put_in(
    before: tuple[ZoneReading, ...], tiles: Collection[str], found: Sequence[ZoneReading]
) -> tuple[ZoneReading, ...]:
    """Take what there was of some tiles out and put what is `found` of them in, in the evidence's order."""
    gone = {fold_name(tile) for tile in tiles}
    spelt = {r.tile for r in found} | set(tiles)
    kept = [r for r in before if r.tile not in spelt]
    for folded in sorted(gone):
        new = [r for r in found if fold_name(r.tile) == folded]
        at = bisect_left(kept, folded, key=lambda r: fold_name(r.tile))
        kept[at:at] = new
    return tuple(kept)


def read_materials(sql: sqlite3.Connection) -> Iterator[Material]:
    """Materials by name."""
    left, locked, cones = left_of(sql), locked_of(sql), _Cones()
    raw = {
        row[0]: (Lab(*row[1:4]), row[4])
        for row in sql.execute(
            "SELECT material_id, L, a, b, state FROM ware JOIN zone ON ware_id = ware.id JOIN reading "
            "ON zone_id = zone.id WHERE ware.kind = 'smear' AND stage = 'raw' AND number = 1 "
            "AND superseded_by IS NULL AND set_aside = 0"
        )
    }
    rows = sql.execute(
        "SELECT id, name, kind, status, cone_from, cone_to, food_label, food_label_cone, density_g_per_ml, "
        "lead_days "
        "FROM material ORDER BY folded"
    )
    for row, name, kind, status, low, high, food, food_cone, density, lead in rows:
        lab, state = raw.get(row, (None, None))
        yield Material(
            name=name,
            kind=None if kind is None else Kind(kind),
            status=Status(status),
            left_g=left.get(row),
            cone_from=cones[low],
            cone_to=cones[high],
            food_label=None if food is None else bool(food),
            food_label_cone=cones[food_cone],
            density_g_per_ml=density,
            raw=lab,
            raw_state=state,
            lead_days=lead,
            locked_g=locked.get(row, 0.0),
        )


def read_firings(sql: sqlite3.Connection) -> Iterator[Firing]:
    """Firings by name."""
    cones = _Cones()
    rows = sql.execute(
        "SELECT firing.name, date, cone_asked, peak_c, rate_c_per_h, hold_min, cone_reached, cooling, atmosphere, "
        "kiln.name, firing.note FROM firing LEFT JOIN kiln ON kiln.id = kiln_id ORDER BY firing.folded"
    )
    for name, date, asked, peak, rate, hold, reached, cooling, atmosphere, kiln, note in rows:
        cone, became = cones[asked], cones[reached]
        yield Firing(name, date, cone, peak, rate, hold, became, cooling, atmosphere, kiln, note or None)


def read_pieces(sql: sqlite3.Connection) -> Iterator[PieceReading]:
    """Measured pieces by edition, piece, region and reading."""
    if sql.execute("SELECT 1 FROM ware WHERE kind = 'piece' LIMIT 1").fetchone() is None:
        return  # else every reading of a large studio would be looked at to find none
    order = "edition.folded, ware.folded, zone.folded, reading.number"
    for row in sql.execute(_READINGS.format(which="", order=order), ("piece", "piece")):
        yield PieceReading(
            edition=row[24],
            piece=row[0],
            region=row[1],
            lab=Lab(*row[5:8]),
            covariance=_covariance(row[8:14]),
            reading=row[4],
            firing=row[15],
            shelf=row[17] or None,
            place=row[23] or None,
            role=Role(row[25]),
            session=row[18],
            lot=row[22],
            clay_lot=row[26],
        )


def read_mottled(sql: sqlite3.Connection) -> Iterator[MottledReading]:
    """Current readings of pieces whose regions were seen mottled, by edition, piece and region."""
    rows = sql.execute(
        "SELECT edition.name, ware.name, zone.name, firing.name, role, colours FROM reading "
        "JOIN zone ON zone.id = zone_id JOIN ware ON ware.id = zone.ware_id "
        "JOIN edition ON edition.id = edition_id "
        "LEFT JOIN ware_event ON ware_event.id = reading.event_id LEFT JOIN firing ON firing.id = firing_id "
        "WHERE ware.kind = 'piece' AND superseded_by IS NULL AND set_aside = 0 AND colours IS NOT NULL "
        "ORDER BY edition.folded, ware.folded, zone.folded, reading.number"
    )
    for edition, piece, region, firing, role, colours in rows:
        parts = tuple(ColourShare(Lab(*part[:3]), part[3]) for part in json.loads(colours))
        yield MottledReading(edition, piece, region, firing, Role(role), parts)


def read_buttons(sql: sqlite3.Connection) -> Iterator[ButtonReading]:
    """Measured buttons by name, stripe and reading."""
    layers = ZoneLayers(sql)
    for row in sql.execute(_READINGS.format(which="", order=_BY_NAME), ("button", "button")):
        yield ButtonReading(
            button=row[0],
            stripe=row[1],
            lab=Lab(*row[5:8]),
            covariance=_covariance(row[8:14]),
            reading=row[4],
            body=row[14],
            layers=layers.at(row[2], row[19])[0],
            firing=row[15],
            shelf=row[17] or None,
            session=row[18],
            kept=None if row[25] is None else row[25] == Role.APPROVED,
        )


def read_editions(sql: sqlite3.Connection) -> Iterator[EditionRegion]:
    """Editions by name, a value a region."""
    layers: dict[int, list[Layer]] = {}
    for region, material, coats, wiped in sql.execute(
        "SELECT region_id, name, coats, wiped FROM region_layer JOIN material ON material.id = material_id "
        "ORDER BY region_id, position"
    ):
        layers.setdefault(region, []).append(Layer(material, coats, bool(wiped)))
    rows = sql.execute(
        "SELECT region.id, edition.name, region.name, planned, yield_share, body.name, cone, kind, area_dm2, "
        "tolerance FROM region JOIN edition ON edition.id = edition_id LEFT JOIN body ON body.id = body_id "
        "ORDER BY edition.folded, region.folded"
    )
    for region, edition, name, planned, share, body, cone, kind, area, tolerance in rows:
        yield EditionRegion(
            edition,
            name,
            planned,
            share,
            body,
            cone_of(cone),
            None if kind is None else RegionKind(kind),
            area,
            tuple(layers.get(region, ())),
            tolerance,
        )


def read_weighings(sql: sqlite3.Connection) -> Iterator[Weighing]:
    """Applications with their two weighings, by material and time."""
    rows = sql.execute(
        "SELECT material.name, application.at, lot.name, before.gross_g, after.gross_g, area_dm2, pieces, coats, "
        "application.method, weighed FROM application JOIN material ON material.id = application.material_id "
        "LEFT JOIN lot ON lot.id = application.lot_id LEFT JOIN weighing AS before ON before.id = before_id "
        "LEFT JOIN weighing AS after ON after.id = after_id ORDER BY material.folded, application.at_folded"
    )
    for row in rows:
        yield Weighing(*(*row[:9], None if row[9] is None else Weighed(row[9])))


class ZoneLayers:
    """The layers of every zone, with the method and lot of the one on top; and cones by their text."""

    def __init__(
        self, sql: sqlite3.Connection, *, zones: Collection[int] | None = None, at_once: bool = True
    ) -> None:
        self.cones = _Cones()
        self._rows: dict[int, list[tuple[Layer, int, str | None, str | None]]] = {}
        self._same: dict[tuple[str, float, int], Layer] = {}
        self._known: dict[tuple[Layer, ...], Layers] = {}
        which = "" if zones is None else f"WHERE zone_id IN ({', '.join(str(int(zone)) for zone in zones)})"
        self._left = sql.execute(
            f"SELECT zone_id, material.name, coats, wiped, ifnull(refires, {NONE_KNOWN}), layer.method, lot.name "
            "FROM layer JOIN material ON material.id = layer.material_id LEFT JOIN lot ON lot.id = layer.lot_id "
            f"LEFT JOIN ware_event ON ware_event.id = after_event_id {which} ORDER BY zone_id, layer.position"
        )
        while at_once and self.take(STEP):
            pass

    def take(self, n: int) -> bool:
        """Take up to `n` more rows in; give whether there may be others."""
        rows = self._left.fetchmany(n)
        for zone, material, coats, wiped, after, method, lot in rows:
            layer = self._same.get((material, coats, wiped))
            if layer is None:
                layer = self._same[material, coats, wiped] = Layer(material, coats, bool(wiped))
            self._rows.setdefault(zone, []).append((layer, after, method, lot))
        return len(rows) == n

    def at(self, zone: int, refires: int) -> tuple[Layers, str | None, str | None]:
        """Return the layers that lay there at a firing, and method and lot of the uppermost."""
        rows = [row for row in self._rows.get(zone, ()) if row[1] < refires]
        if not rows:
            return (), None, None
        found = tuple(row[0] for row in rows)
        if found not in self._known:
            self._known[found] = merged(found)
        return self._known[found], rows[-1][2], rows[-1][3]


class _Cones(dict[str | None, Cone | None]):
    """Cones by their text, each read once."""

    def __missing__(self, text: str | None) -> Cone | None:
        self[text] = cone_of(text)
        return self[text]


_STAGES = {stage.value: stage for stage in Stage}
_SHEENS: dict[str | None, Sheen | None] = {None: None, **{sheen.value: sheen for sheen in Sheen}}


def _readings(rows: list[tuple[Any, ...]], layers: ZoneLayers) -> Iterator[ZoneReading]:
    cones = layers.cones
    for row in rows:
        found, method, lot = layers.at(row[2], row[19])
        yield ZoneReading(
            row[0],
            row[1],
            Lab(*row[5:8]),
            _covariance(row[8:14]),
            _STAGES[row[3]],
            row[4],
            row[14],
            found,
            cones[row[16]],
            row[15],
            row[17] or None,
            row[18],
            method,
            lot or row[22],
            _SHEENS[row[20]],
            tuple(row[21].split()) if row[21] else (),
            row[19],
        )


def _bodies(sql: sqlite3.Connection) -> list[BareBody]:
    rows = sql.execute(
        "SELECT body.folded, body.name, ware.name, L, a, b, set_aside FROM ware "
        "JOIN body ON body.id = ware.body_id JOIN zone ON ware_id = ware.id "
        "LEFT JOIN reading ON zone_id = zone.id AND superseded_by IS NULL WHERE ware.kind = 'body'"
    )
    found = []
    for folded, name, cone_name, *lab, aside in rows:
        cone = cone_of(cone_name)
        assert cone is not None  # a bare body is named by its cone
        found.append((folded, cone, BareBody(name, cone, None if lab[0] is None or aside else Lab(*lab))))
    return [body for *_, body in sorted(found, key=itemgetter(0, 1))]


def _witnesses(sql: sqlite3.Connection) -> Iterator[WitnessCone]:
    rows = sql.execute(
        "SELECT firing.name, shelf, witness.cone_reached FROM witness JOIN firing ON firing.id = firing_id "
        "JOIN place ON place.id = place_id ORDER BY firing.folded, shelf_folded"
    )
    for firing, shelf, reached in rows:
        cone = cone_of(reached)
        assert cone is not None  # the column is NOT NULL
        yield WitnessCone(firing, shelf, cone)


def _covariance(values: tuple[float | None, ...]) -> Covariance:
    return NO_COVARIANCE if values[0] is None else Covariance(*values)  # type: ignore[arg-type]


@contextmanager
def no_collecting() -> Iterator[None]:
    """Keep the garbage collector from walking the growing snapshot again and again: nothing in it is garbage."""
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()


def _logs(sql: sqlite3.Connection) -> Iterator[FiringLog]:
    points: dict[str, list[tuple[float, float]]] = {}
    for firing, minutes, celsius in sql.execute(
        "SELECT firing.name, at_min, celsius FROM firing_log JOIN firing ON firing.id = firing_id "
        "ORDER BY firing.folded, at_min, firing_log.id"
    ):
        points.setdefault(firing, []).append((minutes, celsius))
    for firing, rows in points.items():
        yield FiringLog(firing, tuple(row[0] for row in rows), tuple(row[1] for row in rows))
