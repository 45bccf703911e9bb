"""Make the demo studio: ``python -m demo_tiles.make`` writes its tables, photos, zones and truth beside itself.

``python -m demo_tiles.make FOLDER`` writes them into FOLDER instead.
"""

from __future__ import annotations

import io
import json
import sys
from pathlib import Path

import cv2
import numpy as np

from demo_tiles import tiles
from demo_tiles.bench import Bench
from demo_tiles.camera import SIZE, chart_lab_as_printed, develop, lights
from demo_tiles.draw import Drawn, draw_board, draw_chart, draw_tile
from demo_tiles.physics import true_lab
from demo_tiles.tables import write_tables

QUALITY = 88
CHART_AT = (132.0, 205.0)


def _places(count: int) -> tuple[list[tuple[float, float]], tuple[float, float]]:
    """Middles of `count` things on the paper beside the chart, and their size, mm."""
    if count > 8:
        return [(222 + 56 * (k % 5), 108 + 99 * (k // 5)) for k in range(count)], (42, 62)
    if count > 4:
        return [(229 + 69 * (k % 4), 133 + 139 * (k // 4)) for k in range(count)], (51, 80)
    return [(229 + 69 * k, 198) for k in range(count)], (51, 80)


def render(photo: tiles.Photo) -> tuple[np.ndarray, list[Drawn], np.ndarray]:
    """Render one photo.

    Returns
    -------
    (h, w, 3) uint8
        The photo, RGB, before it is written as JPEG.
    list of Drawn
        Its zones, corners in scene mm.
    (3, 3) float
        Map from scene mm to photo pixels.
    """
    rng = np.random.default_rng([2026, photo.seed])
    bench = Bench(lights()[photo.light], rng)
    draw_chart(bench, CHART_AT, rng)
    drawn: list[Drawn] = []
    if photo.tiles:
        places, size = _places(len(photo.tiles))
        for tile, (x, y) in zip(photo.tiles, places, strict=True):
            at = (x + rng.uniform(-2, 2), y + rng.uniform(-2, 2))
            bench.write(tile.name, (x - 8, y + size[1] / 2 + 13))
            drawn += draw_tile(bench, tile, at, size, rng)
    else:
        drawn += draw_board(bench, (320, 208), (120, 190), rng)
    raw, to_photo = bench.shoot(photo.tilt_deg)
    return develop(raw, rng), drawn, to_photo


def jpeg_bytes(rgb: np.ndarray) -> bytes:
    """The photo as JPEG, as a phone writes it, with a note that it is invented."""
    from PIL import Image

    out = io.BytesIO()
    Image.fromarray(rgb).save(out, "JPEG", quality=QUALITY, subsampling="4:2:0", optimize=True, comment=tiles.NOTE)
    return out.getvalue()


def zones_json(drawn: list[Drawn], to_photo: np.ndarray) -> dict[str, object]:
    """The zones file of the public interface, whole pixels as a hand would place them."""
    zones = []
    for zone in drawn:
        points = cv2.perspectiveTransform(zone.corners[None].astype(np.float64), to_photo)[0]
        points = np.clip(np.rint(points), 0, np.array(SIZE) - 1).astype(int)
        zones.append({"zone": zone.zone, "polygon": points.tolist()})
    return {"zones": zones}


def _truth_of(photo: tiles.Photo, drawn: list[Drawn]) -> list[dict[str, object]]:
    parts = {f"{tile.name} {zone.name}": (tile, zone) for tile in photo.tiles for zone in tile.zones}
    cones = {firing.name: firing.cone for firing in tiles.FIRINGS}
    rows: list[dict[str, object]] = []
    for spot in drawn:
        row: dict[str, object] = {"photo": photo.name, "zone_in_photo": spot.zone}
        row["lab"] = [round(float(v), 3) for v in spot.lab]
        if spot.zone in parts and parts[spot.zone][0].stage == "fired":
            tile, zone = parts[spot.zone]
            expected = true_lab(zone.layers, tile.body, cones[tile.firing])
            row["expected"] = [round(v, 3) for v in expected]
        rows.append(row)
    return rows


def make(folder: Path) -> None:
    """Write the whole demo studio into `folder`."""
    write_tables(folder)
    truth: list[dict[str, object]] = []
    for photo in tiles.PHOTOS:
        rgb, drawn, to_photo = render(photo)
        (folder / photo.name).write_bytes(jpeg_bytes(rgb))
        zones = json.dumps(zones_json(drawn, to_photo))
        (folder / photo.name.replace(".jpg", ".zones.json")).write_text(zones.replace("}, {", "},\n {") + "\n")
        truth += _truth_of(photo, drawn)
    whole = {
        "note": tiles.NOTE + " For tests only: the program never reads this file.",
        "zones": truth,
        "card_as_printed": np.round(chart_lab_as_printed(), 3).tolist(),
    }
    (folder / "truth.json").write_text(json.dumps(whole).replace("}, {", "},\n {") + "\n")


if __name__ == "__main__":
    make(Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).parent)
