"""Print the sheet, lay tiles, photograph: every slot comes back, whatever the pose. More poses: bench/sheet.py."""

from __future__ import annotations

import json

import cv2
import numpy as np
import pypdfium2
import pytest

from bench.sheet import lab_of, photograph, picture_of, wrong
from swatch.__main__ import main
from swatch.science.colour_math import delta_e_2000
from swatch.science.sheet_reading import zones_from_sheet
from swatch.science.tile_outlines import zone_outlines
from swatch.terms.sheet import Paper, Split, firing_mark

SIZE = (1800, 1350)


@pytest.mark.parametrize(
    ("seed", "paper", "split", "hidden", "print_scale"),
    [
        (101, Paper.A3, Split.WHOLE, None, 1.0),
        (102, Paper.A3, Split.STEPS, 0, 0.97),
        (103, Paper.A4, Split.CROSSED_9, 1, 1.0),
        (104, Paper.LETTER, Split.CROSSED_4, 2, 0.97),
        (105, Paper.A3, Split.STEPS, 3, 1.0),
    ],
)
def test_every_slot_is_right(seed, paper, split, hidden, print_scale):
    shot = photograph(seed, paper, split=split, size=SIZE, hidden=hidden, print_scale=print_scale)
    found = zones_from_sheet(picture_of(shot))
    assert wrong(shot, found) == []
    assert found.code.firing == firing_mark("Third of May")


def test_two_photos_of_one_sheet_say_the_same_code():
    one = zones_from_sheet(picture_of(photograph(106, Paper.A4, size=SIZE)))
    two = zones_from_sheet(picture_of(photograph(107, Paper.A4, size=SIZE)))
    assert one.code == two.code


def test_a_photo_without_zones_is_read_slot_by_slot(tmp_path, capsys):
    shot = photograph(108, Paper.A4, split=Split.STEPS, size=(2000, 1500), empty=0.3, glare=0.0)
    photo = tmp_path / "sheet.jpg"
    assert cv2.imwrite(str(photo), shot.pixels[:, :, ::-1], [cv2.IMWRITE_JPEG_QUALITY, 95])
    assert main(["measure", str(photo), "--json"]) == 0
    (read,) = json.loads(capsys.readouterr().out)["photos"]
    truth = {
        f"{number}{name}": lab_of(colour)
        for number, colours in shot.colours.items()
        for (name, _), colour in zip(zone_outlines(shot.outlines[number], Split.STEPS), colours, strict=True)
    }
    number = shot.layout.code.slots
    assert read["sheet"] == {
        "paper": "A4",
        "sheet": 1,
        "slots": number,
        "split": "steps",
        "empty": [k for k in range(1, number + 1) if k not in shot.outlines],
    }
    zones = {zone["zone"]: np.array(zone["lab"]) for zone in read["zones"]}
    assert set(zones) == set(truth)
    off = [float(delta_e_2000(zones[name], truth[name])) for name in truth]
    assert np.median(off) < 1.5
    assert max(off) < 4.0


def test_a_mirrored_sheet_is_refused_by_the_command(tmp_path, capsys):
    shot = photograph(109, Paper.A4, size=(1500, 1120))
    photo = tmp_path / "sheet.jpg"
    assert cv2.imwrite(str(photo), shot.pixels[:, ::-1, ::-1])
    assert main(["measure", str(photo), "--json"]) == 3
    (problem,) = json.loads(capsys.readouterr().out)["problems"]
    assert problem["code"] == "sheet-mirrored"


def test_the_command_writes_the_sheet_and_says_what_is_on_it(tmp_path, capsys):
    out = tmp_path / "sheet.pdf"
    assert main(["sheet", "--out", str(out), "--paper", "A3", "--tile-size", "50x100", "--json"]) == 0
    said = json.loads(capsys.readouterr().out)
    assert (said["paper"], said["sheets"], said["slots"], said["tile_mm"]) == ("A3", 1, 12, [50, 100])
    size = np.array(pypdfium2.PdfDocument(str(out))[0].get_size()) * 25.4 / 72
    assert size == pytest.approx([420, 297], abs=0.01)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["sheet.pdf"]


def test_the_command_prints_as_many_sheets_as_the_tiles_need(tmp_path, capsys):
    assert main(["sheet", "--out", str(tmp_path / "s.pdf"), "--paper", "Letter", "--tiles", "10"]) == 0
    assert "3 sheets with 10 slots" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("words", "status", "said"),
    [
        (["--out", "s.png"], 3, "ending"),
        (["--out", "s.pdf", "--tile-size", "190x190"], 3, "larger paper"),
        (["--out", "s.pdf", "--tile-size", "5x10"], 2, "no size"),
        (["--out", "s.pdf", "--tiles", "0"], 2, "whole number"),
        (["--out", "s.pdf", "--paper", "A5"], 2, "invalid choice"),
        (["--out", "nowhere/s.pdf"], 3, "cannot be written"),
        ([], 2, "--out"),
    ],
)
def test_what_cannot_be_printed_is_said_and_leaves_nothing(words, status, said, tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    assert main(["sheet", *words]) == status
    assert said in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []
