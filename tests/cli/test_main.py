"""The frame of the command line: words, statuses, one JSON object, quiet ends."""

from __future__ import annotations

import json
import os
import shlex
import signal
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor

import pytest

import swatch
from swatch.__main__ import main
from swatch.cli import verify_command
from swatch.cli.main import COMMANDS, _parser, run
from swatch.terms.report import Stopped


@pytest.fixture(autouse=True)
def _own_settings(tmp_path, monkeypatch):
    monkeypatch.setenv("SWATCH_CONFIG_DIR", str(tmp_path / "config"))


def no_window(_studio: str | None) -> int:
    raise AssertionError("no window was asked for")


@pytest.mark.parametrize("command", COMMANDS)
def test_each_command_explains_itself_with_an_example_that_it_takes(command, capsys):
    assert run([command, "--help"], no_window) == 0
    said = capsys.readouterr().out
    assert "Example:" in said
    example = said.split("Example:")[1].strip()
    assert example.startswith(f"swatch {command} ")

    assert _parser().parse_args(shlex.split(example)[1:]).command == command


def test_the_help_names_every_command(capsys):
    assert run(["--help"], no_window) == 0
    said = capsys.readouterr().out
    assert all(command in said for command in COMMANDS)


def test_the_version_is_the_program_s(capsys):
    assert run(["--version"], no_window) == 0
    assert capsys.readouterr().out == f"swatch {swatch.__version__}\n"


@pytest.mark.parametrize(
    "words",
    [
        ["paint"],
        ["measure"],
        ["measure", "a.jpg", "--corners", "1,2"],
        ["measure", "a.jpg", "b.jpg", "--overlay", "o.png"],
        ["import"],
        ["predict", "--layers", "A", "--body", "B"],
        ["predict", "--list", "f.csv", "--cone", "6"],
        ["predict", "--layers", "A >", "--body", "B", "--cone", "6"],
        ["match", "--target", "50,0,0", "--body", "B", "--cone", "O6"],
        ["match", "--target", "50,0", "--body", "B", "--cone", "6"],
        ["match", "--target", "50,0,0", "--body", "B", "--cone", "6", "--top", "0"],
        ["match", "--target", "50,0,0", "--body", "B", "--cone", "6", "--pieces", "9"],
        ["match", "--target", "50,0,0", "--body", "B", "--cone", "6", "--region", "handle"],
        ["replace"],
        ["export"],
        ["verify", "--into", "x"],
        ["next-tests"],
    ],
)
def test_wrong_words_are_status_2_and_said_on_standard_error(words, capsys):
    assert run(words, no_window) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert "error:" in said.err


def test_no_command_opens_the_window_on_the_studio_named():
    opened = []
    assert run(["--studio", "shed"], lambda studio: opened.append(studio) or 0) == 0
    assert run([], lambda studio: opened.append(studio) or 0) == 0
    assert opened == ["shed", None]


@pytest.mark.parametrize(
    "words",
    [
        ["verify"],
        ["trust"],
        ["export", "--out", "x.csv"],
        ["predict", "--layers", "A", "--body", "B", "--cone", "6"],
        ["match", "--target", "50,0,0", "--body", "B", "--cone", "6"],
        ["replace", "--material", "A"],
        ["import", "--tiles", "t.csv"],
    ],
)
@pytest.mark.parametrize("as_json", [True, False])
def test_without_a_studio_it_says_what_to_name(words, as_json, capsys):
    assert run(words + ["--json"] * as_json, no_window) == 3
    said = capsys.readouterr()
    assert "--studio" in said.err
    if as_json:
        (problem,) = json.loads(said.out)["problems"]
        assert (problem["code"], set(problem)) == ("no-studio-named", {"code", "message", "next_step", "where"})
    else:
        assert said.out == ""


@pytest.mark.parametrize("words", [["verify"], ["trust"], ["export", "--out", "x.csv"]])
def test_a_folder_without_a_studio_is_status_3_and_stays_as_it_is(words, tmp_path, capsys):
    folder = tmp_path / "nothing"
    assert run([*words, "--json", "--studio", str(folder)], no_window) == 3
    assert json.loads(capsys.readouterr().out)["problems"][0]["code"] == "no-studio"
    assert not folder.exists()


def test_options_that_all_share_may_stand_before_the_command(tmp_path, capsys):
    assert run(["--json", "--studio", str(tmp_path / "none"), "verify"], no_window) == 3
    assert json.loads(capsys.readouterr().out)["problems"][0]["code"] == "no-studio"


def test_nothing_heavy_is_loaded_before_it_is_needed():
    heavy = ("numpy", "cv2", "scipy", "sklearn", "colour", "PySide6", "PIL", "sqlite3", "reportlab", "pyqtgraph")
    code = (
        "import sys; from swatch.__main__ import main; main(['--version']); "
        f"print([name for name in {heavy} if name in sys.modules])"
    )
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert said.splitlines()[-1] == "[]"


@pytest.mark.skipif(sys.platform == "win32", reason="pipes end otherwise there")
def test_a_reader_that_goes_away_is_no_reason_to_complain():
    reading, writing = os.pipe()
    os.close(reading)
    done = subprocess.run([sys.executable, "-m", "swatch", "verify", "--studio", "none", "--json"], stdout=writing,
                          stderr=subprocess.PIPE, check=False)  # fmt: skip
    os.close(writing)
    assert done.returncode in (0, 3)
    assert b"Traceback" not in done.stderr
    assert b"BrokenPipe" not in done.stderr


def test_ctrl_c_ends_quietly_with_130_and_stops_the_work_of_other_threads(monkeypatch, capsys):
    ended = []

    def work(report):
        try:
            while True:
                report(1, 2)
        except Stopped:
            ended.append(True)

    def interrupted(_args, out):
        with out.progress("measure") as report, ThreadPoolExecutor(1) as pool:
            pool.submit(work, report)
            signal.raise_signal(signal.SIGINT)

    monkeypatch.setattr(verify_command, "run", interrupted)
    before = signal.getsignal(signal.SIGINT)
    assert run(["verify"], no_window) == 130
    said = capsys.readouterr()
    assert (ended, said.out, said.err) == ([True], "", "")
    assert signal.getsignal(signal.SIGINT) is before


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="elsewhere there is always a display")
def test_without_a_display_the_window_is_not_tried(monkeypatch, capsys):
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)
    assert main([]) == 3
    assert "no display" in capsys.readouterr().err


def test_main_is_what_python_m_runs(capsys):
    assert main(["--version"]) == 0
    assert capsys.readouterr().out.startswith("swatch ")
