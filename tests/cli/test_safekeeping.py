"""Backup and restore from the command line: the whole studio out, and back the same."""

import json

import pytest

from swatch.__main__ import main
from swatch.library import seal
from swatch.library.studio import Studio


@pytest.mark.parametrize("command", ["backup", "export"])
def test_a_studio_comes_back_as_it_was(own_demo, tmp_path, capsys, command):
    out = tmp_path / "kept.zip"
    assert main([command, "--studio", str(own_demo), "--out", str(out), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["bytes"] == out.stat().st_size
    assert main(["restore", str(out), "--into", str(tmp_path / "again")]) == 0
    with Studio.look(own_demo) as was, Studio.look(tmp_path / "again") as now:
        assert now.verify() == []
        assert now.evidence() == was.evidence()
        assert (now.editions(), now.weighings()) == (was.editions(), was.weighings())


@pytest.mark.parametrize(
    ("made", "code"),
    [("nothing", "file-missing"), ("folder", "not-a-file"), ("text", "not-a-backup"), ("half", "not-a-backup")],
)
def test_what_is_no_backup_leaves_nothing(own_demo, tmp_path, capsys, made, code):
    source = tmp_path / "kept.zip"
    if made == "folder":
        source.mkdir()
    elif made == "text":
        source.write_text("not a backup")
    elif made == "half":
        main(["backup", "--studio", str(own_demo), "--out", str(source)])
        source.write_bytes(source.read_bytes()[: source.stat().st_size // 2])
    capsys.readouterr()
    assert main(["restore", str(source), "--into", str(tmp_path / "again"), "--json"]) == 3
    assert json.loads(capsys.readouterr().out)["problems"][0]["code"] == code
    assert not (tmp_path / "again").exists()
    assert sorted(path.name for path in tmp_path.iterdir() if "again" in path.name) == []


def test_a_folder_that_holds_something_is_left_alone(own_demo, tmp_path, capsys):
    out = tmp_path / "kept.zip"
    main(["backup", "--studio", str(own_demo), "--out", str(out)])
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "notes.txt").write_text("mine")
    assert main(["restore", str(out), "--into", str(tmp_path / "mine")]) == 3
    assert [path.name for path in (tmp_path / "mine").iterdir()] == ["notes.txt"]


def test_a_studio_that_was_not_closed_is_said_to_be_and_sealed(own_demo, capsys):
    def verified():
        assert main(["verify", "--studio", str(own_demo), "--json"]) == 0
        said = json.loads(capsys.readouterr().out)
        assert said["sound"]
        return said["sealed"]

    assert verified() == "before"
    seal.break_open(own_demo)
    with Studio.open(own_demo):  # somebody writes it
        assert verified() == "no"
        assert not (own_demo / seal.SEAL_NAME).exists()
    seal.break_open(own_demo)
    assert verified() == "now"
    assert verified() == "before"
