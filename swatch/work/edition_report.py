"""All that a report of an edition or a load says, gathered; and the colours it is drawn in."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

from swatch import __version__
from swatch.library.studio import Studio
from swatch.terms.colour import Lab
from swatch.terms.edition_report import EditionReport, ReportRequest
from swatch.terms.editions import EditionRegion, PieceReading
from swatch.terms.holding import CheckAnswer, CheckRequest
from swatch.terms.layering import fold_name
from swatch.terms.material_plan import PlanRequest
from swatch.terms.problems import StudioProblem
from swatch.terms.problems.holding import no_such_load, unknown_edition
from swatch.terms.report import Report, silent
from swatch.work.check import check
from swatch.work.material_plan import Stock, planned_from, stock_of


def edition_report(folder: Path, request: ReportRequest, report: Report = silent) -> EditionReport:
    """Gather the report of an edition, or of one load.

    Raises
    ------
    StudioProblem
        ``unknown-edition``, ``no-such-load``, or the studio cannot be read.
    """
    with Studio.look(folder) as studio:
        stock, name, invented = stock_of(studio), studio.name, studio.invented
    mine = [one for one in stock.regions if fold_name(one.edition) == fold_name(request.edition)]
    if not mine:
        known = ", ".join(dict.fromkeys(one.edition for one in stock.regions)) or "–"
        raise unknown_edition(request.edition, known)
    found = _checked(folder, request, report)
    on = request.on or _last_day(stock, mine)
    plan = None
    if not request.firing and on:
        plan = planned_from(stock, PlanRequest(request.edition, on))
    return EditionReport(
        edition=mine[0].edition,
        firing=found.loads[0].firing if found is not None and request.firing else "",
        studio=name,
        invented=invented,
        on=on,
        version=__version__,
        body=next((one.body for one in mine if one.body), ""),
        cone=next((str(one.cone) for one in mine if one.cone), ""),
        layers=tuple((one.region, one.layers) for one in mine),
        check=found,
        plan=plan,
    )


def edition_report_job(asked: dict[str, Any], report: Report) -> EditionReport:
    """Gather in a worker."""
    return edition_report(Path(asked["folder"]), asked["request"], report)


def rgb_of(lab: Lab) -> tuple[float, float, float]:
    """A colour as sRGB, 0 to 1, brought inside at its own hue where a screen or printer cannot show it."""
    from swatch.science.colour_math import lab_to_srgb

    rgb, _ = lab_to_srgb([lab])
    red, green, blue = (float(part) for part in rgb[0])
    return red, green, blue


def _checked(folder: Path, request: ReportRequest, report: Report) -> CheckAnswer | None:
    asked = CheckRequest(request.edition, request.tolerance, request.set_size, request.hold_back)
    try:
        answer = check(folder, asked, report)
    except StudioProblem as problem:
        if problem.code != "nothing-measured" or request.firing:
            raise
        return None
    return one_load(answer, request.firing) if request.firing else answer


def one_load(answer: CheckAnswer, firing: str) -> CheckAnswer:
    """What of a check is of one load; charts, kiln and spread stay those of all.

    Raises
    ------
    StudioProblem
        ``no-such-load``.
    """
    loads = tuple(one for one in answer.loads if fold_name(one.firing) == fold_name(firing))
    if not loads:
        raise no_such_load(firing, ", ".join(one.firing for one in answer.loads) or "–")
    pieces = tuple(one for one in answer.pieces if fold_name(one.firing) == fold_name(firing))
    names = {one.piece for one in pieces}
    kept = [k for k, one in enumerate(answer.sets) if set(one) <= names]
    return replace(
        answer,
        loads=loads,
        pieces=pieces,
        sets=tuple(answer.sets[k] for k in kept),
        sets_de00=tuple(answer.sets_de00[k] for k in kept),
        held_back=tuple(one for one in answer.held_back if one in names),
    )


def _last_day(stock: Stock, mine: list[EditionRegion]) -> str:
    """The last day on record of an edition; nothing where none is known."""
    edition = fold_name(mine[0].edition)
    dates = {fold_name(one.name): one.date for one in stock.evidence.firings if one.date}
    days = [dates.get(fold_name(one.firing or "")) for one in stock.pieces if _of(one, edition)]
    days += [one.at for one in stock.counts if fold_name(one.edition) == edition]
    return max((day for day in days if day), default="")


def _of(piece: PieceReading, edition: str) -> bool:
    return fold_name(piece.edition) == edition
