"""Rows of a second file that speak of what is on record: corrections come in, contradictions do not."""

from __future__ import annotations

import pytest

from swatch.terms.layering import parse_layers
from tests.walks.test_import import FIRINGS, MATERIALS, Importing

HEADER = "tile,zone,stage,reading,body,firing,refires,layers,L,a,b,u,sheen,faults,method,lot\n"
FIRED = "T1,A,fired,1,Pale,F1,0,Tarn Blue > Clear Rill,45,-3,-20,1,gloss,,dipped,L1\n"


@pytest.fixture(autouse=True)
def _own_settings(tmp_path, monkeypatch):
    monkeypatch.setenv("SWATCH_CONFIG_DIR", str(tmp_path / "config"))


@pytest.fixture
def importing(tmp_path, capsys):
    found = Importing(tmp_path, capsys)
    more = "F3,2027-03-01,6,\n"
    assert found(materials=MATERIALS, firings=FIRINGS + more, tiles=HEADER + FIRED)[0] == 0
    return found


@pytest.mark.parametrize(
    ("row", "field", "on_record", "here"),
    [
        ("T1,A,raw,1,Pale,,0,Tarn Blue,60,0,0,1,,,,", "layers", "Tarn Blue > Clear Rill", "Tarn Blue"),
        ("T1,A,raw,1,Dark,,0,Tarn Blue > Clear Rill,60,0,0,1,,,,", "body", "Pale", "Dark"),
        ("T1,B,fired,1,Dark,F1,0,Tarn Blue,60,0,0,1,,,,", "body", "Pale", "Dark"),
        ("T1,A,fired,2,Pale,F3,0,Clear Rill,60,0,0,1,,,,", "layers", "Tarn Blue > Clear Rill", "Clear Rill"),
        ("T1,A,fired,2,Pale,F3,0,,60,0,0,1,,,sprayed,", "method", "dipped", "sprayed"),
        ("T1,A,fired,2,Pale,F3,0,,60,0,0,1,,,,L2", "lot", "L1", "L2"),
        ("T1,A,fired,2,Pale,F1,0,,60,0,0,1,matt,,,", "sheen", "gloss", "matt"),
    ],
)
def test_a_new_row_does_not_rewrite_what_is_on_record(importing, row, field, on_record, here):
    before = importing.evidence()
    status, said, err = importing(tiles=HEADER + "T7,A,fired,1,Pale,F1,0,Tarn Blue,1,2,3,1,,,,\n" + row + "\n")
    assert status == 3
    (problem,) = said["problems"]
    assert problem["code"] == "differs-from-record"
    assert problem["where"]["row"] == 3
    assert problem["where"]["file"].endswith("tiles.csv")
    for word in (field, on_record, here, "T1"):
        assert word in problem["message"]
    assert problem["next_step"] in err
    assert importing.evidence() == before


def test_a_raw_row_that_leaves_cells_empty_takes_what_is_on_record(importing):
    assert importing(tiles=HEADER + "T1,A,raw,1,,,0,,60,0,0,1,,,,\n")[0] == 0
    fired, raw = importing.evidence().readings
    assert (raw.stage, raw.body, raw.layers) == ("raw", "Pale", parse_layers("Tarn Blue > Clear Rill"))
    assert (fired.body, fired.method, fired.lot, fired.sheen) == ("Pale", "dipped", "L1", "gloss")


@pytest.mark.parametrize("row", [
    "T1,A,fired,1,Pale,F3,0,Tarn Blue > Clear Rill,30,5,5,1,,,,",
    "T1,A,fired,1,Pale,F1,1,Tarn Blue > Clear Rill,30,5,5,1,,,,",
])  # fmt: skip
def test_the_colour_of_a_second_firing_is_not_written_over_the_first(importing, row):
    before = importing.evidence()
    status, said, _ = importing(tiles=HEADER + row + "\n")
    (problem,) = said["problems"]
    assert (status, problem["code"], problem["where"]["row"]) == (3, "of-another-firing", 2)
    assert "“reading”" in problem["next_step"]
    assert "2" in problem["next_step"]
    assert importing.evidence() == before
    assert importing(tiles=HEADER + row.replace("fired,1", "fired,2") + "\n")[0] == 0
    assert [one.reading for one in importing.evidence().readings] == [1, 2]


def test_a_row_alone_on_record_is_corrected_by_itself(importing):
    status, said, _ = importing(tiles=HEADER + FIRED.replace("Clear Rill", "Clear Rill*2").replace("F1", "F3"))
    assert (status, said["files"][0]["updated"]) == (0, 1)
    (fired,) = importing.evidence().readings
    assert (fired.layers, fired.firing) == (parse_layers("Tarn Blue > Clear Rill*2"), "F3")


