"""Tiles as they are looked at: their readings grouped by zone and taken together."""

from __future__ import annotations

from collections.abc import Generator, Sequence
from dataclasses import dataclass

import numpy as np

from swatch.desk.photo_work import DOUBTFUL
from swatch.desk.slices import at_once
from swatch.science.known_to import known_to
from swatch.terms.colour import Covariance, Lab
from swatch.terms.cone import Cone
from swatch.terms.evidence import Stage, ZoneReading
from swatch.terms.layering import Layers, fold_name
from swatch.wording.answers import lab_in_words
from swatch.wording.layering import layering_in_words

STEP = 200


@dataclass(frozen=True, slots=True)
class ZoneView:
    """One zone of a tile, its readings taken together."""

    zone: str
    reading: ZoneReading
    lab: Lab
    covariance: Covariance
    known_to: float
    readings: int


@dataclass(frozen=True, slots=True)
class TileView:
    """One tile as it lies on the bench."""

    tile: str
    zones: tuple[ZoneView, ...]
    body: str
    firing: str
    cone: Cone | None
    stage: Stage
    materials: frozenset[str]
    summary: str
    hay: str
    coats: frozenset[float] = frozenset()

    @property
    def spoken(self) -> str:
        """The tile and its numbers, for who hears instead of sees."""
        zones = "; ".join(f"{z.zone}: {lab_in_words(z.lab)}, ΔE00 ±{z.known_to:.1f}" for z in self.zones)
        return f"{self.tile}, {self.summary}. {zones}"


def doubtful_in_steps(tiles: Sequence[TileView]) -> Generator[None, None, tuple[TileView, ...]]:
    """Fired tiles with a zone known to `DOUBTFUL` or more, the worst first."""
    found: list[tuple[float, TileView]] = []
    for number, tile in enumerate(tiles, 1):
        if tile.stage is Stage.FIRED:
            known = max(zone.known_to for zone in tile.zones)
            if known >= DOUBTFUL:
                found.append((known, tile))
        if number % (10 * STEP) == 0:
            yield
    return tuple(tile for _known, tile in sorted(found, key=lambda one: -one[0]))


def view_tiles(readings: Sequence[ZoneReading]) -> list[TileView]:
    """Group readings into tiles; several readings of a zone become their average.

    Readings of one zone share most of their error (card, lamp), so their average is not taken to be known
    better than the best of them.
    """
    return at_once(view_in_steps(readings))


def view_in_steps(readings: Sequence[ZoneReading]) -> Generator[None, None, list[TileView]]:
    """Do the same in steps of some milliseconds."""
    known: list[float] = []
    grouped: dict[tuple[str, Stage], dict[str, list[int]]] = {}
    for start in range(0, len(readings), STEP):
        some = readings[start : start + STEP]
        known += _known_to(some)
        for number, reading in enumerate(some, start):
            grouped.setdefault((reading.tile, reading.stage), {}).setdefault(reading.zone, []).append(number)
        yield
    tiles: list[TileView] = []
    words = _Words()
    for (tile, stage), zones in grouped.items():
        seen = [
            _zone(zone, [readings[k] for k in which], [known[k] for k in which]) for zone, which in zones.items()
        ]
        tiles.append(_tile(tile, stage, tuple(seen), words))
        if len(tiles) % STEP == 0:
            yield
    return tiles


def _known_to(readings: Sequence[ZoneReading]) -> list[float]:
    labs = np.array([r.lab for r in readings], dtype=float)
    covariance = np.array([r.covariance.rows() for r in readings], dtype=float)
    known: list[float] = known_to(labs, covariance).tolist() if len(readings) else []
    return known


class _Words:
    """Names folded and layerings in words, each made once."""

    def __init__(self) -> None:
        self._folded: dict[str, str] = {}
        self._summaries: dict[tuple[Layers, ...], str] = {}

    def folded(self, text: str) -> str:
        if text not in self._folded:
            self._folded[text] = fold_name(text)
        return self._folded[text]

    def summary(self, readings: Sequence[ZoneReading]) -> str:
        kinds = tuple(dict.fromkeys(r.layers for r in readings))
        if kinds not in self._summaries:
            self._summaries[kinds] = summary_of(readings)
        return self._summaries[kinds]


def _zone(zone: str, readings: Sequence[ZoneReading], known: Sequence[float]) -> ZoneView:
    best = min(range(len(readings)), key=lambda k: known[k])
    n = len(readings)
    lab = readings[0].lab if n == 1 else Lab(*(sum(r.lab[k] for r in readings) / n for k in range(3)))
    return ZoneView(zone, readings[-1], lab, readings[best].covariance, known[best], n)


def _tile(tile: str, stage: Stage, zones: tuple[ZoneView, ...], known: _Words) -> TileView:
    first = zones[0].reading
    names = [layer.material for z in zones for layer in z.reading.layers]
    summary = known.summary([z.reading for z in zones])
    cone = str(first.cone) if first.cone is not None else ""
    faults = " ".join(fault for z in zones for fault in z.reading.faults)
    sheens = " ".join(z.reading.sheen for z in zones if z.reading.sheen)
    words = [tile, summary, *names, first.body or "", first.firing or "", f"cone {cone}", faults, sheens]
    return TileView(
        tile=tile,
        zones=zones,
        body=first.body or "",
        firing=first.firing or "",
        cone=first.cone,
        stage=stage,
        materials=frozenset(map(known.folded, names)),
        summary=summary,
        hay=" ".join(known.folded(word) for word in words if word),
        coats=frozenset(sum(layer.coats for layer in z.reading.layers) for z in zones),
    )


def summary_of(readings: Sequence[ZoneReading]) -> str:
    """Say what lies on a tile: its one layering, or its materials with the coats from least to most."""
    kinds = list(dict.fromkeys(r.layers for r in readings))
    if len(kinds) == 1:
        return layering_in_words(kinds[0])
    orders = {tuple(fold_name(layer.material) for layer in layers) for layers in kinds}
    if len(orders) == 1:
        return " › ".join(layer.material for layer in kinds[0])
    names = dict.fromkeys(layer.material for layers in kinds for layer in layers)
    return ", ".join(names)
