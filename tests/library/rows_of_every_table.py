"""A few rows of every table that can be brought in, every field of them said somewhere."""

from __future__ import annotations

import dataclasses

from swatch.terms.buttons import ButtonReading
from swatch.terms.colour import Covariance, Lab
from swatch.terms.cone import Cone, parse_cone
from swatch.terms.editions import EditionRegion, PieceReading, RegionKind, Role, Tallied, Tally, Weighed, Weighing
from swatch.terms.evidence import Sheen, Stage, ZoneReading
from swatch.terms.layering import parse_layers
from swatch.terms.materials import BareBody, Firing, Jar, Kind, Material, Status, WitnessCone

COVARIANCE = Covariance(0.5, 0.01, 0.02, 0.4, 0.03, 0.6)


def every(kind: type) -> frozenset[str]:
    return frozenset(field.name for field in dataclasses.fields(kind))


MATERIALS = [
    Material("Bramling clear", Kind.CLEAR, left_g=400.0, cone_from=Cone(5.0), cone_to=Cone(7.0)),
    Material(
        "Sedgewater",
        Kind.UNDERGLAZE,
        Status.DISCONTINUED,
        left_g=None,
        cone_from=parse_cone("06"),
        cone_to=parse_cone("6"),
        food_label=False,
        food_label_cone=parse_cone("5½"),
        density_g_per_ml=1.45,
        raw=Lab(40.5, -3.25, 12.0),
        raw_state="dry",
    ),
    Material("Tindle wash"),
]
BODIES = [BareBody("Pale ston", Cone(6.0), Lab(88, 1, 9)), BareBody("Pale ston", Cone(-5.0))]
FIRINGS = [
    Firing(
        "F1",
        "2027-03-02",
        Cone(6.0),
        None,
        None,
        None,
        Cone(5.8),
        "normal",
        "oxidation",
        "Back room",
        "lid lifted",
    ),
    Firing("F2", peak_c=1222.0, rate_c_per_h=60.0, hold_min=10.0),
]
WITNESSES = [WitnessCone("F1", "bottom", Cone(5.5)), WitnessCone("F1", "top", Cone(6.25))]
READINGS = [
    ZoneReading("C1", "", Lab(9, 5, 5), COVARIANCE, Stage.MAKER, 1, None, parse_layers("Sedgewater"), Cone(6.0)),
    ZoneReading(
        "T1",
        "A",
        Lab(50.125, -3.5, 22.75),
        COVARIANCE,
        body="Pale ston",
        layers=parse_layers("Sedgewater*2 > Bramling clear"),
        cone=Cone(6.0),
        firing="F1",
        shelf="top",
        session="Tuesday",
        method="brushed",
        lot="L7",
        sheen=Sheen.SATIN,
        faults=("crawled", "dry"),
    ),
    ZoneReading(
        "T1", "B", Lab(50, -3, 22), COVARIANCE, body="Pale ston", layers=parse_layers("Tindle wash (wiped)"),
        cone=Cone(6.0), firing="F1", shelf="top",
    ),
    ZoneReading("T1", "B", Lab(51, -3, 22), COVARIANCE, reading=2, body="Pale ston",
        layers=parse_layers("Tindle wash (wiped)"), cone=Cone(6.0), firing="F1", shelf="top", session="Tuesday"),
    ZoneReading("T2", "", Lab(20, 0, 0), COVARIANCE, cone=Cone(-4.0), lot="clay 3", body="Pale ston"),
    ZoneReading("T2", "", Lab(20, 0, 1), COVARIANCE, stage=Stage.RAW, body="Pale ston", lot="clay 3"),
]  # fmt: skip
EDITIONS = [
    EditionRegion("Shore", "in", 40, 0.8, "Pale ston", Cone(6.0), RegionKind.INSIDE, 2.5,
        parse_layers("Bramling clear*2"), 3.5),
    EditionRegion("Shore", "out", 40, 0.8, "Pale ston", Cone(6.0), RegionKind.OUTSIDE, 4.5,
        parse_layers("Sedgewater > Bramling clear*2"), 3.5),
]  # fmt: skip
PIECES = [
    PieceReading(
        "Shore", "p1", "in", Lab(50, 1, 1), COVARIANCE, 1, "F1", "top", "left", Role.APPROVED, "Tuesday", "L7"
    ),
    PieceReading("Shore", "p2", "in", Lab(51, 1, 1), COVARIANCE, 1, "F1", "top", clay_lot="C3"),
]
BUTTONS = [
    ButtonReading(
        "b1",
        "1",
        Lab(40, 3, 3),
        COVARIANCE,
        1,
        "Pale ston",
        parse_layers("Sedgewater"),
        "F1",
        "top",
        "Tuesday",
        False,
    ),
    ButtonReading("kept", "1", Lab(41, 3, 3), COVARIANCE, kept=True),
    ButtonReading("kept", "1", Lab(41, 3, 4), COVARIANCE, 2, session="Tuesday", kept=True),
]
WEIGHINGS = [
    Weighing("Bramling clear", "2027-03-01T10:00", "L7", 900.0, 860.5, 4.5, 2, 2.0, "brushed"),
    Weighing("Bramling clear", "2027-03-02"),
    Weighing("Bramling clear", "2027-03-03", None, 310.0, 322.5, 2.5, 1, 1.0, "sprayed", Weighed.PIECE),
]
JARS = [Jar("Yarrow slip", "", "L1", 120.0, 40.0), Jar("Yarrow slip", "left", "L2", 300.5, 41.0, "2027-03-01")]
COUNTS = [
    Tally("Shore", "2027-03-01", Tallied.MADE, 44),
    Tally("Shore", "2027-03-02", Tallied.FIRED, 40, "F1"),
    Tally("Shore", "2027-03-03", Tallied.GOOD, 37, "F1"),
]
ALL = (
    ("put_materials", MATERIALS),
    ("put_bodies", BODIES),
    ("put_firings", FIRINGS),
    ("put_witnesses", WITNESSES),
    ("put_readings", READINGS),
    ("put_editions", EDITIONS),
    ("put_pieces", PIECES),
    ("put_buttons", BUTTONS),
    ("put_weighings", WEIGHINGS),
    ("put_jars", JARS),
    ("put_tallies", COUNTS),
)
