"""Files brought into a studio by the command line: whole or not at all, and twice is once."""

from __future__ import annotations

import json
import os
from pathlib import Path

import numpy as np
import pytest

from swatch.__main__ import main
from swatch.library.studio import Studio
from swatch.science.colour_math import de00_metric
from swatch.terms.cone import Cone
from swatch.terms.layering import Layer
from swatch.work.bring_in import UNSTATED_U, covariances_of, doubts_of

MATERIALS = """material,kind,status,cone_from,cone_to,left_g
Tarn Blue,glaze,in stock,5,6,400
Low Rose,underglaze,in stock,06,04,120
Clear Rill,clear,discontinued,5,7,900
"""
BODIES = "body,cone,L,a,b\nPale,6,90,0.5,6\nPale,06,92,0.2,4\n"
FIRINGS = "firing,date,cone_asked,cone_reached\nF1,2027-02-11,6,5.8\nF2,2027-02-18,06,\n"
WITNESS = "firing,shelf,cone_reached\nF1,top,6\nF1,bottom,5.5\n"
TILES = """tile,zone,body,firing,shelf,layers,stage,L,a,b,u
T1,A,Pale,F1,top,Tarn Blue*2 > Clear Rill,fired,45.5,-3.2,-20.25,1.2
T1,B,Pale,F1,top,Clear Rill,fired,80,1,8,0.9
T2,A,Pale,F2,,Low Rose,fired,60,20,5,
"""
EDITIONS = (
    "edition,region,region_kind,planned,yield,body,cone,area_dm2,layers\nE1,well,inside,60,.8,Pale,6,2,Tarn Blue\n"
)
PIECES = "edition,piece,region,firing,L,a,b,u,role\nE1,p1,well,F1,45,-3,-20,1,approved\n"
WEIGHINGS = "material,at,before_g,after_g,area_dm2,pieces\nTarn Blue,2027-02-10,400,380,20,10\n"
ALL = {
    "materials": MATERIALS,
    "bodies": BODIES,
    "firings": FIRINGS,
    "witness": WITNESS,
    "tiles": TILES,
    "editions": EDITIONS,
    "pieces": PIECES,
    "weighings": WEIGHINGS,
}


@pytest.fixture(autouse=True)
def _own_settings(tmp_path, monkeypatch):
    monkeypatch.setenv("SWATCH_CONFIG_DIR", str(tmp_path / "config"))


