"""The records as lists show them: tiles with their zones and every current reading, and the studio's bodies.

Unlike the evidence, a list also has what was set aside, and tells from which photo a reading comes.
"""

from __future__ import annotations

import hashlib
import sqlite3
from dataclasses import dataclass
from pathlib import Path

from swatch.library.evidence import NO_COVARIANCE, ZoneLayers, no_collecting
from swatch.library.originals import path_of
from swatch.library.words import notices_of
from swatch.terms.colour import Covariance, Lab
from swatch.terms.cone import Cone
from swatch.terms.evidence import Sheen, Stage
from swatch.terms.layering import Layers, fold_name, format_layers
from swatch.terms.problems.base import Notice


@dataclass(frozen=True, slots=True)
class PhotoOf:
    """The photo a reading was taken from; ``outline`` is JSON, in the photo as seen.

    ``thumbnail`` names the picture of the zone in the cache: the same photo and outline give the same name.
    """

    sha256: str
    path: Path
    name: str
    outline: str
    thumbnail: str


@dataclass(frozen=True, slots=True)
class ReadingRow:
    """One current reading of a zone."""

    id: int
    stage: Stage
    number: int
    lab: Lab
    covariance: Covariance
    layers: Layers
    cone: Cone | None
    firing: str | None
    shelf: str | None
    refires: int
    session: str | None
    method: str | None
    lot: str | None
    sheen: Sheen | None
    faults: tuple[str, ...]
    variation_de00: float | None
    warnings: tuple[Notice, ...]
    set_aside: bool
    photo: PhotoOf | None


@dataclass(frozen=True, slots=True)
class ZoneRow:
    """One zone of a tile."""

    id: int
    name: str
    readings: tuple[ReadingRow, ...]


@dataclass(frozen=True, slots=True)
class TileRow:
    """One tile; ``search`` is the folded text a search looks into."""

    id: int
    name: str
    body: str | None
    zones: tuple[ZoneRow, ...]
    search: str


_TILES = """
SELECT ware.id, ware.name, body.name, zone.id, zone.name, reading.id, reading.stage, reading.number, reading.L,
    reading.a, reading.b, LL, La, Lb, aa, ab, bb, ifnull(firing.cone_asked, ware_event.cone), firing.name,
    place.shelf, ifnull(ware_event.refires, 0), session.name, look.sheen, look.faults, variation_de00,
    reading.warnings, set_aside, photo.sha256, photo.suffix, photo.name, polygon, zone_lot.name
FROM ware
JOIN zone ON zone.ware_id = ware.id
JOIN reading ON reading.zone_id = zone.id AND superseded_by IS NULL
LEFT JOIN body ON body.id = ware.body_id
LEFT JOIN ware_event ON ware_event.id = reading.event_id
LEFT JOIN firing ON firing.id = ware_event.firing_id
LEFT JOIN place ON place.id = ware_event.place_id
LEFT JOIN session ON session.id = reading.session_id
LEFT JOIN look ON look.zone_id = zone.id AND look.event_id IS reading.event_id
LEFT JOIN lot AS zone_lot ON zone_lot.id = zone.lot_id
LEFT JOIN shot ON shot.id = reading.shot_id
LEFT JOIN photo ON photo.id = shot.photo_id
WHERE ware.kind IN ('tile', 'chip') {which}
ORDER BY ware.folded, ware.id, zone.folded, reading.stage, reading.number
"""


def tile_rows(sql: sqlite3.Connection, folder: Path, name: str | None = None) -> tuple[TileRow, ...]:
    """Every tile with its zones and current readings, by name; or those of one name (a tile, a maker's chip)."""
    with no_collecting():
        return tuple(_tile_rows(sql, folder, name))


def body_names(sql: sqlite3.Connection) -> tuple[str, ...]:
    """Every body the records speak of, whether or not its own colour is known."""
    return tuple(name for (name,) in sql.execute("SELECT name FROM body ORDER BY folded"))


def find(rows: tuple[TileRow, ...], text: str) -> tuple[TileRow, ...]:
    """Return the tiles in whose words every word of `text` is found."""
    words = fold_name(text).split()
    return tuple(row for row in rows if all(word in row.search for word in words))


def _tile_rows(sql: sqlite3.Connection, folder: Path, only: str | None) -> list[TileRow]:
    one = () if only is None else (fold_name(only),)
    found = sql.execute(_TILES.format(which="AND ware.folded = ?" if one else ""), one).fetchall()
    layers = ZoneLayers(sql, zones={row[3] for row in found} if one else None)
    tiles: dict[int, tuple[str, str | None, dict[int, tuple[str, list[ReadingRow]]]]] = {}
    for row in found:
        _, _, zones = tiles.setdefault(row[0], (row[1], row[2], {}))
        zones.setdefault(row[3], (row[4], []))[1].append(_reading_row(row, layers, folder))
    return [
        TileRow(
            ware,
            name,
            body,
            tuple(ZoneRow(zone, zone_name, tuple(readings)) for zone, (zone_name, readings) in zones.items()),
            _search(name, body, zones),
        )
        for ware, (name, body, zones) in tiles.items()
    ]


def _reading_row(row: tuple[object, ...], layers: ZoneLayers, folder: Path) -> ReadingRow:
    (_, _, _, zone, _, reading, stage, number, *lab_and_covariance) = row[:17]
    cone, firing, shelf, refires, session, sheen, faults, variation, warnings, aside, *photo = row[17:]
    found, method, lot = layers.at(_int(zone), _int(refires))
    sha256, suffix, photo_name, polygon, zone_lot = photo
    return ReadingRow(
        id=_int(reading),
        stage=Stage(str(stage)),
        number=_int(number),
        lab=Lab(*lab_and_covariance[:3]),  # type: ignore[arg-type]
        covariance=NO_COVARIANCE if lab_and_covariance[3] is None else Covariance(*lab_and_covariance[3:]),  # type: ignore[arg-type]
        layers=found,
        cone=layers.cones[_text(cone)],
        firing=_text(firing),
        shelf=_text(shelf) or None,
        refires=_int(refires),
        session=_text(session),
        method=method,
        lot=lot or _text(zone_lot),
        sheen=None if sheen is None else Sheen(str(sheen)),
        faults=tuple((_text(faults) or "").split()),
        variation_de00=None if variation is None else float(str(variation)),
        warnings=() if warnings == "[]" else notices_of(str(warnings), _text(photo_name)),
        set_aside=bool(aside),
        photo=None if sha256 is None else photo_of(folder, *map(str, (sha256, suffix, photo_name, polygon))),
    )


def photo_of(folder: Path, sha256: str, suffix: str, name: str, outline: str) -> PhotoOf:
    """An outline in an original; where that lies, and what the picture of the outline is called."""
    thumbnail = f"{sha256[:24]}-{hashlib.sha256(outline.encode()).hexdigest()[:12]}"
    return PhotoOf(sha256, path_of(folder, sha256, suffix), name, outline, thumbnail)


def _search(name: str, body: str | None, zones: dict[int, tuple[str, list[ReadingRow]]]) -> str:
    words = [name, body or ""]
    for zone, readings in zones.values():
        words.append(zone)
        for reading in readings:
            words += [format_layers(reading.layers), f"cone {reading.cone}" if reading.cone else ""]
            words += [reading.firing or "", reading.session or "", reading.lot or "", *reading.faults]
    return fold_name(" ".join(dict.fromkeys(words)))


def _text(value: object) -> str | None:
    return None if value is None else str(value)


def _int(value: object) -> int:
    assert isinstance(value, int)
    return value
