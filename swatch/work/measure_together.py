"""Several photos of one layout, the lamp moved between them, read as one: the worker's job."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from swatch.terms.measured import MergedRead, PhotoRead, Verdict, ZoneRead
from swatch.terms.problems import Notice, StudioProblem, Where
from swatch.terms.report import Report
from swatch.work.measure import measure_one

if TYPE_CHECKING:
    from swatch.science.merging import ZoneGrid

MOVED_SHARE = 0.015
"""How far the card may lie elsewhere, over the photo's longer side, where one outline serves for all photos."""


def measure_together(
    asked: dict[str, Any], report: Report
) -> tuple[list[PhotoRead | StudioProblem], MergedRead | None]:
    """Read each photo, and then their zones together.

    Returns
    -------
    answers : list of PhotoRead or StudioProblem
        Of each photo by itself, in the order asked.
    merged : MergedRead or None
        None where fewer than two photos could be read.
    """
    answers: list[PhotoRead | StudioProblem] = []
    grids: list[dict[str, ZoneGrid]] = []
    requests = asked["photos"]
    for k, request in enumerate(requests):
        report(k, len(requests), "photos")
        found: dict[str, ZoneGrid] = {}
        try:
            answers.append(measure_one(request, _quiet(report, k, len(requests)), found))
        except StudioProblem as problem:
            answers.append(problem)
        grids.append(found)
    usable = [
        (answer, grid)
        for answer, grid in zip(answers, grids, strict=True)
        if isinstance(answer, PhotoRead) and answer.verdict is not Verdict.REFUSED
    ]
    if len(usable) < 2:
        return answers, None
    outlines_given = bool(requests[0]["zones"])
    merged = merge([read for read, _ in usable], [grid for _, grid in usable], outlines_given=outlines_given)
    return answers, _compared(merged, requests[0].get("compare", ()))


def merge(reads: list[PhotoRead], grids: list[dict[str, ZoneGrid]], *, outlines_given: bool) -> MergedRead:
    """Merge the zones of photos that were read; a zone that only some photos show is taken from those."""
    from swatch.science.merging import merge_zone

    warnings: list[Notice] = []
    if outlines_given and _moved(reads):
        warnings.append(Notice("merge-camera-moved"))
    names = dict.fromkeys(zone.zone for read in reads for zone in read.zones)
    zones: list[ZoneRead] = []
    for name in names:
        having = [
            (zone, grid[name]) for read, grid in zip(reads, grids) for zone in read.zones if zone.zone == name
        ]
        zones.append(merge_zone([zone for zone, _ in having], [grid for _, grid in having]))
        if len(having) < 2:
            warnings.append(Notice("merge-one-photo", {"zone": name}, Where(zone=name)))
    return MergedRead(tuple(read.photo for read in reads), tuple(zones), tuple(warnings))


def _moved(reads: list[PhotoRead]) -> bool:
    """Whether the card lies elsewhere in one of the photos than in the first."""
    places = [read.card.corners for read in reads if read.card is not None]
    furthest = max(
        abs(a - b)
        for corners in places[1:]
        for one, other in zip(places[0], corners, strict=True)
        for a, b in zip(one, other, strict=True)
    )
    return len({read.size for read in reads}) > 1 or furthest > MOVED_SHARE * max(reads[0].size)


def _compared(merged: MergedRead, pairs: tuple[tuple[str, str], ...]) -> MergedRead:
    from swatch.science.comparing import compare_zones

    zones = {zone.zone: zone for zone in merged.zones}
    made = [compare_zones(zones[one], zones[other]) for one, other in pairs if one in zones and other in zones]
    return replace(merged, comparisons=tuple(made))


def _quiet(report: Report, done: int, total: int) -> Report:
    """Progress of one photo as that of all: it only has to be heard that work goes on, and that it may stop."""

    def told(_done: int, _total: int, _what: str = "") -> None:
        report(done, total, "photos")

    return told
