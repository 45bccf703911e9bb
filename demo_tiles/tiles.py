"""What the invented studio made: firings, tiles with their zones, editions, and the photos they lie in."""

from __future__ import annotations

from dataclasses import dataclass

from demo_tiles.physics import parse, surface_of
from demo_tiles.studio import DISCONTINUED, MATERIALS

STUDIO = "Orrowick Shed"
NOTE = "Invented: no such studio, materials or pieces exist. Photos are rendered; nothing here was fired."

GB, PW, QR, HO, WB, NG, TR = (name for name, stuff in MATERIALS.items() if stuff.kind == "underglaze")
PC, SV, OF, AL, CI, LD, CH, CO = (name for name, stuff in MATERIALS.items() if stuff.kind != "underglaze")
PALE, DUN = "Palebank", "Dunbank"

Rect = tuple[float, float, float, float]
"""Left, top, right, bottom as shares of the tile."""


@dataclass(frozen=True)
class FiringPlan:
    """One firing: the cone asked, and what the kiln really did (cones more or less) in all and on each shelf."""

    name: str
    date: str
    cone: str
    offset: float
    shelves: dict[str, float]
    cooling: str = "normal"


FIRINGS = (
    FiringPlan("F-11", "2026-05-16", "6", 0.10, {"top": 0.08, "middle": 0.0, "low": -0.12}),
    FiringPlan("F-12", "2026-06-06", "5", -0.12, {"top": 0.10, "middle": 0.02, "low": -0.10}),
    FiringPlan("F-13", "2026-06-27", "6", 0.22, {"top": 0.06, "middle": -0.03, "low": -0.14}),
    FiringPlan("F-21", "2026-10-10", "6", -0.06, {"top": 0.07, "middle": 0.01, "low": -0.11}),
    FiringPlan("F-22", "2026-10-17", "6", 0.09, {"top": 0.09, "middle": -0.02, "low": -0.10}),
    FiringPlan("F-23", "2026-10-24", "6", 0.04, {"top": 0.08, "middle": 0.0, "low": -0.13}),
)


@dataclass(frozen=True)
class Zone:
    """A part of a tile with its own layers, as the public interface writes them."""

    name: str
    rect: Rect
    layers: str


@dataclass(frozen=True)
class Tile:
    """A test tile, a chip with a smear of raw material, or a bare piece of a body."""

    name: str
    body: str
    zones: tuple[Zone, ...]
    firing: str = ""
    shelf: str = ""
    stage: str = "fired"
    faults: str = ""

    def sheen(self, zone: Zone) -> str:
        """Sheen of a fired zone as a potter taps it at unpacking; empty for raw ones."""
        surface = surface_of(parse(zone.layers))
        return "" if self.stage == "raw" else {"bare": "matt"}.get(surface, surface)


def _write(*layers: tuple[str, int]) -> str:
    return " > ".join(name if coats == 1 else f"{name}*{coats}" for name, coats in layers)


def _rows(*layers: str) -> tuple[Zone, ...]:
    """Zones one above the other, A on top."""
    n = len(layers)
    return tuple(Zone("ABCD"[k], (0, k / n, 1, (k + 1) / n), text) for k, text in enumerate(layers))


def _step(material: str) -> tuple[Zone, ...]:
    """Three, two and one coats, thickest at the top."""
    return _rows(*(_write((material, coats)) for coats in (3, 2, 1)))


def _under_clear(underglaze: str) -> tuple[Zone, ...]:
    return _rows(_write((underglaze, 3)), _write((underglaze, 3), (PC, 1)), _write((underglaze, 1), (PC, 1)))


def _over(glaze: str, coats: int, *bases: str) -> tuple[Zone, ...]:
    return _rows(*(_write((base, 2), (glaze, coats)) for base in bases))


def _crossed(one: str, n: int, other: str, m: int) -> tuple[Zone, ...]:
    """A, B, A over B, B over A in the four quarters."""
    return (
        Zone("A", (0, 0, 0.5, 0.5), _write((one, n))),
        Zone("B", (0.5, 0, 1, 0.5), _write((other, m))),
        Zone("C", (0, 0.5, 0.5, 1), _write((other, m), (one, n))),
        Zone("D", (0.5, 0.5, 1, 1), _write((one, n), (other, m))),
    )


