"""One photo on its way to readings: its card, its zones, and what is written down of each zone."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from pathlib import Path

import numpy as np

from swatch.desk.photo_shapes import Points
from swatch.science.known_to import known_to
from swatch.terms.cone import Cone
from swatch.terms.evidence import Evidence, Stage, ZoneReading
from swatch.terms.layering import Layer, Layers, fold_name
from swatch.terms.measured import PhotoRead, Point, TileBack, Verdict, ZoneRead, ZoneShape
from swatch.terms.problems import StudioProblem

DOUBTFUL = 5.0
"""A zone known to more ΔE00 than this deserves another photo."""
_TRAILING_NUMBER = re.compile(r"^(.*?)(\d+)$")


class State(Enum):
    """How far a photo is."""

    WAITING = "waiting"
    READING = "reading"
    READ = "read"
    FAILED = "failed"
    KEPT = "kept"


@dataclass(frozen=True, slots=True)
class ZoneEntry:
    """One zone as outlined, with what is written down of it; layers None: not entered yet."""

    key: str
    polygon: Points
    tile: str
    zone: str
    body: str = ""
    firing: str = ""
    cone: Cone | None = None
    layers: Layers | None = None
    stage: Stage = Stage.FIRED
    method: str = ""
    wanted: bool = True

    @property
    def name(self) -> str:
        """Tile and zone."""
        return f"{self.tile} {self.zone}".strip()

    @property
    def lacks(self) -> str:
        """What must still be entered before the reading can be kept: a code, or empty."""
        if not self.tile or not self.zone:
            return "tile"
        if self.layers is None:
            return "layers"
        if self.stage is Stage.FIRED and not self.body:
            return "body"
        if self.stage is Stage.FIRED and self.cone is None:
            return "cone"
        return ""


@dataclass(frozen=True, slots=True)
class PhotoWork:
    """One photo in hand; everything the user can take back is in here.

    ``fronts`` is the photo whose tiles this one shows from behind, ``backs`` where each of them is then, by what
    `piece` says of its zones; ``told`` where the user said which it is, not the sheet's code. ``neutral`` is the
    point that stands for a card where the photo has none.
    """

    path: Path
    state: State = State.WAITING
    preview: Path | None = None
    corners: tuple[Point, Point, Point, Point] | None = None
    zones: tuple[ZoneEntry, ...] = ()
    read: PhotoRead | None = None
    problem: StudioProblem | None = None
    fronts: Path | None = None
    backs: tuple[TileBack, ...] = ()
    told: bool = False
    neutral: Point | None = None
    preview_problem: StudioProblem | None = None
    unseen: bool = False
    """The picture to look at could not be made; what was read of the photo stands all the same."""
    kept: tuple[ZoneEntry, ...] = ()
    """The zones as they were when they were last kept."""
    readings: tuple[int, ...] = ()
    """The readings on record that were made of them."""
    kept_before: tuple[str, int] | None = None
    """The day this very photo was kept in an earlier sitting, and how many readings of it."""

    @property
    def is_kept(self) -> bool:
        """Whether everything is kept as it stands, so that keeping it again would change nothing."""
        return self.state is State.KEPT and self.kept == self.zones

    @property
    def refused(self) -> bool:
        """Whether the photo was read and cannot be used."""
        return self.read is not None and self.read.verdict is Verdict.REFUSED

    def entry(self, key: str) -> ZoneEntry | None:
        """The zone of that key."""
        return next((zone for zone in self.zones if zone.key == key), None)

    def reading(self, key: str) -> ZoneRead | None:
        """The colour read for a zone, where its outline is still the one that was read."""
        entry = self.entry(key)
        if self.read is None or entry is None:
            return None
        found = next((zone for zone in self.read.zones if zone.zone == key), None)
        return found if found is not None and same_outline(found.polygon, entry.polygon) else None

    def known_to(self, key: str) -> float | None:
        """ΔE00 within which the colour of a zone is known, as the tiles will tell it."""
        read = self.reading(key)
        if read is None:
            return None
        return float(known_to(np.array([read.lab]), np.array([read.covariance.rows()]))[0])

    def doubtful(self) -> tuple[ZoneEntry, ...]:
        """Zones that would be kept and deserve another photo."""
        return tuple(zone for _read, zone in self.keepable() if (self.known_to(zone.key) or 0.0) >= DOUBTFUL)

    def shapes(self) -> tuple[ZoneShape, ...]:
        """The outlines to be read."""
        return tuple(ZoneShape(zone.key, zone.polygon) for zone in self.zones)

    def keepable(self) -> tuple[tuple[ZoneRead, ZoneEntry], ...]:
        """Zones that are read, wanted and written down; what a neutral point tells is a target, never a tile."""
        if self.neutral is not None:
            return ()
        pairs = ((self.reading(zone.key), zone) for zone in self.zones if zone.wanted and not zone.lacks)
        return tuple((read, zone) for read, zone in pairs if read is not None)

    def lacking(self) -> tuple[ZoneEntry, ...]:
        """Wanted zones of which something must still be written down."""
        if self.neutral is not None:
            return ()
        return tuple(zone for zone in self.zones if zone.wanted and zone.lacks)

    def with_zone(self, changed: ZoneEntry) -> PhotoWork:
        """The same work with one zone changed."""
        return replace(self, zones=tuple(changed if zone.key == changed.key else zone for zone in self.zones))


def same_outline(one: Sequence[Point], other: Sequence[Point]) -> bool:
    """Whether two outlines are the same but for the rounding of a journey through JSON."""
    return len(one) == len(other) and all(
        abs(a[0] - b[0]) < 0.01 and abs(a[1] - b[1]) < 0.01 for a, b in zip(one, other, strict=True)
    )


def piece(key: str) -> str:
    """What the zones of one tile have in common in their keys: ``3`` of ``3.1`` (its slot) and ``3/0``."""
    return re.split("[./]", key, maxsplit=1)[0]


def split_name(name: str) -> tuple[str, str]:
    """Tile and zone from a zone's name in a photo: ``T01 A`` and ``A1`` alone, which is a tile with one zone."""
    tile, _, zone = name.rpartition(" ")
    return (tile, zone) if tile else (name, "A")


