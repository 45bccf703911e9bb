"""Searching, filtering and ordering tiles by arrays: a hundred thousand take some milliseconds.

A word without spaces is found in a text exactly where it is found in one of the text's own words. So only words
that differ are looked through, all in one run of bytes, and each knows the tiles it stands on.
"""

from __future__ import annotations

import math
from array import array
from collections.abc import Callable, Generator, Hashable, Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from swatch.desk.tile_views import TileView
from swatch.terms.layering import fold_name

Mask = NDArray[np.bool_]
Numbers = NDArray[np.intp]
STEP = 200
FEW_WORDS = 200


class WordIndex:
    """Which of many texts hold a word, or begin of one, or end."""

    def __init__(self) -> None:
        self._numbers: dict[str, int] = {}
        self._words, self._texts = array("i"), array("i")
        self._n = 0

    def add(self, words: Iterable[str]) -> None:
        """Take in the words of the next text, folded."""
        for word in words:
            self._words.append(self._numbers.setdefault(word, len(self._numbers)))
            self._texts.append(self._n)
        self._n += 1

    def close(self) -> Generator[None, None, None]:
        """No more texts will come."""
        run = "".join(f"{word}\n" for word in self._numbers).encode(errors="surrogatepass")
        self._run = np.frombuffer(run, dtype=np.uint8)
        self._ends = np.flatnonzero(self._run == ord("\n")) + 1
        self._often = np.bincount(self._run, minlength=256)
        yield
        word_of, text_of = np.frombuffer(self._words, np.int32), np.frombuffer(self._texts, np.int32)
        by_word = np.argsort(word_of, kind="stable")
        yield
        self._word_of, self._text_of = word_of[by_word], text_of[by_word]
        self._first = np.searchsorted(self._word_of, np.arange(len(self._ends) + 1))
        del self._words, self._texts

    def hold(self, part: str) -> Mask:
        """Which texts hold a word with `part` in it."""
        found = np.zeros(self._n, dtype=bool)
        sought = part.encode(errors="surrogatepass")
        last = len(self._run) - len(sought) + 1
        if last > 0:
            # The rarest byte first: it leaves the fewest places to look at.
            rare, *rest = sorted(range(len(sought)), key=lambda k: self._often[sought[k]])
            at = np.flatnonzero(self._run[rare : rare + last] == sought[rare])
            for k in rest:
                at = at[self._run[at + k] == sought[k]]
            numbers = np.unique(np.searchsorted(self._ends, at, side="right"))
            if len(numbers) <= FEW_WORDS:
                for number in numbers:
                    found[self._text_of[self._first[number] : self._first[number + 1]]] = True
            else:
                words = np.zeros(len(self._ends), dtype=bool)
                words[numbers] = True
                found[self._text_of[words[self._word_of]]] = True
        return found


class Column:
    """One value, or several, of each tile, as numbers."""

    def __init__(self) -> None:
        self._codes: dict[Hashable, int] = {}
        self._value, self._tile = array("i"), array("i")
        self._n = 0

    def add(self, values: Iterable[Hashable]) -> None:
        """Take in the values of the next tile."""
        for value in values:
            self._value.append(self._codes.setdefault(value, len(self._codes)))
            self._tile.append(self._n)
        self._n += 1

    def close(self) -> None:
        """No more tiles will come."""
        self._values, self._tiles = np.frombuffer(self._value, np.int32), np.frombuffer(self._tile, np.int32)
        self._one_each = np.array_equal(self._tiles, np.arange(self._n))
        del self._value, self._tile

    @property
    def known(self) -> tuple[Any, ...]:
        """Every value there is."""
        return tuple(self._codes)

    def has(self, wanted: Iterable[Hashable]) -> Mask:
        """Which tiles have one of these values."""
        codes = np.zeros(len(self._codes), dtype=bool)
        codes[[self._codes[value] for value in wanted if value in self._codes]] = True
        if self._one_each:
            return codes[self._values]
        found = np.zeros(self._n, dtype=bool)
        found[self._tiles[codes[self._values]]] = True
        return found


_COLUMNS: dict[str, Callable[[TileView], Iterable[Hashable]]] = {
    "material": lambda tile: tile.materials,
    "body": lambda tile: (tile.body,),
    "cone": lambda tile: (tile.cone,),
    "firing": lambda tile: (tile.firing,),
    "coats": lambda tile: tile.coats,
    "stage": lambda tile: (tile.stage,),
}


@dataclass
class TileIndex:
    """Tiles made ready to be searched; built in steps by `index_tiles`."""

    tiles: Sequence[TileView] = ()
    words: WordIndex = field(default_factory=WordIndex)
    columns: dict[str, Column] = field(default_factory=lambda: {name: Column() for name in _COLUMNS})
    orders: dict[str, Numbers] = field(default_factory=dict)
    names: tuple[str, ...] = ()
    """Every material as it is written."""
    places: dict[str, int] = field(default_factory=dict)
    """The first tile of each name."""
    tile_names: list[str] = field(default_factory=list)
    readings: int = 0

    def find(self, text: str, wanted: dict[str, Iterable[Hashable]], order: str) -> Numbers:
        """Numbers of the tiles that hold all words of `text` and have a wanted value in each column, in order."""
        mask = np.ones(len(self.tiles), dtype=bool)
        for name, values in wanted.items():
            mask &= self.columns[name].has(values)
        for word in fold_name(text).split():
            mask &= self.words.hold(word)
        ordered = self.orders[order]
        return ordered[mask[ordered]]


def index_tiles(tiles: Sequence[TileView]) -> Generator[None, None, TileIndex]:
    """Make tiles ready to be searched, some hundreds a step."""
    index = TileIndex(tiles)
    keys: dict[str, list[float]] = {"hue": [], "light": []}
    called: list[str] = []
    names: dict[str, None] = {}
    for number, tile in enumerate(tiles):
        index.words.add(tile.hay.split())
        for name, values in _COLUMNS.items():
            index.columns[name].add(values(tile))
        keys["hue"].append(_hue(tile))
        keys["light"].append(-tile.zones[0].lab.L)
        index.places.setdefault(tile.tile, number)
        index.tile_names.append(tile.tile)
        called.append(f"{tile.tile.rjust(12)}\0{tile.stage}")
        for zone in tile.zones:
            index.readings += zone.readings
            names.update((layer.material, None) for layer in zone.reading.layers)
        if number % STEP == STEP - 1:
            yield
    yield from index.words.close()
    yield
    for column in index.columns.values():
        column.close()
        yield
    index.names = tuple(sorted(names))
    yield
    light, hue = np.array(keys["light"], dtype=float), np.array(keys["hue"], dtype=float)
    index.orders["light"] = np.argsort(light, kind="stable")
    index.orders["hue"] = np.lexsort((light, hue))
    yield
    by_name = sorted(range(len(tiles)), key=called.__getitem__)
    index.orders["name"] = np.array(by_name, dtype=np.intp)
    return index


def _hue(tile: TileView) -> float:
    """Greys first, then round the hues in twelve steps; within a step from light to dark."""
    lab = tile.zones[0].lab
    chroma = math.hypot(lab.a, lab.b)
    return -1.0 if chroma < 6.0 else math.floor(math.degrees(math.atan2(lab.b, lab.a)) % 360.0 / 30.0)