def _load(firing: str, first: int, *made: tuple[str, tuple[Zone, ...]]) -> tuple[Tile, ...]:
    shelves = ("top", "middle", "low")
    return tuple(
        Tile(f"T{first + k:02d}", body, zones, firing, shelves[k % 3]) for k, (body, zones) in enumerate(made)
    )


@dataclass(frozen=True)
class Photo:
    """One photo: what lies in it, whose light, and how the phone was held."""

    name: str
    tiles: tuple[Tile, ...]
    session: str
    light: str
    tilt_deg: float
    seed: int


PHOTOS = (
    Photo("f11_underglazes.jpg", _load("F-11", 1,
        (PALE, _under_clear(GB)), (DUN, _under_clear(PW)), (PALE, _under_clear(QR)), (DUN, _under_clear(HO)),
        (PALE, _under_clear(WB)), (PALE, _under_clear(NG)), (PALE, _under_clear(TR)), (DUN, _step(PC)),
    ), "S-1", "lamp", 1.3, 1),
    Photo("f11_glazes.jpg", _load("F-11", 9,
        (PALE, _step(OF)), (DUN, _step(OF)), (PALE, _step(AL)), (PALE, _step(CO)),
        (PALE, _step(LD)), (PALE, _step(CI)), (PALE, _step(CH)), (PALE, _step(SV)),
    ), "S-1", "lamp", -0.8, 2),
    Photo("f12_glazes.jpg", _load("F-12", 17,
        (DUN, _step(AL)), (DUN, _step(CO)), (DUN, _step(SV)), (DUN, _step(CH)),
        (PALE, _step(OF)), (DUN, _step(LD)), (PALE, _crossed(CO, 2, AL, 1)), (PALE, _crossed(NG, 2, AL, 1)),
    ), "S-2", "daylight", 2.1, 3),
    Photo("f12_layers.jpg", _load("F-12", 25,
        (PALE, _rows(_write((QR, 3)), _write((QR, 3), (PC, 1)))),
        (PALE, _rows(_write((WB, 3)), _write((WB, 3), (PC, 1)))),
        (DUN, _rows(_write((HO, 3), (PC, 1)), _write((PW, 3), (PC, 1)))),
        (PALE, _rows(_write((TR, 3), (PC, 1)), _write((NG, 3), (PC, 1)))),
        (PALE, _over(OF, 2, PW, QR)), (DUN, _rows(_write((CI, 2)), _write((OF, 2)))),
        (PALE, _over(CH, 2, WB, GB)), (PALE, _over(SV, 2, WB, GB)),
    ), "S-2", "daylight", -1.6, 4),
    Photo("f13_over_underglazes.jpg", _load("F-13", 33,
        (PALE, _over(OF, 2, GB, PW, WB)), (PALE, _over(AL, 2, GB, PW, WB)), (PALE, _over(CO, 2, GB, PW, QR)),
        (PALE, _over(LD, 2, GB, PW, HO)), (PALE, _over(SV, 2, GB, WB, NG)), (PALE, _over(CH, 1, GB, WB, QR)),
        (PALE, _over(CI, 1, GB, PW)), (DUN, _over(PC, 2, GB, HO)),
    ), "S-3", "lamp", 0.9, 5),
    Photo("f13_crossed.jpg", _load("F-13", 41,
        (PALE, _crossed(CO, 1, AL, 1)), (DUN, _crossed(AL, 2, CO, 1)), (PALE, _crossed(NG, 1, AL, 2)),
        (DUN, _crossed(LD, 1, AL, 2)), (DUN, _crossed(SV, 1, AL, 1)),
        (DUN, _rows(_write((HO, 2), (OF, 2)), _write((OF, 2)))),
        (PALE, _crossed(CH, 1, PC, 1)),
        (DUN, _rows(*(_write(base, (CO, 1), (AL, 1)) for base in ((GB, 2), (QR, 1))), _write((NG, 1), (AL, 2)))),
    ), "S-3", "lamp", -2.0, 6),
    Photo("f21_in_its_place.jpg", _load("F-21", 49,
        (PALE, _rows(_write((GB, 1), (NG, 2), (AL, 1)))), (DUN, _rows(_write((HO, 1), (LD, 1), (AL, 2)))),
        (DUN, _rows(_write((NG, 1), (AL, 3)))), (PALE, _rows(_write((WB, 1), (NG, 1), (AL, 1)))),
        (DUN, _rows(_write((LD, 1), (PC, 1), (AL, 2)))), (PALE, _rows(_write((WB, 1), (NG, 1), (AL, 2)))),
        (PALE, _rows(_write((CI, 1), (NG, 1), (PC, 2)))), (DUN, _rows(_write((PW, 1), (LD, 1), (AL, 2)))),
    ), "S-6", "daylight", 1.5, 10),
    Photo("f22_in_its_place.jpg", _load("F-22", 57,
        (PALE, _rows(_write((GB, 2), (NG, 1), (AL, 1)))), (DUN, _rows(_write((LD, 1), (AL, 3)))),
        (DUN, _rows(_write((WB, 1), (SV, 1), (AL, 2)))), (PALE, _rows(_write((WB, 2), (NG, 1), (AL, 1)))),
        (DUN, _rows(_write((WB, 1), (PC, 1), (AL, 2)))), (PALE, _rows(_write((CI, 2), (NG, 1), (AL, 1)))),
        (DUN, _rows(_write((GB, 1), (NG, 1), (AL, 2)))), (PALE, _rows(_write((QR, 1), (NG, 1), (PC, 2)))),
    ), "S-7", "lamp", -1.2, 11),
    Photo("f23_in_its_place.jpg", _load("F-23", 65,
        (PALE, _rows(_write((WB, 1), (NG, 2), (AL, 1)))), (DUN, _rows(_write((LD, 1), (SV, 1), (AL, 2)))),
        (DUN, _rows(_write((PC, 1), (LD, 1), (AL, 2)))), (PALE, _rows(_write((GB, 1), (NG, 1), (AL, 1)))),
        (DUN, _rows(_write((NG, 1), (AL, 2), (PC, 1)))), (PALE, _rows(_write((NG, 2), (PC, 1), (AL, 1)))),
        (DUN, _rows(_write((LD, 1), (AL, 2), (PC, 1)))), (PALE, _rows(_write((NG, 3), (AL, 1)))),
    ), "S-8", "daylight", 0.8, 12),
    Photo("raw_smears.jpg", tuple(
        Tile(f"R{k:02d}", PALE, (Zone("A", (0, 0, 1, 1), name),), stage="raw")
        for k, name in enumerate(MATERIALS, start=1)
    ), "S-4", "daylight", 1.1, 7),
    Photo("bare_bodies.jpg", tuple(
        Tile(f"B{k:02d}", body, (Zone("A", (0, 0, 1, 1), ""),), firing, "middle")
        for k, (body, firing) in enumerate(((PALE, "F-11"), (DUN, "F-11"), (PALE, "F-12"), (DUN, "F-12")), start=1)
    ), "S-4", "daylight", -0.7, 8),
    Photo("reference_shutter.jpg", (), "S-5", "lamp", 1.7, 9),
)  # fmt: skip

