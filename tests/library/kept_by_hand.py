"""Photos and what was read from them, as the measuring would give it."""

from __future__ import annotations

import random
from pathlib import Path

from swatch.terms.colour import Covariance, Lab
from swatch.terms.evidence import ZoneReading
from swatch.terms.layering import Layers
from swatch.terms.measured import CardRead, PatchRead, PhotoRead, Verdict, ZoneRead
from swatch.terms.problems import Notice

COVARIANCE = Covariance(0.5, 0.01, 0.02, 0.4, 0.03, 0.6)
SQUARE = ((1.0, 1.0), (9.0, 1.0), (9.0, 9.5), (1.0, 9.0))
CARD = CardRead(
    "rendition-24", SQUARE, 0.97, 2.0, 5.5, 8.25, (PatchRead(1, Lab(38, 14, 14), Lab(38.5, 13, 14), 1.2),)
)


def photo_in(folder: Path, name: str, seed: int = 0) -> Path:
    """Write a file that stands for a photo: the library never looks inside."""
    path = folder / name
    path.write_bytes(random.Random(f"{name}{seed}").randbytes(50_000))
    return path


def read_of(photo: Path, **tiles: float) -> tuple[Path, PhotoRead, list[tuple[ZoneRead, ZoneReading]]]:
    """A photo with one zone a tile, at the lightness given."""
    kept = [reading(tile, light) for tile, light in tiles.items()]
    read = PhotoRead(str(photo), (4000, 3000), Verdict.GOOD, CARD, tuple(zone for zone, _ in kept))
    return photo, read, kept


def reading(tile: str, light: float, **said: object) -> tuple[ZoneRead, ZoneReading]:
    zone = ZoneRead(
        f"in photo {tile}", SQUARE, Lab(light, 1, 2), COVARIANCE, 2.0, 1.25, 0.9, (Notice("speckled", {"n": 2}),)
    )
    layers = said.pop("layers", ())
    assert isinstance(layers, tuple)
    return zone, ZoneReading(tile, "A", zone.lab, COVARIANCE, layers=Layers(layers), **said)  # type: ignore[arg-type]
