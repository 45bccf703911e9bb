"""What a bare system lacks is said with the line that installs it, before Qt would abort."""

from __future__ import annotations

import sys

import pytest

from swatch.cli import system_libraries
from swatch.cli.system_libraries import has_display, missing_packages, say_what_is_missing

pytestmark = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="only Linux lacks them")

BASIC = {"libgl1", "libegl1", "libxkbcommon0", "libglib2.0-0", "libfontconfig1", "libdbus-1-3"}
ON_A_SCREEN = {"libxkbcommon-x11-0", "libxcb-cursor0", "libxcb-icccm4", "libxcb-keysyms1", "libxcb-shape0"}


@pytest.fixture(autouse=True)
def _no_display(monkeypatch):
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)


def test_a_bare_system_needs_the_basic_packages():
    assert set(missing_packages(lambda _library: False)) == BASIC


def test_on_a_screen_of_x_it_needs_more(monkeypatch):
    monkeypatch.setenv("DISPLAY", ":0")
    assert set(missing_packages(lambda _library: False)) == BASIC | ON_A_SCREEN
    monkeypatch.setenv("QT_QPA_PLATFORM", "offscreen")
    assert set(missing_packages(lambda _library: False)) == BASIC
    monkeypatch.setenv("QT_QPA_PLATFORM", "xcb")
    assert "libxcb-cursor0" in missing_packages(lambda library: "cursor" not in library)
    assert missing_packages(lambda _library: True) == ()


def test_a_display_is_there_where_one_is_named(monkeypatch):
    assert not has_display()
    monkeypatch.setenv("WAYLAND_DISPLAY", "wayland-0")
    assert has_display()


@pytest.mark.skipif(not system_libraries._loads("libxcb.so.1"), reason="X cannot be asked here")
def test_a_display_that_does_not_answer_is_none(monkeypatch):
    monkeypatch.setenv("DISPLAY", ":98765")
    assert not has_display()


def test_without_a_display_it_says_so(capsys):
    assert not say_what_is_missing()
    assert "no display" in capsys.readouterr().err


def test_the_missing_packages_are_named_in_one_line_to_copy(monkeypatch, capsys):
    monkeypatch.setenv("QT_QPA_PLATFORM", "offscreen")
    monkeypatch.setattr(system_libraries, "_loads", lambda library: "EGL" not in library)
    assert not say_what_is_missing()
    assert "apt-get install libegl1\n" in capsys.readouterr().err


def test_a_library_that_every_system_has_loads_and_an_invented_one_does_not():
    assert system_libraries._loads("libc.so.6")
    assert not system_libraries._loads("libnosuchthing.so.9")
