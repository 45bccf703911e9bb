"""Bad input, as it comes: the stated exit status, a sentence with the next step, and nothing left behind."""

from __future__ import annotations

import json
import os
import struct
import subprocess
import sys
import zlib
from pathlib import Path

import pytest

from swatch.__main__ import main
from swatch.library.studio import Studio

PDF = b"%PDF-1.7\n1 0 obj\n<< /Type /Catalog >>\nendobj\ntrailer << /Root 1 0 R >>\n%%EOF\n"
POSTSCRIPT = b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 100 100\nshowpage\n%%EOF\n"
MATERIALS = "material,kind,cone_from,cone_to\nTarn Blue,glaze,5,6\n"


@pytest.fixture(autouse=True)
def _own_settings(tmp_path_factory, monkeypatch):
    monkeypatch.setenv("SWATCH_CONFIG_DIR", str(tmp_path_factory.mktemp("config")))


@pytest.fixture
def place(tmp_path, monkeypatch):
    """An empty folder to work in, so that whatever is left behind is seen."""
    folder = tmp_path / "place"
    folder.mkdir()
    monkeypatch.chdir(folder)
    return folder


def half_a_jpeg(path: Path) -> None:
    """Write the first half of a real photo."""
    import cv2
    import numpy as np

    noise = np.random.default_rng(7).integers(0, 255, (600, 800, 3), dtype=np.uint8)
    fine, data = cv2.imencode(".jpg", noise)
    assert fine
    path.write_bytes(data.tobytes()[: len(data) // 2])


def bomb(path: Path, side: int = 60_000) -> None:
    """Write a PNG of `side` × `side` pixels in a few kilobytes, as a decompression bomb is made."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", side, side, 8, 2, 0, 0, 0)
    body = zlib.compress(bytes(1_000_000), 9)
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", body) + chunk(b"IEND", b""))


BAD_PHOTOS = {
    "none.jpg": lambda path: None,
    "half.jpg": half_a_jpeg,
    "order.jpg": lambda path: path.write_bytes(PDF),
    "drawing.jpg": lambda path: path.write_bytes(POSTSCRIPT),
    "huge.png": bomb,
    "empty.jpg": lambda path: path.write_bytes(b""),
    "folder.jpg": lambda path: path.mkdir(),
}


@pytest.mark.parametrize("name", BAD_PHOTOS)
def test_a_bad_photo_is_status_3_with_the_next_step_and_leaves_nothing(name, place, capfd):
    BAD_PHOTOS[name](place / name)
    before = sorted(os.listdir(place))
    assert main(["measure", name, "--json", "--overlay", "seen.png"]) == 3
    said = capfd.readouterr()
    whole = json.loads(said.out)
    assert whole["photos"] == []
    (problem,) = whole["problems"]
    assert problem["where"]["photo"] == name
    assert problem["message"]
    assert problem["next_step"]
    assert name in said.err
    assert problem["next_step"] in said.err
    assert "Traceback" not in said.err
    assert sorted(os.listdir(place)) == before


def test_a_photo_without_a_card_is_refused_and_says_why(place, capfd):
    import cv2
    import numpy as np

    plain = np.full((900, 1200, 3), 128, dtype=np.uint8)
    assert cv2.imwrite(str(place / "plain.jpg"), plain)
    assert main(["measure", "plain.jpg", "--json"]) == 3
    whole = json.loads(capfd.readouterr().out)
    assert [photo["verdict"] for photo in whole["photos"]] == ["refused"]
    assert whole["photos"][0]["zones"] == []
    assert whole["problems"][0]["next_step"]


CHART = Path(__file__).parents[2] / ".." / "shared" / "real_charts" / "pedro.jpg"


@pytest.mark.skipif(not CHART.exists(), reason="no real charts here")
def test_a_good_photo_beside_a_bad_one_is_status_4(place, capfd):
    (place / "order.jpg").write_bytes(PDF)
    status = main(["measure", str(CHART), "order.jpg", "--json"])
    whole = json.loads(capfd.readouterr().out)
    used = [photo for photo in whole["photos"] if photo["verdict"] != "refused"]
    assert status == (4 if used else 3)
    assert [problem["where"]["photo"] for problem in whole["problems"]][-1] == "order.jpg"
    assert used


BAD_TABLES = {
    "letter O for a zero": ("tiles", "tile,zone,cone,layers,L,a,b\nT1,A,O6,Tarn Blue,50,0,0\n", "bad-cone", 2),
    "a cone made a number": ("tiles", "tile,zone,cone,layers,L,a,b\nT1,A,6.0,Tarn Blue,50,0,0\n", "bad-cone", 2),
    "a cone made a date": ("materials", "material,cone_from\nRill,2027-06-05\n", "bad-cone", 2),
    "a quoted decimal comma": ("tiles", 'tile,zone,cone,L,a,b\nT1,A,6,"50,2",0,0\n', "decimal-comma", 2),
    "a bare decimal comma": ("tiles", "tile,zone,cone,L,a,b\nT1,A,6,50,2,0,0\n", "too-many-cells", 2),
    "semicolons": ("tiles", "tile;zone;cone;L;a;b\nT1;A;6;50,2;0;0\n", "wrong-separator", 1),
    "another encoding": ("materials", "material\nCafé\n".encode("cp1252"), "not-utf8", 2),
    "UTF-16": ("materials", "material\nRill\n".encode("utf-16"), "not-utf8", None),
    "a zero byte": ("materials", b"material\nRi\x00ll\n", "nul-in-text", 2),
    "a PDF": ("materials", PDF, "missing-column", 1),
    "nothing": ("materials", b"", "empty-file", None),
    "no file": ("materials", None, "file-missing", None),
}  # fmt: skip


@pytest.mark.parametrize("case", BAD_TABLES)
def test_a_bad_table_is_status_3_with_its_row_and_leaves_nothing(case, place, capfd):
    table, content, code, row = BAD_TABLES[case]
    if content is not None:
        (place / "in.csv").write_bytes(content if isinstance(content, bytes) else content.encode())
    before = sorted(os.listdir(place))
    assert main(["import", "--studio", "studio", f"--{table}", "in.csv", "--json"]) == 3
    said = capfd.readouterr()
    problem = json.loads(said.out)["problems"][0]
    assert (problem["code"], problem["where"].get("row"), problem["where"]["file"]) == (code, row, "in.csv")
    assert problem["next_step"] in said.err
    assert "in.csv" in said.err
    assert sorted(os.listdir(place)) == before


def test_a_bad_table_leaves_a_studio_as_it_was(place, capfd):
    (place / "m.csv").write_text(MATERIALS)
    assert main(["import", "--studio", "studio", "--materials", "m.csv"]) == 0
    with Studio.look(place / "studio") as studio:
        before = studio.evidence()
    (place / "m.csv").write_text(MATERIALS + "Rill,glaze,O6,6\nGorse,glaze,5,6\n")
    assert main(["import", "--studio", "studio", "--materials", "m.csv"]) == 3
    assert "row 3" in capfd.readouterr().err
    with Studio.look(place / "studio") as studio:
        assert studio.evidence() == before
        assert studio.verify() == []


def test_while_one_process_writes_another_is_told_who_and_changes_nothing(place, capfd):
    (place / "m.csv").write_text(MATERIALS)
    with Studio.create(place / "studio") as held:
        words = ["import", "--studio", "studio", "--materials", "m.csv", "--json"]
        done = subprocess.run([sys.executable, "-m", "swatch", *words], capture_output=True, check=False)
        assert done.returncode == 3
        problem = json.loads(done.stdout)["problems"][0]
        assert problem["code"] == "studio-in-use"
        assert str(os.getpid()) in problem["message"]
        assert problem["next_step"]
        assert problem["message"] in done.stderr.decode()
        assert held.materials() == ()
    assert main(words) == 0
    capfd.readouterr()


def test_a_studio_folder_with_other_things_in_it_is_left_alone(place, capfd):
    (place / "m.csv").write_text(MATERIALS)
    (place / "letters").mkdir()
    (place / "letters" / "to_a_friend.txt").write_text("hello")
    assert main(["import", "--studio", "letters", "--materials", "m.csv", "--json"]) == 3
    assert json.loads(capfd.readouterr().out)["problems"][0]["code"] == "folder-not-empty"
    assert os.listdir(place / "letters") == ["to_a_friend.txt"]


def test_a_name_with_a_line_break_cannot_forge_a_message(place, capfd):
    name = "a\nswatch: all is well\u202e.jpg"
    (place / name).write_bytes(PDF)
    assert main(["measure", name]) == 3
    err = capfd.readouterr().err
    assert len(err.splitlines()) == 1
    assert "\\u000a" in err
    assert "\u202e" not in err


@pytest.mark.parametrize(
    ("words", "code"),
    [
        (["--zones", "z.json"], "zones-not-json"),
        (["--card", "z.json"], "keyword-text-broken"),
        (["--card", "rendition-99"], "file-missing"),
        (["--blank", "gone.jpg"], "file-missing"),
    ],
)
def test_what_goes_with_a_photo_is_refused_by_name(words, code, place, capfd):
    (place / "z.json").write_bytes(b'{"zones": "none"}')
    assert main(["measure", "a.jpg", "--json", *words]) == 3
    problem = json.loads(capfd.readouterr().out)["problems"][0]
    assert (problem["code"], problem["where"]["file"]) == (code, words[1])


def test_a_card_stated_for_another_light_is_refused(place, capfd):
    samples = "".join(f"{number} {number * 10} 0 0\n" for number in range(1, 7))
    card = (
        'ISO28178\nILLUMINATION_NAME "D65"\nOBSERVER_ANGLE "2"\nSWATCH_ROWS 2\nSWATCH_COLUMNS 3\n'
        "BEGIN_DATA_FORMAT\nSAMPLE_ID LAB_L LAB_A LAB_B\nEND_DATA_FORMAT\n"
        f"BEGIN_DATA\n{samples}END_DATA\n"
    )
    (place / "card.txt").write_text(card)
    assert main(["measure", "a.jpg", "--json", "--card", "card.txt"]) == 3
    problem = json.loads(capfd.readouterr().out)["problems"][0]
    assert (problem["code"], problem["where"]["file"]) == ("card-not-d50", "card.txt")
    assert "D65" in problem["message"]


def test_an_export_that_cannot_be_written_leaves_nothing(place, capfd):
    (place / "m.csv").write_text(MATERIALS)
    assert main(["import", "--studio", "studio", "--materials", "m.csv"]) == 0
    before = sorted(os.listdir(place))
    for name, code in (("out.xlsx", "unknown-ending"), ("nowhere/out.csv", "file-not-written")):
        capfd.readouterr()
        assert main(["export", "--studio", "studio", "--out", name, "--json"]) == 3
        assert json.loads(capfd.readouterr().out)["problems"][0]["code"] == code
    assert sorted(os.listdir(place)) == before