def test_a_zone_with_several_readings_is_corrected_by_all_its_rows(importing):
    raw = "T1,A,raw,1,Pale,,0,Tarn Blue > Clear Rill,60,0,0,1,,,,\n"
    assert importing(tiles=HEADER + raw)[0] == 0
    thinner = (FIRED + raw).replace("Tarn Blue", "Tarn Blue*½")
    status, said, _ = importing(tiles=HEADER + thinner.splitlines()[0] + "\n")
    assert (status, said["problems"][0]["code"]) == (3, "differs-from-record")
    status, said, _ = importing(tiles=HEADER + thinner)
    assert (status, said["files"][0]["updated"]) == (0, 2)
    assert {one.layers for one in importing.evidence().readings} == {parse_layers("Tarn Blue*½ > Clear Rill")}


def test_every_tile_that_contradicts_the_record_is_named(importing):
    more = "T2,A,fired,1,Pale,F1,0,Tarn Blue,45,-3,-20,1,,,,\n"
    assert importing(tiles=HEADER + more)[0] == 0
    rows = "".join(f"{tile},A,raw,1,Dark,,0,,60,0,0,1,,,,\n" for tile in ("T1", "T2"))
    _, said, _ = importing(tiles=HEADER + rows)
    assert [one["where"]["row"] for one in said["problems"]] == [2, 3]


def test_rows_of_an_edition_that_differ_are_named_with_the_row(importing):
    rows = "edition,region,planned\nE1,well,60\nE1,lip,70\n"
    _, said, _ = importing(editions=rows)
    (problem,) = said["problems"]
    assert (problem["code"], problem["where"]["row"]) == ("rows-differ", 3)


def test_a_slip_in_a_name_is_asked_about_and_goes_when_it_is_corrected(importing):
    row = "T2,A,fired,1,Pale,F1,0,Tarn Bleu > Claer Rill,40,0,0,1,,,,\n"
    status, said, err = importing(tiles=HEADER + row)
    assert status == 0
    first, second = said["files"][0]["warnings"]
    assert (first["code"], first["where"]["row"]) == ("new-material-near-another", 2)
    assert "“Tarn Bleu”" in first["message"]
    assert "“Tarn Blue”" in first["message"]
    assert "“Clear Rill”" in second["message"]
    assert first["message"] in err
    assert len(importing.evidence().materials) == 5
    status, said, _ = importing(tiles=HEADER + row.replace("Bleu", "Blue").replace("Claer", "Clear"))
    assert (status, said["files"][0]["warnings"]) == (0, [])
    assert [one.name for one in importing.evidence().materials] == ["Clear Rill", "Low Rose", "Tarn Blue"]


def test_a_slip_is_asked_about_in_every_kind_of_name(importing):
    importing(bodies="body,cone\nPaleground,6\n", firings="firing,cone_asked\nAutumn load,6\n")
    importing(tiles=HEADER + "T4,A,fired,1,Paleground,Autumn load,0,Tarn Blue,1,1,1,1,,,,\n")
    row = "T5,A,fired,1,Palegruond,Autum load,0,Tarn Blue,1,1,1,1,,,,\n"
    _, said, _ = importing(tiles=HEADER + row)
    assert [one["code"] for one in said["files"][0]["warnings"]] == [
        "new-body-near-another",
        "new-firing-near-another",
        "firing-not-recorded",
    ]
    importing(tiles=HEADER + row.replace("gruond", "ground").replace("Autum l", "Autumn l"))
    evidence = importing.evidence()
    assert "Autum load" not in [one.name for one in evidence.firings]
    _, said, _ = importing(weighings="material,at,before_g,after_g\nTarn Blu,2027-02-10,400,380\n")
    assert [one["code"] for one in said["files"][0]["warnings"]] == ["new-material-near-another"]
    _, said, _ = importing(materials="material,kind\nLow Rosse,underglaze\nMoss,glaze\nMosse,glaze\n")
    assert ["Low Rosse" in one["message"] for one in said["files"][0]["warnings"]] == [True]


def test_of_two_new_names_the_rarer_one_is_asked_about(importing):
    rows = "".join(
        f"T{n},A,fired,1,Pale,F1,0,{name},40,0,0,1,,,,\n" for n, name in enumerate(("Ochr", "Ochre", "Ochre"), 20)
    )
    _, said, _ = importing(tiles=HEADER + rows)
    (warning,) = said["files"][0]["warnings"]
    assert warning["where"]["row"] == 2
    assert "“Ochr” was made" in warning["message"]