REFERENCE = {"photo": "reference_shutter.jpg", "zone": "shutter", "body": PALE, "cone": "6"}
REFERENCE_LAB = (66.5, -4.6, -7.0)
"""The paint of the old window shutter that the next pieces are to match."""


@dataclass(frozen=True)
class Region:
    """One region of an edition's pieces."""

    edition: str
    planned: int
    share_good: float
    body: str
    cone: str
    region: str
    kind: str
    area_dm2: float
    layers: str


EDITION = "Eavesline wall vase"
SMALL_EDITION = "Eavesline niche vase"
REGIONS = (
    Region(EDITION, 140, 0.78, PALE, "6", "front", "outside", 6.8, _write((OF, 2))),
    Region(EDITION, 140, 0.78, PALE, "6", "shoulder", "lip", 1.5, _write((PW, 2), (OF, 2))),
    Region(EDITION, 140, 0.78, PALE, "6", "inside", "inside", 6.1, _write((PC, 2))),
    Region(EDITION, 140, 0.78, PALE, "6", "back and foot", "foot", 3.4, ""),
    Region(SMALL_EDITION, 60, 0.81, DUN, "6", "front", "outside", 3.9, _write((OF, 2))),
    Region(SMALL_EDITION, 60, 0.81, DUN, "6", "neck", "lip", 0.8, _write((HO, 2), (OF, 2))),
    Region(SMALL_EDITION, 60, 0.81, DUN, "6", "inside", "inside", 3.2, _write((SV, 2))),
)


def discontinued_uses() -> tuple[tuple[str, str, str], ...]:
    """(layers, body, cone) of every region that holds the discontinued glaze."""
    return tuple((r.layers, r.body, r.cone) for r in REGIONS if DISCONTINUED in r.layers)
