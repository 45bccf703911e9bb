"""Photos on record with the current readings that were taken from them, so that they can be measured again."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path

from swatch.library.evidence import NO_COVARIANCE
from swatch.library.file import RecordsFile
from swatch.library.originals import path_of
from swatch.terms.colour import Covariance, Lab
from swatch.terms.evidence import Stage
from swatch.terms.measured import Point


@dataclass(frozen=True, slots=True)
class KeptZone:
    """A current reading taken from a photo, with its outline there."""

    tile: str
    zone: str
    stage: Stage
    reading: int
    lab: Lab
    covariance: Covariance
    polygon: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class KeptPhoto:
    """A photo on record: the original, its card's name and corners as last read, and its current readings.

    ``card`` and ``corners`` are None where it was measured without a card.
    """

    name: str
    path: Path
    card: str | None
    corners: tuple[Point, Point, Point, Point] | None
    zones: tuple[KeptZone, ...]


_READINGS = """
SELECT photo.sha256, photo.suffix, photo.name, card.name, shot.corners, ware.name, zone.name, reading.stage,
    reading.number, reading.L, reading.a, reading.b, LL, La, Lb, aa, ab, bb, polygon
FROM reading
JOIN shot ON shot.id = reading.shot_id
JOIN photo ON photo.id = shot.photo_id
LEFT JOIN card ON card.id = shot.card_id
JOIN zone ON zone.id = reading.zone_id
JOIN ware ON ware.id = zone.ware_id
WHERE superseded_by IS NULL AND NOT set_aside AND polygon IS NOT NULL AND ware.kind IN ('tile', 'chip')
ORDER BY photo.id, ware.folded, zone.folded, reading.stage, reading.number, shot.id
"""


def kept_photos(file: RecordsFile) -> tuple[KeptPhoto, ...]:
    """Every photo that current readings of tiles rest on, in the order they were kept, set aside ones not."""
    found: dict[str, list[tuple[object, ...]]] = {}
    with file.reading() as sql:
        for row in sql.execute(_READINGS):
            found.setdefault(str(row[0]), []).append(row)
    return tuple(_photo(file.folder, rows) for rows in found.values())


def _photo(folder: Path, rows: list[tuple[object, ...]]) -> KeptPhoto:
    sha256, suffix, name, card, corners = rows[-1][:5]
    return KeptPhoto(
        str(name),
        path_of(folder, str(sha256), str(suffix)),
        None if card is None else str(card),
        None if corners is None else _corners(str(corners)),
        tuple(_zone(row[5:]) for row in rows),
    )


def _corners(text: str) -> tuple[Point, Point, Point, Point]:
    one, two, three, four = _points(text)
    return one, two, three, four


def _points(text: str) -> tuple[Point, ...]:
    return tuple((float(x), float(y)) for x, y in json.loads(text))


def _zone(row: tuple[object, ...]) -> KeptZone:
    tile, zone, stage, number, *figures, polygon = row
    values = [None if value is None else float(str(value)) for value in figures]
    lab = Lab(*values[:3])  # type: ignore[arg-type]
    covariance = NO_COVARIANCE if values[3] is None else Covariance(*values[3:])  # type: ignore[arg-type]
    return KeptZone(
        str(tile), str(zone), Stage(str(stage)), int(str(number)), lab, covariance, _points(str(polygon))
    )
