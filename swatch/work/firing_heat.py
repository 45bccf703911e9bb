"""How hot a firing was: its log's heat-work, corrected by its witness cones."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np

from swatch.library.studio import Studio
from swatch.science import fit, heatlog
from swatch.terms.evidence import Evidence
from swatch.terms.firing_heat import FiringHeat, LoggedHeat
from swatch.terms.layering import fold_name
from swatch.terms.materials import FiringLog
from swatch.terms.problems.studio import not_there
from swatch.terms.report import Report


def firing_heat(folder: Path, firing: str) -> FiringHeat:
    """Say what is known of the heat of one firing of the studio in `folder`.

    Raises
    ------
    StudioProblem
        The studio cannot be read, or ``not-there``: no firing is called so.
    """
    with Studio.look(folder) as studio:
        return heat_of(studio.evidence(), firing)


def heat_job(asked: dict[str, Any], report: Report) -> FiringHeat:
    """Say it from a worker."""
    report(0, 1)
    return firing_heat(Path(asked["folder"]), asked["firing"])


def heat_of(evidence: Evidence, firing: str) -> FiringHeat:
    """The same from a snapshot of the records.

    A log is good for 0.3 cone (its thermocouple), a witness cone for itself and its shelf, a cone noted as reached
    for 0.15; they are joined by their precision, so that witness cones correct a log that is off.
    """
    folded = fold_name(firing)
    found = [one for one in evidence.firings if fold_name(one.name) == folded]
    if not found:
        raise not_there(firing)
    run = found[0]
    log = next((one for one in evidence.logs if fold_name(one.firing) == folded), None)
    witnesses = tuple(one for one in evidence.witnesses if fold_name(one.firing) == folded)
    logged = None if log is None else logged_heat(log)
    told = [] if logged is None else [(logged.cone, logged.cone_sd)]
    on_shelf = float(np.hypot(fit.WITNESS_SD, fit.SHELF_HEAT_SD))
    told += [(one.cone_reached.position, on_shelf) for one in witnesses]
    if run.cone_reached is not None:
        told.append((run.cone_reached.position, fit.REACHED_SD))
    cone, sd = _joined(told)
    minutes, celsius = ((), ()) if log is None else (log.minutes, log.celsius)
    done = heatlog.work_along(np.array(minutes), np.array(celsius)) if logged is not None else ()
    return FiringHeat(
        run.name, run.cone_asked, run.cone_reached, minutes, celsius, logged, witnesses, cone, sd,
        tuple(float(share) for share in done),
    )  # fmt: skip


def logged_heat(log: FiringLog) -> LoggedHeat | None:
    """Heat-work of a log; None where it has fewer than two points."""
    if len(log.minutes) < 2:
        return None
    done = heatlog.heat_work(np.array(log.minutes), np.array(log.celsius))
    return LoggedHeat(done.peak_c, done.soak_ends_min, done.celsius_60, done.cone, done.cone_sd)


def _joined(told: Sequence[tuple[float, float]]) -> tuple[float | None, float | None]:
    if not told:
        return None, None
    cone, sd = np.array(told).T
    weight = 1.0 / sd**2
    return float(weight @ cone / weight.sum()), float(1.0 / np.sqrt(weight.sum()))
