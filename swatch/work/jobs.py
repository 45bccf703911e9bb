"""Every job a worker process knows, by name, with what it may use."""

from __future__ import annotations

import importlib
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from swatch.terms.report import Report

GIB = 1 << 30


@dataclass(frozen=True, slots=True)
class JobKind:
    """Where a job's function is, how much memory it may take, and how long it may be silent.

    A job on a hostile file is held short; a fit over thousands of tiles may think for longer between two steps.
    """

    place: str
    memory_bytes: int
    silent_s: float


JOBS = {
    "measure": JobKind("swatch.work.measure:measure_one", 4 * GIB, 40.0),
    "pieces": JobKind("swatch.work.pieces:pieces_job", 4 * GIB, 40.0),
    "measure together": JobKind("swatch.work.measure_together:measure_together", 4 * GIB, 40.0),
    "overlay": JobKind("swatch.work.measure:overlay_one", 4 * GIB, 40.0),
    "preview": JobKind("swatch.work.measure:preview_one", 4 * GIB, 40.0),
    "backs": JobKind("swatch.work.backs:backs_of_tiles", 4 * GIB, 40.0),
    "learn": JobKind("swatch.work.learn:learn_job", 8 * GIB, 600.0),
    "predict": JobKind("swatch.work.predict:predict_job", 8 * GIB, 600.0),
    "match": JobKind("swatch.work.match:match_job", 8 * GIB, 600.0),
    "replace": JobKind("swatch.work.replace:replace_job", 8 * GIB, 600.0),
    "next tests": JobKind("swatch.work.next_tests:next_tests_job", 8 * GIB, 600.0),
    "trial": JobKind("swatch.work.trial:trial_job", 8 * GIB, 600.0),
    "colours": JobKind("swatch.work.colours:jar_colours_job", 8 * GIB, 600.0),
    "knows": JobKind("swatch.work.knowledge:knowledge_job", 8 * GIB, 600.0),
    "heat": JobKind("swatch.work.firing_heat:heat_job", 4 * GIB, 60.0),
    "check": JobKind("swatch.work.check:check_job", 8 * GIB, 600.0),
    "material plan": JobKind("swatch.work.material_plan:material_plan_job", 4 * GIB, 600.0),
    "edition report": JobKind("swatch.work.edition_report:edition_report_job", 8 * GIB, 600.0),
    "button plan": JobKind("swatch.work.button_plan:button_plan_job", 8 * GIB, 600.0),
    "trust": JobKind("swatch.work.trust:trust_job", 8 * GIB, 1800.0),
}


def job_function(name: str) -> Callable[[dict[str, Any], Report], object]:
    """Load the function of a job; heavy libraries come in only now."""
    module, function = JOBS[name].place.split(":")
    found: Callable[[dict[str, Any], Report], object] = getattr(importlib.import_module(module), function)
    return found