class Importing:
    """The import command on files of a folder."""

    def __init__(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.folder, self.capsys = folder, capsys
        self.studio = folder / "studio"

    def __call__(self, **tables: str | bytes) -> tuple[int, dict[str, object], str]:
        words = ["import", "--studio", str(self.studio), "--json"]
        for table, text in tables.items():
            path = self.folder / f"{table}.csv"
            path.write_bytes(text if isinstance(text, bytes) else text.encode())
            words += [f"--{table}", str(path)]
        status = main(words)
        said = self.capsys.readouterr()
        return status, json.loads(said.out), said.err

    def evidence(self):
        with Studio.look(self.studio) as studio:
            return studio.evidence()


@pytest.fixture
def importing(tmp_path, capsys):
    return Importing(tmp_path, capsys)


def test_all_tables_come_in_and_are_there(importing):
    status, said, _ = importing(**ALL)
    assert status == 0
    assert [one["table"] for one in said["files"]] == list(ALL)
    assert [one["added"] for one in said["files"]] == [3, 2, 2, 2, 3, 1, 1, 1]
    evidence = importing.evidence()
    assert [material.name for material in evidence.materials] == ["Clear Rill", "Low Rose", "Tarn Blue"]
    first = evidence.readings[0]
    assert (first.tile, first.zone, first.cone, first.firing, first.shelf) == ("T1", "A", Cone(6.0), "F1", "top")
    assert first.layers == (Layer("Tarn Blue", 2), Layer("Clear Rill"))
    assert evidence.readings[2].cone == Cone(-5.0)
    with Studio.look(importing.studio) as studio:
        assert studio.verify() == []
        assert studio.pieces()[0].piece == "p1"
        assert studio.editions()[0].yield_share == 0.8


def test_the_same_files_again_change_nothing(importing):
    importing(**ALL)
    before = importing.evidence()
    with Studio.open(importing.studio) as studio:
        name = studio.undo_name
    status, said, _ = importing(**ALL)
    assert status == 0
    assert [(one["added"], one["updated"]) for one in said["files"]] == [(0, 0)] * len(ALL)
    assert importing.evidence() == before
    with Studio.open(importing.studio) as studio:
        assert studio.undo_name == name


def test_a_row_with_a_known_key_updates_only_the_columns_that_are_there(importing):
    importing(**ALL)
    status, said, _ = importing(materials="material,left_g\ntarn  BLUE,35.5\n")
    assert (status, said["files"][0]["updated"]) == (0, 1)
    tarn = importing.evidence().materials[2]
    assert (tarn.left_g, tarn.cone_to) == (35.5, Cone(6.0))


def test_one_bad_file_is_named_and_the_others_come_in(importing):
    status, said, err = importing(materials=MATERIALS, tiles=TILES.replace("80,1,8", '"80,5",1,8'))
    assert status == 4
    (problem,) = said["problems"]
    assert (problem["code"], problem["where"]["row"]) == ("decimal-comma", 3)
    assert problem["where"]["file"].endswith("tiles.csv")
    assert "tiles.csv" in err
    assert "row 3" in err
    assert problem["next_step"] in err
    evidence = importing.evidence()
    assert (len(evidence.materials), evidence.readings) == (3, ())


def test_files_of_which_none_can_be_used_leave_no_studio(importing):
    status, said, _ = importing(firings=FIRINGS.replace(",6,", ",O6,"))
    assert (status, said["problems"][0]["code"]) == (3, "bad-cone")
    assert not importing.studio.exists()


def test_a_file_that_only_the_studio_can_refuse_leaves_no_studio_either(importing):
    no_cone = "tile,zone,layers,L,a,b\nT9,A,Rill,50,0,0\n"
    status, said, _ = importing(tiles=no_cone)
    assert (status, said["problems"][0]["code"], said["problems"][0]["where"]["row"]) == (3, "no-cone", 2)
    assert not importing.studio.exists()
    importing.studio.mkdir()
    assert importing(tiles=no_cone)[0] == 3
    assert os.listdir(importing.studio) == []


def test_a_cone_that_gainsays_its_firing_is_refused_with_the_row(importing):
    importing(firings=FIRINGS)
    tiles = "tile,zone,firing,cone,layers,L,a,b\nT1,A,F1,6,Rill,50,0,0\nT1,B,F1,06,Rill,50,0,0\n"
    status, said, _ = importing(tiles=tiles)
    assert status == 3
    assert (said["problems"][0]["code"], said["problems"][0]["where"]["row"]) == ("cone-not-the-firings", 3)
    assert importing.evidence().readings == ()


def test_a_lost_zero_is_warned_of_once_for_each_material(importing):
    tiles = "tile,zone,cone,layers,L,a,b,u\n" + "".join(
        f"T{number},A,{cone},Low Rose,50,0,0,1\n" for number, cone in enumerate(("6", "6", "06"), 1)
    )
    status, said, err = importing(materials=MATERIALS, tiles=tiles)
    assert status == 0
    (warning,) = said["files"][1]["warnings"]
    assert (warning["code"], warning["where"]["row"]) == ("lost-zero", 2)
    assert "06" in warning["next_step"]
    assert warning["message"] in err


def test_tiles_of_a_firing_not_recorded_yet_are_taken_with_a_warning(importing):
    status, said, _ = importing(tiles=TILES)
    assert status == 0
    codes = [warning["code"] for warning in said["files"][0]["warnings"]]
    assert codes == ["firing-not-recorded", "firing-not-recorded", "doubt-not-stated"]
    importing(firings=FIRINGS)
    assert importing.evidence().readings[0].cone == Cone(6.0)


def test_the_doubt_stated_comes_back_out_of_the_studio(importing):
    importing(**ALL)
    readings = importing.evidence().readings
    doubts = doubts_of([one.lab for one in readings], [one.covariance for one in readings])
    assert doubts == pytest.approx([1.2, 0.9, UNSTATED_U], rel=1e-9)


def test_u_becomes_a_covariance_of_which_it_is_the_trace():
    colours = [(50.0, 0.0, 0.0), (45.0, -3.0, -20.0), (30.0, 60.0, 40.0)]
    made = covariances_of(colours, [1.0, 2.0, 0.5])
    for lab, u, one in zip(colours, [1.0, 2.0, 0.5], made, strict=True):
        metric = de00_metric(np.array(lab))
        product = metric @ np.array(one.rows())
        assert np.trace(product) == pytest.approx(u**2)
        assert product == pytest.approx(u**2 / 3 * np.eye(3), abs=1e-9)


def test_what_is_exported_comes_back_in_and_changes_nothing(importing, tmp_path, capsys):
    importing(**ALL)
    out = tmp_path / "out.csv"
    assert main(["export", "--studio", str(importing.studio), "--out", str(out), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["readings"] == 3
    before = importing.evidence()
    status, said, _ = importing(tiles=out.read_bytes())
    file = said["files"][0]
    assert (status, file["added"], file["updated"], file["unchanged"]) == (0, 0, 0, 3)
    assert importing.evidence() == before


TWO = """tile,zone,body,cone,L,a,b,u,covariance
T1,A,Pale,6,50,0,0,1,4 1 0 2 0 1
T2,A,Pale,6,50,0,0,1,
"""


def test_a_covariance_is_taken_as_stated_and_counts_before_u(importing):
    importing(bodies=BODIES, firings=FIRINGS, tiles=TWO)
    stated, made = (reading.covariance for reading in importing.evidence().readings)
    assert stated == (4, 1, 0, 2, 0, 1)
    assert made == pytest.approx(covariances_of([(50.0, 0.0, 0.0)], [1.0])[0])


def test_a_firing_s_log_comes_in_and_replaces_the_one_it_had(importing, tmp_path, capsys):
    importing(firings=FIRINGS)
    log = tmp_path / "log.csv"
    words = ["import", "--studio", str(importing.studio), "--json", "--log"]
    for text, counts in (("0,20\n60,80\n", (2, 0, 0)), ("0,20\n60,80\n", (0, 0, 2)), ("0,20\n60,81\n", (0, 2, 0))):
        log.write_text(f"minutes,celsius\n{text}")
        assert main([*words, f"f1={log}"]) == 0
        (one,) = json.loads(capsys.readouterr().out)["files"]
        assert (one["table"], one["added"], one["updated"], one["unchanged"]) == ("log", *counts)
    assert main([*words, f"F9={log}"]) == 3
    problem = json.loads(capsys.readouterr().out)["problems"][0]
    assert problem["code"] == "not-there"
    assert "F9" in problem["message"]
    with Studio.open(importing.studio) as studio:
        assert studio.verify() == []
        studio.undo()


def test_the_studio_used_last_is_the_one_meant(importing, tmp_path, capsys):
    importing(**ALL)
    assert main(["export", "--out", str(tmp_path / "out.txt")]) == 0
    assert "3" in capsys.readouterr().out
    assert (tmp_path / "out.txt").read_text(encoding="utf-8").startswith("ISO28178")


def test_a_table_for_people_shows_what_came_in(importing, capsys):
    (importing.folder / "m.csv").write_text(MATERIALS + "\u202eodd\nname,glaze,,,,\n", encoding="utf-8")
    main(["import", "--studio", str(importing.studio), "--materials", str(importing.folder / "m.csv")])
    said = capsys.readouterr()
    assert "not used" in said.out
    assert "row 5" in said.err
    (importing.folder / "m.csv").write_text(MATERIALS, encoding="utf-8")
    main(["import", "--studio", str(importing.studio), "--materials", str(importing.folder / "m.csv")])
    header, row = capsys.readouterr().out.splitlines()
    assert header.split() == ["table", "file", "new", "changed", "as", "before"]
    assert row.split()[-3:] == ["3", "0", "0"]
