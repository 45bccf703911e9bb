"""Backs of tiles: the sheet photographed again with each tile turned in its slot, so that numbers can be read."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from swatch.terms.measured import TileBack
from swatch.terms.problems import Where
from swatch.terms.problems.work import file_not_written
from swatch.terms.report import Report
from swatch.work.files import read_file, write_file
from swatch.work.measure import LARGEST_PHOTO_BYTES

LONG_SIDE = 560
"""Pixels of a back's longer side: a pencilled number of 5 mm on a tile of 10 cm is 28 of them high."""


def backs_of_tiles(asked: dict[str, Any], report: Report) -> tuple[TileBack, ...]:
    """Write a small JPEG of each tile's back (the worker's job).

    ``photo`` is the photo, ``out`` a folder and ``stem`` what its pictures are called; ``backs`` are the tiles to
    be shown. Without any, every tile on the photo sheet is, by its slot's number; none where no sheet is seen.
    """
    from swatch.science.picture import decode
    from swatch.science.tile_backs import backs_on_sheet, picture_of_back

    report(0, 2, "decoding")
    picture = decode(read_file(asked["photo"], LARGEST_PHOTO_BYTES), asked["photo"])
    report(1, 2, "reading")
    try:
        Path(asked["out"]).mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise file_not_written(error.strerror or str(error)).at(Where(file=asked["out"])) from error
    made: list[TileBack] = []
    for back in asked["backs"] or backs_on_sheet(picture):
        out = Path(asked["out"]) / f"{asked['stem']}-{len(made)}.jpg"
        write_file(out, picture_of_back(picture, back.polygon, LONG_SIDE))
        made.append(TileBack(back.tile, back.polygon, str(out)))
    return tuple(made)
