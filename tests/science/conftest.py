"""Invented studios for the tests of learning: the benchmark's own generator, loaded from its file."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest

from swatch.science.shifts import fit_studio
from swatch.terms.report import silent


def _studios() -> ModuleType:
    name = "invented_studios"
    if name not in sys.modules:
        where = Path(__file__).parents[2] / "bench" / "studios.py"
        spec = importlib.util.spec_from_file_location(name, where)
        sys.modules[name] = module = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(module)
    return sys.modules[name]


@pytest.fixture(scope="session")
def studios():
    return _studios()


@pytest.fixture(scope="session")
def studio(studios):
    """The truth of a small invented studio."""
    return studios.make_studio(5, "home", 12)


@pytest.fixture(scope="session")
def fired(studios, studio):
    """60 of its tiles as fired and measured."""
    random = np.random.default_rng(11)
    return studios.fire(studio, studios.plan_tiles(studio, 60, random), random).data


@pytest.fixture(scope="session")
def fitted(fired):
    return fit_studio(fired, silent)
