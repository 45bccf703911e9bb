"""The eight tables: columns, keys, what is given, and each spoiling of a cell refused with its row."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swatch.formats import tables
from swatch.formats.readings_out import write_tiles
from swatch.formats.tables import NOT_SAID, WithDoubt
from swatch.terms.colour import Covariance, Lab
from swatch.terms.cone import Cone
from swatch.terms.editions import RegionKind, Role
from swatch.terms.evidence import FAULTS, Sheen, Stage, ZoneReading
from swatch.terms.layering import Layer, fold_name
from swatch.terms.materials import Kind, Status
from swatch.terms.problems import StudioProblem
from swatch.terms.problems.files import all_of

TILES = b"tile,zone,stage,layers,body,cone,L,a,b\n"


def refused(reader, data: bytes) -> StudioProblem:
    with pytest.raises(StudioProblem) as caught:
        reader(data, "f.csv")
    return caught.value


def test_materials_are_read_whole():
    table = tables.read_materials(
        b"Material,kind,status,left_g,cone_from,cone_to,food_label,food_label_cone,density_g_per_ml,"
        b"raw_L,raw_a,raw_b,raw_state,shop\n"
        b"Tarn  Blue,Glaze,Discontinued,120.5,5,6,yes,6,1.45,40,-3,-22.5,wet,corner\n"
        b"Rill,,,,,,,,,,,,,\n",
        "m.csv",
    )
    tarn, rill = table.rows
    assert (tarn.name, tarn.kind, tarn.status) == ("Tarn Blue", Kind.GLAZE, Status.DISCONTINUED)
    assert (tarn.left_g, tarn.cone_from, tarn.food_label) == (120.5, Cone(5.0), True)
    assert (tarn.raw, tarn.raw_state) == (Lab(40, -3, -22.5), "wet")
    assert (rill.kind, rill.status, rill.raw, rill.food_label) == (None, Status.IN_STOCK, None, None)
    assert table.unknown_columns == ("shop",)
    assert [notice.code for notice in table.notices] == ["columns-not-used"]
    assert table.row_numbers == (2, 3)


def test_given_names_only_the_fields_the_header_speaks_of():
    assert tables.read_materials(b"material,left_g\nRill,3\n", "m").given == {"name", "left_g"}
    tiles = tables.read_tiles(b"tile,zone,L,a,b,u\nT1,A,50,0,0,1.2\n", "t")
    assert tiles.given == {"tile", "zone", "lab", "covariance"}
    assert tiles.rows[0].u == 1.2
    assert tiles.rows[0].value.covariance == NOT_SAID
    assert tables.read_editions(b"edition,region,yield\nE,lip,.8\n", "e").given == {
        "edition", "region", "yield_share",
    }  # fmt: skip


def test_the_other_tables_are_read():
    assert tables.read_bodies(b"body,cone,L,a,b\nPale,06,90,0,5\nPale,6,,,\n", "b").rows[1].lab is None
    firing = tables.read_firings(
        b"firing,date,peak_c,rate_c_per_h,hold_min,cone_reached,cooling\nF1,2027-02-11,1222,60,10,5.8,slow\n", "f"
    ).rows[0]
    assert (firing.name, firing.cone_asked, firing.cone_reached, firing.cooling) == ("F1", None, Cone(5.8), "slow")
    assert tables.read_witness(b"firing,shelf,cone_reached\nF1,top,5\xc2\xbd\n", "w").rows[0].cone_reached == Cone(
        5.5
    )
    edition = tables.read_editions(b"edition,region,region_kind,layers\nE1,Well,inside,A*2 > B\n", "e").rows[0]
    assert (edition.region_kind, edition.layers) == (RegionKind.INSIDE, (Layer("A", 2), Layer("B")))
    piece = tables.read_pieces(b"edition,piece,region,L,a,b,role\nE1,p1,Well,50,1,2,approved\n", "p").rows[0]
    assert (piece.value.role, piece.value.reading, piece.u) == (Role.APPROVED, 1, None)
    weighing = tables.read_weighings(b"material,at,before_g,coats\nRill,2027-02-11 09:30,400,1.5\n", "w").rows[0]
    assert (weighing.at, weighing.coats) == ("2027-02-11T09:30", 1.5)


@pytest.mark.parametrize(
    ("cells", "code"),
    [
        (b"T2,A,fired,Rill,Pale,O6,50,0,0", "bad-cone"),
        (b"T2,A,fired,Rill,Pale,6.0,50,0,0", "bad-cone"),
        (b"T2,A,fired,Rill,Pale,06.5,50,0,0", "bad-cone"),
        (b"T2,A,fired,Rill,Pale,06-Jun,50,0,0", "bad-cone"),
        (b"T2,A,fired,Rill,Pale,2027-06-05,50,0,0", "bad-cone"),
        (b'T2,A,fired,Rill,Pale,6,"50,3",0,0', "decimal-comma"),
        (b"T2,A,fired,Rill,Pale,6,50,3,0,0", "too-many-cells"),
        (b"T2,A,fired,Rill,Pale,6,5o,0,0", "bad-number"),
        (b"T2,A,fired,Rill,Pale,6,nan,0,0", "bad-number"),
        (b"T2,A,fired,Rill,Pale,6,500,0,0", "out-of-range"),
        (b"T2,A,fired,Rill,Pale,6,,0,0", "no-value"),
        (b"T2,,fired,Rill,Pale,6,50,0,0", "no-value"),
        (b"T2,A,glazed,Rill,Pale,6,50,0,0", "unknown-word"),
        (b"T2,A,fired,Rill > ,Pale,6,50,0,0", "bad-layers"),
        (b"T1,A,fired,Rill,Pale,6,51,0,0", "same-row-twice"),
    ],
)
def test_a_spoilt_cell_is_refused_with_its_row_and_nothing_is_guessed(cells, code):
    good = b"T1,A,fired,Rill*2 > Clear,Pale,06,50,0,0\n"
    problem = refused(tables.read_tiles, TILES + good + cells + b"\n")
    assert (problem.code, problem.where.file, problem.where.row) == (code, "f.csv", 3)


def test_every_bad_row_is_named():
    rows = b"T1,A,fired,Rill,Pale,O6,50,0,0\nT2,A,fired,Rill,Pale,6,50,0,0\nT3,A,fired,,,6.0,50,0,0\n"
    problems = all_of(refused(tables.read_tiles, TILES + rows))
    assert [(problem.code, problem.where.row) for problem in problems] == [("bad-cone", 2), ("bad-cone", 4)]


def test_the_same_row_twice_is_one_row():
    row = b"T1,A,fired,Rill,Pale,06,50,0,0\n"
    assert len(tables.read_tiles(TILES + row + row, "t").rows) == 1


@pytest.mark.parametrize(
    ("reader", "data", "code"),
    [
        (tables.read_materials, b"material\n\"A, B\"\nA > B\n", "bad-name"),
        (tables.read_materials, b"material,raw_L\n\nRill,50\n", "half-a-colour"),
        (tables.read_materials, b"material,cone_from,cone_to\n\nRill,6,04\n", "cones-reversed"),
        (tables.read_materials, b"material,food_label\n\nRill,maybe\n", "unknown-word"),
        (tables.read_bodies, b"body,cone,L,a,b\n\nPale,6,50,,0\n", "half-a-colour"),
        (tables.read_firings, b"firing,date\n\nF1,11/02/2027\n", "bad-date"),
        (tables.read_firings, b"firing,date\n\nF1,2027-02-30\n", "bad-date"),
        (tables.read_editions, b"edition,region,planned\n\nE1,lip,2.5\n", "bad-number"),
        (tables.read_editions, b"edition,region,yield\n\nE1,lip,85\n", "out-of-range"),
        (tables.read_weighings, b"material,at\n\nRill,yesterday\n", "bad-date"),
        (tables.read_pieces, b"edition,piece,region,L,a,b,u\n\nE1,p,lip,1,2,3,0\n", "out-of-range"),
    ],
)  # fmt: skip
def test_other_tables_refuse_with_the_row(reader, data, code):
    problem = refused(reader, data)
    assert (problem.code, problem.where.row) == (code, 3)


def test_a_missing_column_is_named_with_its_table():
    problem = refused(tables.read_tiles, b"tile,zone,L,a\nT1,A,1,2\n")
    assert (problem.code, problem.facts) == ("missing-column", {"column": "b", "table": "tiles"})


def test_a_header_alone_is_a_warning():
    table = tables.read_bodies(b"body,cone\n", "b.csv")
    assert (table.rows, [notice.code for notice in table.notices]) == ((), ["no-rows"])


def test_a_firing_s_log_is_read_in_the_order_of_time():
    assert tables.read_firing_log(b"celsius,minutes\n20,0\n61.5,30\n", "l").rows == ((0, 20), (30, 61.5))
    problem = refused(tables.read_firing_log, b"minutes,celsius\n0,20\n30,60\n10,40\n")
    assert (problem.code, problem.where.row) == ("log-not-in-order", 4)


NAMES = (
    st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cs", "Zl", "Zp"]), min_size=1, max_size=20)
    .map(lambda text: " ".join(text.split()))
    .filter(bool)
)
MATERIALS = NAMES.map(lambda text: " ".join(text.translate({ord(c): None for c in ">*()"}).split())).filter(bool)
COATS = st.sampled_from([0.5, 1.0, 1.5, 2.0, 3.0])
LAYERINGS = (
    st.lists(
        st.builds(Layer, MATERIALS, COATS, st.booleans()), max_size=3, unique_by=lambda x: fold_name(x.material)
    )
).map(tuple)
COLOURS = st.builds(
    Lab,
    st.integers(0, 1_000_000).map(lambda n: n / 1e4),
    st.integers(-1_200_000, 1_200_000).map(lambda n: n / 1e4),
    st.integers(-1_200_000, 1_200_000).map(lambda n: n / 1e4),
)
_SHARE = st.integers(-999, 999).map(lambda n: n / 1000)
COVARIANCES = st.builds(
    lambda d, e, f, x, y, z: Covariance(d * d, d * x, d * y, x * x + e * e, x * y + e * z, y * y + z * z + f * f),
    *[st.integers(100, 9999).map(lambda n: n / 1000)] * 3,
    *[_SHARE] * 3,
).map(lambda c: Covariance(*(float(f"{entry:.9g}") for entry in c)))
"""Made as L Lᵀ of a lower triangle, so that every one is possible."""
READINGS = st.builds(
    ZoneReading,
    tile=NAMES,
    zone=NAMES,
    lab=COLOURS,
    covariance=st.just(NOT_SAID) | COVARIANCES,
    stage=st.sampled_from(Stage),
    reading=st.integers(1, 9),
    body=st.none() | NAMES,
    layers=LAYERINGS,
    cone=st.none() | st.sampled_from([Cone(-21.0), Cone(-5.0), Cone(0.0), Cone(1.0), Cone(5.5), Cone(14.0)]),
    firing=st.none() | NAMES,
    shelf=st.none() | NAMES,
    session=st.none() | NAMES,
    method=st.none() | NAMES,
    lot=st.none() | NAMES,
    sheen=st.none() | st.sampled_from(Sheen),
    faults=st.lists(st.sampled_from(FAULTS), unique=True).map(lambda said: tuple(f for f in FAULTS if f in said)),
    refires=st.integers(0, 3),
)


def _key(reading: ZoneReading) -> tuple[object, ...]:
    return fold_name(reading.tile), fold_name(reading.zone), reading.stage, reading.reading


@given(st.lists(READINGS, max_size=5, unique_by=_key), st.integers(1, 500_000).map(lambda n: 0.01 + n / 1e4 % 49))
def test_readings_written_out_come_back_the_same(readings, u):
    rows = tuple(WithDoubt(reading, round(u, 4)) for reading in readings)
    assert tables.read_tiles(write_tiles(rows), "t.csv").rows == rows


@pytest.mark.parametrize(
    "cell", ["1 0 0 1 0", "1 0 0 1 0 x", "1 2 0 1 0 1", "-1 0 0 1 0 1", "1 0 0 0 0 1", "1 0 0 1 0 9e9"]
)
def test_a_covariance_that_cannot_be_is_refused(cell):
    problem = refused(tables.read_tiles, f"tile,zone,L,a,b,covariance\n\nT1,A,1,2,3,{cell}\n".encode())
    assert (problem.code in ("bad-covariance", "bad-number", "out-of-range"), problem.where.row) == (True, 3)


def test_a_weighing_that_goes_backwards_is_refused_with_its_row():
    head = b"material,at,before_g,after_g,weighed\n"
    assert tables.read_weighings(head + b"Moss,2027-01-01,90,80,\nMoss,2027-01-02,80,90,piece\n", "w").rows
    problem = refused(tables.read_weighings, head + b"Moss,2027-01-01,90,80,\nMoss,2027-01-02,80,90,jar\n")
    assert (problem.code, problem.where.row) == ("jar-weighed-backwards", 3)
    problem = refused(tables.read_weighings, head + b"Moss,2027-01-01,90,80,piece\n")
    assert (problem.code, problem.where.row) == ("piece-weighed-backwards", 2)


def test_amounts_carry_their_units():
    head = b"material,at,before,after,specific_gravity\n"
    (one,) = tables.read_weighings(head + b"Moss,2027-01-01,1 US pint,0.5 us pint,1.5\n", "w").rows
    assert one.grams == pytest.approx(473.176 / 2 * 1.5, rel=1e-5)
    assert refused(tables.read_weighings, head + b"Moss,2027-01-01,1 pint,,1.5\n").code == "which-pint"
    assert refused(tables.read_weighings, head + b"Moss,2027-01-01,400 ml,,\n").code == "no-gravity"
    both = refused(tables.read_weighings, b"material,at,before,before_g\nMoss,2027-01-01,4 oz,100\n")
    assert both.code == "said-twice"
    (moss,) = tables.read_materials(b"material,left,density_g_per_ml,lead_days\nMoss,2 UK pints,1.5,9\n", "m").rows
    assert (moss.left_g, moss.lead_days) == (pytest.approx(2 * 568.26125 * 1.5), 9)


def test_jars_and_counts_are_read():
    (jar,) = tables.read_jars(b"material,jar,lot,gross_g,tare_g,locked\nMoss,2,A,500,120,yes\n", "j").rows
    assert (jar.left_g, jar.tare_g, jar.locked) == (380.0, 120.0, True)
    assert refused(tables.read_jars, b"material,gross_g,tare_g\nMoss,100,120\n").code == "out-of-range"
    (count,) = tables.read_counts(b"edition,at,what,count,firing\nMugs,2027-01-02,fired,20,F1\n", "c").rows
    assert (count.what, count.count, count.firing) == ("fired", 20, "F1")


def test_a_log_in_fahrenheit_is_the_same_log():
    celsius = tables.read_firing_log(b"minutes,celsius\n0,20\n600,1222\n", "l").rows
    fahrenheit = tables.read_firing_log(b"fahrenheit,minutes\n68,0\n2231.6,600\n", "l").rows
    assert fahrenheit == tuple(pytest.approx(point) for point in celsius)
    assert refused(tables.read_firing_log, b"minutes,celsius,fahrenheit\n0,20,68\n").code == "log-in-two-units"
    assert refused(tables.read_firing_log, b"minutes,degrees\n0,20\n").code == "missing-column"
    assert refused(tables.read_firing_log, b"minutes,fahrenheit\n0,\n").code == "no-value"
