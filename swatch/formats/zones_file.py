"""Zones to read in a photo: ``{"zones": [{"zone": "A1", "polygon": [[x, y], …]}]}``."""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from typing import Any, NoReturn

from swatch.formats.csv_text import plain_line, read_text
from swatch.terms.measured import Point, ZoneShape
from swatch.terms.problems import StudioProblem, Where
from swatch.terms.problems.files import file_too_big, zone_bad_outline, zone_twice, zones_not_json

MOST_BYTES = 4 * 1024 * 1024
MOST_ZONES = 1_000
MOST_POINTS = 500
MOST_NAME = 200
FURTHEST = 1e6
"""Pixels; no photo that is read at all is larger."""


def read_zones(data: bytes, name: str) -> tuple[ZoneShape, ...]:
    """Read a zones file.

    Parameters
    ----------
    data : bytes
        The file.
    name : str
        What the file is called in messages.

    Raises
    ------
    StudioProblem
        ``zones-not-json``: no JSON, or not of this shape; ``zone-bad-outline`` and ``zone-twice`` name the zone.
    """
    where = Where(file=name)
    if len(data) > MOST_BYTES:
        raise file_too_big(len(data) / 1024**2, MOST_BYTES / 1024**2).at(where)
    try:
        whole = json.loads(read_text(data, name), parse_constant=_no_constant)
    except json.JSONDecodeError as error:
        raise zones_not_json(error.msg).at(Where(file=name, row=error.lineno)) from None
    except (ValueError, RecursionError) as error:
        # NaN, an integer of thousands of digits, or brackets nested without end.
        raise zones_not_json(str(error)[:80]).at(where) from None
    zones = whole.get("zones") if isinstance(whole, dict) else None
    if not isinstance(zones, list) or not zones:
        raise zones_not_json('"zones"').at(where)
    if len(zones) > MOST_ZONES:
        raise zones_not_json(f"{len(zones)} > {MOST_ZONES}").at(where)
    shapes = tuple(_zone(entry, where) for entry in zones)
    seen: set[str] = set()
    for shape in shapes:
        if shape.zone in seen:
            raise zone_twice(shape.zone).at(Where(file=name, zone=shape.zone))
        seen.add(shape.zone)
    return shapes


def write_zones(zones: Sequence[ZoneShape]) -> bytes:
    """Write zones as `read_zones` reads them."""
    entries = [{"zone": z.zone, "polygon": [list(point) for point in z.polygon]} for z in zones]
    return json.dumps({"zones": entries}, ensure_ascii=False, indent=1).encode("utf-8")


def _no_constant(text: str) -> NoReturn:
    raise ValueError(text)


def _zone(entry: Any, where: Where) -> ZoneShape:
    if not isinstance(entry, dict) or not isinstance(entry.get("zone"), str):
        raise zones_not_json('"zone"').at(where)
    zone = " ".join(entry["zone"].split())
    if not zone or len(zone) > MOST_NAME or not plain_line(zone):
        raise zones_not_json('"zone"').at(where)
    try:
        return ZoneShape(zone, _outline(entry.get("polygon")))
    except StudioProblem as problem:
        raise problem.at(Where(file=where.file, zone=zone)) from None


def _outline(points: Any) -> tuple[Point, ...]:
    if not isinstance(points, list) or not 3 <= len(points) <= MOST_POINTS:
        raise zone_bad_outline(f"3 – {MOST_POINTS}")
    outline = tuple(_point(point) for point in points)
    if _area(outline) < 1.0:
        raise zone_bad_outline("area < 1 px")
    return outline


def _point(point: Any) -> Point:
    if not isinstance(point, list) or len(point) != 2:
        raise zone_bad_outline("[x, y]")
    for part in point:
        if isinstance(part, bool) or not isinstance(part, int | float):
            raise zone_bad_outline("[x, y]")
        # Compared before it becomes a float: JSON's whole numbers have no end.
        if not -FURTHEST <= part <= FURTHEST or not math.isfinite(part):
            raise zone_bad_outline(f"|x|, |y| > {FURTHEST:.0f}")
    return float(point[0]), float(point[1])


def _area(outline: tuple[Point, ...]) -> float:
    turned = (*outline[1:], outline[0])
    return abs(sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(outline, turned, strict=True))) / 2