def known_zone(evidence: Evidence, tile: str, zone: str) -> ZoneReading | None:
    """What the studio has on record of a zone."""
    wanted = fold_name(tile), fold_name(zone)
    return next((r for r in evidence.readings if (fold_name(r.tile), fold_name(r.zone)) == wanted), None)


def next_tile(taken: Iterable[str]) -> str:
    """The name after the highest of those taken: after ``T-041`` comes ``T-042``; the first is ``T-001``."""
    best: tuple[int, str] | None = None
    for name in taken:
        found = _TRAILING_NUMBER.match(name)
        if found and (best is None or int(found.group(2)) >= best[0]):
            n = int(found.group(2))
            best = n, f"{found.group(1)}{n + 1:0{len(found.group(2))}d}"
    return best[1] if best is not None else "T-001"


def next_zone(taken: Iterable[str]) -> str:
    """The next letter: A, B, C …; after Z, Z1."""
    names = {name.casefold() for name in taken}
    return next((letter for letter in map(chr, range(65, 91)) if letter.casefold() not in names), f"Z{len(names)}")


def with_tap(layers: Layers | None, material: str) -> Layers:
    """One more coat: of the layer on top where it is of that material, else as a new layer."""
    if layers and fold_name(layers[-1].material) == fold_name(material) and not layers[-1].wiped:
        top = layers[-1]
        return (*layers[:-1], replace(top, coats=top.coats + 1))
    return (*(layers or ()), Layer(material))


def without_tap(layers: Layers | None) -> Layers | None:
    """One coat less from the top; nothing left means not entered."""
    if not layers:
        return None
    top = layers[-1]
    if top.coats > 1:
        return (*layers[:-1], replace(top, coats=top.coats - 1))
    return layers[:-1] or None


def with_wipe(layers: Layers | None) -> Layers | None:
    """The layer on top wiped back, or no longer."""
    if not layers:
        return layers
    return (*layers[:-1], replace(layers[-1], wiped=not layers[-1].wiped))


def in_bands(polygon: Points, n: int) -> tuple[Points, ...]:
    """Part a four-cornered outline into `n` bands, the one nearest the first side first."""
    if len(polygon) != 4:
        raise ValueError(f"bands are cut from four corners, not {len(polygon)}")
    one, two, three, four = polygon

    def along(start: Point, end: Point, share: float) -> Point:
        return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])

    return tuple(
        (
            along(one, four, k / n),
            along(two, three, k / n),
            along(two, three, (k + 1) / n),
            along(one, four, (k + 1) / n),
        )
        for k in range(n)
    )


def step_zones(entry: ZoneEntry, steps: Sequence[float] = (3.0, 2.0, 1.0)) -> tuple[ZoneEntry, ...]:
    """The zones of a step tile: bands from the top down, the top layer thickest at the top.

    Thickest at the top is how step tiles are made (whole, two thirds, one third of the height: 1, 2, 3 coats).
    """
    zones: list[ZoneEntry] = []
    for n, (band, coats) in enumerate(zip(in_bands(entry.polygon, len(steps)), steps, strict=True)):
        layers = entry.layers
        if layers:
            layers = (*layers[:-1], replace(layers[-1], coats=coats))
        zones.append(replace(entry, key=f"{entry.key}/{n}", polygon=band, zone=chr(65 + n), layers=layers))
    return tuple(zones)


def crossed_zones(entry: ZoneEntry, n: int = 3) -> tuple[ZoneEntry, ...]:
    """The zones of a crossed tile, row by row from the upper left: bands of one layer across bands of another.

    The layer below the top one lies in rows, thickest at the top; the top one in columns, thickest at the right
    (common practice, no source). Where fewer than two layers are entered the zones keep what there is.
    """
    zones: list[ZoneEntry] = []
    for row, band in enumerate(in_bands(entry.polygon, n)):
        one, two, three, four = band
        for column, turned in enumerate(in_bands((one, four, three, two), n)):
            layers = entry.layers
            if layers and len(layers) > 1:
                below, top = replace(layers[-2], coats=float(n - row)), replace(layers[-1], coats=column + 1.0)
                layers = (*layers[:-2], below, top)
            first, second, third, fourth = turned
            key, name = f"{entry.key}/{row}{column}", chr(65 + row * n + column)
            polygon = (first, fourth, third, second)
            zones.append(replace(entry, key=key, polygon=polygon, zone=name, layers=layers))
    return tuple(zones)


def reading_of(entry: ZoneEntry, read: ZoneRead, session: str) -> ZoneReading:
    """What is kept: the colour with all that is written down of its zone."""
    return ZoneReading(
        tile=entry.tile,
        zone=entry.zone,
        lab=read.lab,
        covariance=read.covariance,
        stage=entry.stage,
        body=entry.body or None,
        layers=entry.layers or (),
        cone=entry.cone if entry.stage is Stage.FIRED else None,
        firing=entry.firing or None,
        session=session,
        method=entry.method or None,
    )
