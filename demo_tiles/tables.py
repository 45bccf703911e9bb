"""The demo studio's CSV files and demo.json, in the public formats."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable
from pathlib import Path

import numpy as np

from demo_tiles import tiles
from demo_tiles.studio import DISCONTINUED, MATERIALS

HELD_EDITION = "Lintel bud vase"

# left_g, cone_from, cone_to, food_label, food_label_cone, density: all invented.
_STOCK: dict[str, tuple[int, str, str, str, str, str]] = {
    "Gantry black": (410, "04", "7", "", "", "1.48"),
    "Pailwash white": (820, "04", "7", "", "", "1.50"),
    "Quernstone red": (355, "04", "6", "", "", "1.47"),
    "Haywain ochre": (290, "04", "7", "", "", "1.47"),
    "Weirhouse blue": (465, "04", "8", "", "", "1.46"),
    "Nettlerow green": (540, "04", "7", "", "", "1.46"),
    "Thrapple rose": (180, "04", "6", "", "", "1.45"),
    "Plainpane clear": (2900, "5", "6", "yes", "6", "1.45"),
    "Skimveil": (1350, "5", "6", "yes", "6", "1.44"),
    "Old Ferry green": (640, "5", "6", "yes", "6", "1.49"),
    "Alderlees": (2150, "5", "6", "yes", "6", "1.47"),
    "Cinderloaf": (980, "5", "7", "yes", "6", "1.52"),
    "Lampblue dusk": (1120, "5", "6", "yes", "6", "1.48"),
    "Chalkfold": (1640, "5", "6", "no", "6", "1.53"),
    "Copperlatch": (1480, "5", "6", "no", "6", "1.47"),
}

_WEIGHINGS = (
    ("Old Ferry green", "2026-05-09T10:20", "OF-lot 3", 1655, 1158, 54.4, 8, 2, "brushed"),
    ("Old Ferry green", "2026-05-10T09:45", "OF-lot 3", 1158, 640, 54.4, 8, 2, "brushed"),
    ("Pailwash white", "2026-05-09T09:30", "PW-lot 1", 905, 820, 12.0, 8, 2, "brushed"),
    ("Plainpane clear", "2026-05-10T11:10", "PC-lot 5", 3365, 2900, 48.8, 8, 2, "poured"),
    ("Skimveil", "2026-06-20T15:05", "SV-lot 2", 1467, 1350, 12.8, 4, 2, "poured"),
    ("Alderlees", "2026-06-20T16:40", "AL-lot 2", 2198, 2150, 4.9, 12, 2, "brushed"),
    ("Copperlatch", "2026-06-20T17:15", "CO-lot 1", 1502, 1480, 4.9, 12, 1, "brushed"),
)


def csv_bytes(header: Iterable[str], rows: Iterable[Iterable[object]]) -> bytes:
    """CSV as UTF-8 with bare line feeds, the same on every machine."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(header)
    writer.writerows(rows)
    return text.getvalue().encode()


def _cone_text(position: float) -> str:
    return f"{round(position, 1):g}"


def tables() -> dict[str, bytes]:
    """File name to bytes of every table of the demo studio, photos' zones and the truth not among them."""
    rng = np.random.default_rng(611)
    witness = [
        (f.name, shelf, _cone_text(float(f.cone) + f.offset + more + rng.normal(0, 0.04)))
        for f in tiles.FIRINGS for shelf, more in f.shelves.items()
    ]  # fmt: skip
    layers = [
        (photo.name, f"{tile.name} {zone.name}", tile.name, zone.name, tile.body, tile.firing, tile.shelf,
         zone.layers, tile.stage, "brushed" if zone.layers else "", tile.sheen(zone), tile.faults, photo.session)
        for photo in tiles.PHOTOS for tile in photo.tiles for zone in tile.zones
    ]  # fmt: skip
    demo = {
        "studio": tiles.STUDIO, "note": tiles.NOTE, "discontinued": DISCONTINUED,
        "reference_photo": tiles.REFERENCE["photo"], "reference_zone": tiles.REFERENCE["zone"],
        "reference_name": "paint of an old window shutter",
        "body": tiles.REFERENCE["body"], "cone": tiles.REFERENCE["cone"], "edition": tiles.EDITION,
        "held_edition": HELD_EDITION,
        "photos": [photo.name for photo in tiles.PHOTOS if photo.tiles],
    }  # fmt: skip
    return {
        "materials.csv": csv_bytes(
            ("material", "kind", "status", "left_g", "cone_from", "cone_to", "food_label", "food_label_cone",
             "density_g_per_ml"),
            [(name, stuff.kind, "discontinued" if name == DISCONTINUED else "in stock", *_STOCK[name])
             for name, stuff in MATERIALS.items()],
        ),
        "firings.csv": csv_bytes(
            ("firing", "date", "cone_asked", "cone_reached", "cooling", "atmosphere", "kiln"),
            [(f.name, f.date, f.cone, _cone_text(float(f.cone) + f.offset), f.cooling, "oxidation", "top-loader")
             for f in tiles.FIRINGS],
        ),
        "witness.csv": csv_bytes(("firing", "shelf", "cone_reached"), witness),
        "editions.csv": csv_bytes(
            ("edition", "planned", "yield", "body", "cone", "region", "region_kind", "area_dm2", "layers"),
            [(r.edition, r.planned, r.share_good, r.body, r.cone, r.region, r.kind, r.area_dm2, r.layers)
             for r in tiles.REGIONS],
        ),
        "weighings.csv": csv_bytes(
            ("material", "at", "lot", "before_g", "after_g", "area_dm2", "pieces", "coats", "method"), _WEIGHINGS
        ),
        "layers.csv": csv_bytes(
            ("photo", "zone_in_photo", "tile", "zone", "body", "firing", "shelf", "layers", "stage", "method",
             "sheen", "faults", "session"), layers,
        ),
        "demo.json": (json.dumps(demo, indent=1, ensure_ascii=False) + "\n").encode(),
    }  # fmt: skip


def write_tables(folder: Path) -> None:
    """Write every table into `folder`."""
    for name, data in tables().items():
        (folder / name).write_bytes(data)
