"""Photos of tiles' backs: which photo's tiles they are, and where each of them lies."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from swatch.desk.photo_shapes import Points
from swatch.desk.photo_work import PhotoWork, State, ZoneEntry, piece
from swatch.terms.measured import TileBack

TURNED = 6.0
"""ΔE00 by which most tiles look otherwise from behind; one sheet shot twice differs by a third of that."""
ALIKE = 5.0
"""Backs are bare body: most lie within this ΔE00 of the middle one. Fronts that do are told apart by the user."""
_COLUMNS = {1: 1, 3: 1, 4: 2, 9: 3}


def turned(photos: Sequence[PhotoWork]) -> Iterator[tuple[Path, Path]]:
    """Each photo of backs with the photo of their fronts, as far as sheets' codes and colours tell.

    One after the other, since the same sheet is used again and again: a photo of the same code as the fronts
    before it, with other colours and all alike, shows their backs. Photos go by time where all of them tell it.
    """
    fronts: PhotoWork | None = None
    for work in _in_time(photos):
        if work.state is State.KEPT and work.fronts is None:
            fronts = work
        elif work.told or work.fronts is not None:
            fronts = None if work.fronts is not None else work
        elif work.read is None or work.read.sheet is None:
            fronts = None
        elif fronts is not None and _shows_backs(work, fronts):
            yield work.path, fronts.path
            fronts = None
        else:
            fronts = work


def _in_time(photos: Sequence[PhotoWork]) -> list[PhotoWork]:
    times = [work.read.taken.at if work.read and work.read.taken else None for work in photos]
    if all(times) and len(set(times)) == len(times):
        return [work for _at, work in sorted(zip(times, photos, strict=True), key=lambda one: str(one[0]))]
    return list(photos)


def _shows_backs(work: PhotoWork, fronts: PhotoWork) -> bool:
    from swatch.science.colour_math import delta_e_2000

    one, other = fronts.read, work.read
    if (
        one is None
        or other is None
        or one.sheet is None
        or other.sheet is None
        or one.sheet.code != other.sheet.code
    ):
        return False
    before, after = _colours(fronts), _colours(work)
    slots = sorted(before.keys() & after.keys())
    if len(slots) < 2 or before.keys() != after.keys():
        return False
    seen, now = (np.array([colours[slot] for slot in slots]) for colours in (before, after))
    alike = delta_e_2000(now, np.median(now, axis=0))
    return bool(np.median(delta_e_2000(seen, now)) > TURNED and np.quantile(alike, 0.8) < ALIKE)


def _colours(work: PhotoWork) -> dict[str, NDArray[np.float64]]:
    """The middle colour of each tile, by slot."""
    found: dict[str, list[tuple[float, ...]]] = {}
    for zone in work.read.zones if work.read is not None else ():
        found.setdefault(piece(zone.zone), []).append(tuple(zone.lab))
    return {slot: np.median(np.array(labs), axis=0) for slot, labs in found.items()}


def where_tiles_lie(fronts: PhotoWork, backs: PhotoWork) -> tuple[TileBack, ...]:
    """Each tile's outline in the photo of the backs, where no sheet tells it: each was turned in its place.

    Carried over by the card where both photos show it, else by the photos' sizes.
    """
    carry = _carry(fronts, backs)
    whole: dict[str, list[ZoneEntry]] = {}
    for zone in fronts.zones:
        whole.setdefault(zone.tile, []).append(zone)
    made = {
        piece(zone.key): outline_of([one.polygon for one in zones]) for zones in whole.values() for zone in zones
    }
    return tuple(TileBack(name, _through(carry, outline)) for name, outline in made.items())


def outline_of(parts: Sequence[Points]) -> Points:
    """The outline of a tile from those of its zones, row by row from the upper left."""
    columns = _COLUMNS.get(len(parts))
    if columns is None or any(len(part) != 4 for part in parts):
        xs, ys = [x for part in parts for x, _y in part], [y for part in parts for _x, y in part]
        return (min(xs), min(ys)), (max(xs), min(ys)), (max(xs), max(ys)), (min(xs), max(ys))
    return parts[0][0], parts[columns - 1][1], parts[-1][2], parts[-columns][3]


def back_of(photos: Iterable[PhotoWork], fronts: PhotoWork, key: str) -> TileBack | None:
    """The back of the tile a zone of `fronts` belongs to."""
    wanted = piece(key)
    return next(
        (back for work in photos if work.fronts == fronts.path for back in work.backs if back.tile == wanted), None
    )


def named_backs(fronts: PhotoWork, backs: PhotoWork) -> tuple[TileBack, ...]:
    """The backs by the names their tiles have now, for tiles that have one."""
    names = {piece(zone.key): zone.tile for zone in fronts.zones if zone.wanted and zone.tile}
    return tuple(
        TileBack(names[back.tile], back.polygon, back.picture) for back in backs.backs if back.tile in names
    )


def _carry(fronts: PhotoWork, backs: PhotoWork) -> NDArray[np.float64]:
    one, other = fronts.read, backs.read
    if one is None or other is None:
        return np.eye(3)
    if one.card is None or other.card is None:
        return np.diag([other.size[0] / one.size[0], other.size[1] / one.size[1], 1.0])
    rows: list[list[float]] = []
    for (x, y), (u, v) in zip(fronts.corners or one.card.corners, other.card.corners, strict=True):
        rows.append([x, y, 1, 0, 0, 0, -u * x, -u * y, u])
        rows.append([0, 0, 0, x, y, 1, -v * x, -v * y, v])
    system = np.array(rows)
    return np.append(np.linalg.solve(system[:, :8], system[:, 8]), 1.0).reshape(3, 3)


def _through(matrix: NDArray[np.float64], points: Points) -> Points:
    carried = np.column_stack([np.array(points), np.ones(len(points))]) @ matrix.T
    return tuple((float(x / w), float(y / w)) for x, y, w in carried)
