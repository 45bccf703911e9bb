"""The same tiles photographed again: how well measuring repeats, by a gauge study of the zones all photos show."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from swatch.terms.colour import Lab
from swatch.terms.measured import PhotoRead, Verdict
from swatch.terms.problems import StudioProblem, Where
from swatch.terms.problems.photo import self_test_too_few_photos, self_test_too_few_zones
from swatch.terms.report import Report, silent
from swatch.terms.self_test import SelfTest, ZoneRepeated
from swatch.work.measure import BUILT_IN_CARD, MeasureRequest, measure_photos
from swatch.work.workers import Workers

FEWEST_PHOTOS, FEWEST_ZONES = 2, 2


@dataclass(frozen=True, slots=True)
class SelfTestRequest:
    """Photos of the same tiles, by occasion: another day, lamp, phone or person."""

    occasions: tuple[tuple[str, ...], ...]
    card: str = BUILT_IN_CARD
    zones: str | None = None


@dataclass(frozen=True, slots=True)
class SelfTested:
    """What was found, None where too little could be used; every photo that was read; what could not be used."""

    found: SelfTest | None
    photos: tuple[PhotoRead, ...]
    problems: tuple[StudioProblem, ...]


def self_test(request: SelfTestRequest, report: Report = silent, workers: Workers | None = None) -> SelfTested:
    """Read all photos and tell how far apart they are.

    A photo that is refused is left out, and an occasion with it where fewer than two are left; the study is of as
    many photos of each occasion as the smallest has.
    """
    photos = tuple(photo for occasion in request.occasions for photo in occasion)
    measured = measure_photos(MeasureRequest(photos, request.card, zones=request.zones), report, workers)
    problems = list(measured.problems)
    reads = {read.photo: read for read in measured.photos}
    for read in measured.photos:
        if read.verdict is Verdict.REFUSED:
            problems += [
                StudioProblem(notice.code, notice.where, **notice.facts).at(Where(photo=read.photo))
                for notice in read.warnings
            ]
    usable = [
        [reads[photo] for photo in occasion if photo in reads and reads[photo].verdict is not Verdict.REFUSED]
        for occasion in request.occasions
    ]
    kept = [occasion for occasion in usable if len(occasion) >= FEWEST_PHOTOS]
    found = None
    try:
        found = study(kept)
    except StudioProblem as problem:
        problems.append(problem)
    return SelfTested(found, measured.photos, tuple(problems))


def study(occasions: Sequence[Sequence[PhotoRead]]) -> SelfTest:
    """Gauge study of photos that were read, at least two of each occasion.

    Raises
    ------
    StudioProblem
        ``self-test-too-few-photos``; ``self-test-too-few-zones``: fewer than two are in every photo.
    """
    import numpy as np

    from swatch.science.colour_math import delta_e_2000
    from swatch.science.gauge import colour_gauge, within_95

    if not occasions:
        raise self_test_too_few_photos(FEWEST_PHOTOS)
    repeats = min(len(occasion) for occasion in occasions)
    by_zone = [[{zone.zone: zone for zone in read.zones} for read in occasion[:repeats]] for occasion in occasions]
    every = [read for occasion in by_zone for read in occasion]
    names = [name for name in every[0] if all(name in read for read in every)]
    if len(names) < FEWEST_ZONES:
        raise self_test_too_few_zones(len(names), FEWEST_ZONES)
    lab = np.array([[[read[name].lab for read in occasion] for occasion in by_zone] for name in names])
    gauge = colour_gauge(lab)
    between = gauge.reproducibility + gauge.interaction
    zones = []
    for k, name in enumerate(names):
        mean = lab[k].mean(axis=(0, 1))
        off = float(delta_e_2000(lab[k], mean).max())
        stated = float(np.mean([read[name].u95_de00 for read in every]))
        zones.append(ZoneRepeated(name, Lab(*mean.tolist()), off, stated))
    return SelfTest(
        occasions=tuple(tuple(read.photo for read in occasion[:repeats]) for occasion in occasions),
        zones=tuple(zones),
        repeatability_de00=within_95(gauge.repeatability),
        reproducibility_de00=within_95(between) if len(occasions) > 1 else None,
        measuring_de00=within_95(gauge.measuring),
        zones_de00=float(np.sqrt(gauge.zones)),
        mean_u95_de00=float(np.mean([zone.u95_de00 for zone in zones])),
    )
