"""Search over many tiles: the studio's own list and index ÷ Qt's proxy model asking Python about each row.

``python -m bench.filtering [--rows 100000]``. Both hold the same tiles and give the
same rows; timed from the call to the model laid anew.
"""

from __future__ import annotations

import argparse
import os
import statistics
import time
from collections.abc import Callable
from functools import partial

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QSortFilterProxyModel
from PySide6.QtGui import QGuiApplication

from bench.event_loop import invented_readings
from swatch.desk.slices import at_once
from swatch.desk.tile_search import index_tiles
from swatch.desk.tile_views import TileView, view_tiles
from swatch.desk.tiles import Filters, TileGrid
from swatch.terms.layering import fold_name

ROUNDS = 3
SEARCHES = ("", "t4711", "stuff 07", "dark stuff", "f-7 white", "nowhere")


class PerRow(QSortFilterProxyModel):
    """Asks of each row whether its text holds all words."""

    def __init__(self) -> None:
        super().__init__()
        self.tiles: list[TileView] = []
        self.words: list[str] = []

    def find(self, text: str) -> None:
        """Search for other words."""
        self.words = fold_name(text).split()
        self.invalidate()
        self.rowCount()

    def filterAcceptsRow(self, row: int, _parent: QModelIndex | QPersistentModelIndex) -> bool:  # noqa: N802
        """Look into the row's text."""
        hay = self.tiles[row].hay
        return all(word in hay for word in self.words)


def seconds(do: Callable[[], object]) -> float:
    """Processor time of one call."""
    began = time.thread_time()
    do()
    return time.thread_time() - began


def main() -> None:
    """Print each search's ratio, and that of the sums."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--rows", type=int, default=100_000)
    rows = words.parse_args().rows
    _app = QGuiApplication([])
    tiles = view_tiles(invented_readings(rows))
    index = at_once(index_tiles(tiles))
    grid, source, proxy = TileGrid(), TileGrid(), PerRow()
    source.show_tiles(index, index.orders["name"])
    proxy.tiles = [index.tiles[k] for k in index.orders["name"]]
    proxy.setSourceModel(source)
    ours, theirs = [], []
    proxy.find("")
    for text in (*SEARCHES[1:], SEARCHES[0]):
        wanted = Filters(text=text).wanted
        pairs = []
        for _round in range(ROUNDS):
            own = partial(
                lambda text, wanted: grid.show_tiles(index, index.find(text, wanted, "name")), text, wanted
            )
            pairs.append((seconds(own), seconds(partial(proxy.find, text))))
        mine, per_row = (statistics.median(side) for side in zip(*pairs, strict=True))
        assert [grid.data(grid.index(k)) for k in range(grid.rowCount())] == [
            proxy.data(proxy.index(k, 0)) for k in range(proxy.rowCount())
        ]
        ours.append(mine)
        theirs.append(per_row)
        print(
            f"  {text!r}: {grid.rowCount()} rows, "
            f"{mine * 1000:.1f} ms ÷ {per_row * 1000:.0f} ms: {mine / per_row:.4f}"
        )
    print(
        f"{rows} rows filtered by the index ÷ a proxy model asked row by row: {sum(ours) / sum(theirs):.3f} "
        f"({1000 * sum(ours):.0f} ms ÷ {1000 * sum(theirs):.0f} ms, {len(SEARCHES)} searches)"
    )


if __name__ == "__main__":
    main()
