"""What all tests share: no screen, settings of their own, and the demo studio built once."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from swatch.wording.languages import ENGLISH, speak

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
# Two test workers on two cores: more threads than that only wait for each other.
for _threads in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(_threads, "1")
# On a busy machine a draw may be slow without anything being wrong; what is drawn is what matters.
settings.register_profile("studio", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("studio")
BUILT_ONCE = "demo_answers"


def pytest_collection_modifyitems(items):
    """Send all tests that need the demo studio to one worker, so that it is built once."""
    for item in items:
        if BUILT_ONCE in item.fixturenames:
            item.add_marker(pytest.mark.xdist_group("demo"))


@pytest.fixture(autouse=True)
def _own_settings(tmp_path_factory, monkeypatch):
    """Keep the settings of whoever runs the tests out of them, and theirs out of the tests'."""
    monkeypatch.setenv("SWATCH_CONFIG_DIR", str(tmp_path_factory.mktemp("config")))


@pytest.fixture(autouse=True)
def _english(monkeypatch):
    """Compare English sentences, whatever the language of whoever runs the tests; a test may speak another one."""
    monkeypatch.setenv("SWATCH_LANGUAGE", ENGLISH)
    yield
    speak(ENGLISH)


@pytest.fixture(scope="session")
def demo_answers(tmp_path_factory):
    """The demo studio as built from its photos, with its answers; read it, do not write it."""
    from swatch.work.demo import build_demo

    return build_demo(tmp_path_factory.mktemp("studios") / "demo")


@pytest.fixture
def own_demo(demo_answers, tmp_path) -> Path:
    """A copy of the demo studio that a test may write."""
    return Path(shutil.copytree(demo_answers.folder, tmp_path / "demo"))
