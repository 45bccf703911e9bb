"""A second edition of the invented studio, with loads fired after it was approved: one of them drifted.

Colours come as a table, as a potter would bring in pieces measured elsewhere. The last firing was hot; its pieces,
its buttons and nothing else moved. `python -m demo_tiles.edition_held` writes the tables anew.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np

from demo_tiles.physics import parse, true_lab
from demo_tiles.tables import HELD_EDITION, csv_bytes

EDITION, BODY, CONE = HELD_EDITION, "Palebank", 6.0
PLANNED, SHARE_GOOD, TOLERANCE = 120, 0.8, 3.5
REGIONS = (
    ("inside", "inside", 1.9, "Plainpane clear*2"),
    ("neck", "lip", 0.5, "Quernstone red*2 > Plainpane clear*2"),
    ("outside", "outside", 2.6, "Thrapple rose*2 > Plainpane clear*2"),
)
STRIPES = (
    ("1", "Thrapple rose*2 > Plainpane clear*2"),
    ("2", "Quernstone red*2 > Plainpane clear*2"),
    ("3", "Haywain ochre*2 > Plainpane clear*2"),
    ("4", "Pailwash white*2 > Plainpane clear*2"),
    ("5", "Gantry black*2"),
    ("6", "Weirhouse blue*2"),
)
# Firing, date, pieces approved, pieces checked, cones off what was asked.
FIRINGS = (
    ("F-14", "2026-07-18", 5, 0, 0.05),
    ("F-15", "2026-07-25", 5, 0, -0.08),
    ("F-16", "2026-08-01", 5, 0, 0.02),
    ("F-17", "2026-08-08", 5, 0, 0.06),
    ("F-18", "2026-08-29", 0, 6, -0.05),
    ("F-19", "2026-09-12", 0, 6, 0.07),
    ("F-20", "2026-09-26", 0, 6, 0.90),
)
COUNTS = {"F-14": (9, 8), "F-15": (12, 10), "F-16": (12, 9), "F-17": (10, 8), "F-18": (14, 11), "F-19": (12, 10),
          "F-20": (14, 10)}  # fmt: skip
"""Pieces that each firing held of the edition, and how many of them were good: more than were measured."""
SHELVES = (("top", 0.05), ("middle", 0.0), ("bottom", -0.05))
LADDER = (("F-11", 6.1), ("F-12", 4.9), ("F-13", 6.2))
"""Firings of the test tiles that buttons were in too, at cones that witness cones told."""
KEPT_READINGS = 6
U = 1.0


def _lab(layers: str, cone: float) -> np.ndarray:
    return np.array(true_lab(parse(layers), BODY, cone))


def _numbers(lab: np.ndarray) -> list[str]:
    return [f"{v:.2f}" for v in lab]


def _buttons(
    firing: str, cone: float, session: str, camera: np.ndarray, rng: np.random.Generator
) -> list[list[object]]:
    """Rows of a firing's three buttons, and of the kept one beside them."""
    rows: list[list[object]] = []
    for shelf, more in SHELVES:
        for stripe, layers in STRIPES:
            read = _lab(layers, cone + more) + camera + rng.normal(0, 0.45, 3)
            rows.append(
                [f"{firing} {shelf}", stripe, 1, BODY, layers, firing, shelf, *_numbers(read), U, session, "no"]
            )
    for stripe, layers in STRIPES:
        read = _lab(layers, CONE) + camera + rng.normal(0, 0.4, 3)
        rows.append(["kept button", stripe, 0, BODY, layers, "", "", *_numbers(read), U, session, "yes"])
    return rows


def tables() -> dict[str, bytes]:
    """File name to bytes of every table of the second edition."""
    rng = np.random.default_rng(1207)
    pieces: list[list[object]] = []
    buttons: list[list[object]] = []
    number, kept_read = 0, 0
    kept_colours: dict[str, np.ndarray] = {}
    for firing, _, approved, checked, off in FIRINGS:
        session = f"table {firing}"
        camera = rng.normal(0, 0.7, 3)
        own = {region: rng.normal(0, 0.25, 3) for region, *_ in REGIONS}
        for k in range(approved + checked):
            number += 1
            shelf, more = SHELVES[k % 3]
            cone = CONE + off + more + rng.normal(0, 0.03)
            shared = rng.normal(0, 0.6, 3)
            for region, _, _, layers in REGIONS:
                own_colour = _lab(layers, cone) + shared + rng.normal(0, 0.5, 3)
                if number == 1:
                    kept_colours[region] = own_colour
                read = own_colour + camera + own[region] + rng.normal(0, 0.4, 3)
                role = "approved" if approved else "piece"
                pieces.append([EDITION, f"L{number:02d}", firing, shelf, region, *_numbers(read), U, role,
                               1, session])  # fmt: skip
        if firing != FIRINGS[0][0]:
            for again in range(KEPT_READINGS):
                for region, *_ in REGIONS:
                    read = kept_colours[region] + camera + own[region] + rng.normal(0, 0.4, 3)
                    pieces.append([EDITION, "L01", FIRINGS[0][0], SHELVES[0][0], region, *_numbers(read), U,
                                   "approved", 2 + kept_read + again, session])  # fmt: skip
            kept_read += KEPT_READINGS
        buttons += _buttons(firing, CONE + off, session, camera, rng)
    for firing, cone in LADDER:
        buttons += _buttons(firing, cone, f"table {firing}", rng.normal(0, 0.7, 3), rng)
    for number, (firing, *_) in enumerate([*LADDER, *FIRINGS], 1):
        for row in buttons:
            if row[0] == "kept button" and row[-2] == f"table {firing}":
                row[2] = number
    return {
        "held_firings.csv": csv_bytes(
            ("firing", "date", "cone_asked", "cooling", "atmosphere", "kiln"),
            [(firing, date, "6", "normal", "oxidation", "top-loader") for firing, date, *_ in FIRINGS],
        ),
        "held_editions.csv": csv_bytes(
            ("edition", "planned", "yield", "body", "cone", "region", "region_kind", "area_dm2", "layers",
             "tolerance"),
            [(EDITION, PLANNED, SHARE_GOOD, BODY, "6", region, kind, area, layers, TOLERANCE)
             for region, kind, area, layers in REGIONS],
        ),
        "held_pieces.csv": csv_bytes(
            ("edition", "piece", "firing", "shelf", "region", "L", "a", "b", "u", "role", "reading", "session"),
            pieces,
        ),
        "held_counts.csv": csv_bytes(
            ("edition", "at", "what", "count", "firing"),
            [(EDITION, date, what, COUNTS[firing][k], firing)
             for firing, date, *_ in FIRINGS for k, what in enumerate(("fired", "good"))],
        ),
        "held_buttons.csv": csv_bytes(
            ("button", "stripe", "reading", "body", "layers", "firing", "shelf", "L", "a", "b", "u", "session",
             "kept"),
            buttons,
        ),
    }  # fmt: skip


if __name__ == "__main__":
    for name, data in tables().items():
        (Path(__file__).parent / name).write_bytes(data)
