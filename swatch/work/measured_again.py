"""Photos on record measured again with today's program: what would change, and keeping it."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import nullcontext
from dataclasses import dataclass, replace
from pathlib import Path

from swatch.library.kept_photos import KeptPhoto, KeptZone, kept_photos
from swatch.library.studio import Studio
from swatch.terms.again import MeasuredAgain, PhotoAgain, ZoneAgain
from swatch.terms.evidence import ZoneReading
from swatch.terms.layering import fold_name
from swatch.terms.measured import CardTable, PhotoRead, Point, Verdict, ZoneRead, ZoneShape
from swatch.terms.problems import StudioProblem, Where
from swatch.terms.problems.photo import (
    kept_photo_other_card,
    no_kept_photos,
    photo_not_kept,
    zone_not_read_again,
)
from swatch.terms.report import Report, silent
from swatch.work.measure import BUILT_IN_CARD, MeasureRequest, card_of, measure_job_request
from swatch.work.workers import Workers

Shot = tuple[Path, PhotoRead, list[tuple[ZoneRead, ZoneReading]]]


@dataclass(frozen=True, slots=True)
class AgainRequest:
    """Photos on record by the names they were kept under, all where none are named; and whether to keep."""

    photos: tuple[str, ...] = ()
    keep: bool = False


def measure_again(
    folder: Path, request: AgainRequest, report: Report = silent, workers: Workers | None = None
) -> MeasuredAgain:
    """Measure photos on record again, with the outlines they were read by, and tell what would change.

    With ``keep`` the new readings take the former ones' place, as one change; the former stay on record.
    A photo that is refused today, and a zone that is not read any more, keeps what is on record.

    Raises
    ------
    StudioProblem
        ``no-kept-photos``: no current reading comes from a photo.
    """
    with Studio.open(folder) if request.keep else Studio.look(folder) as studio:
        return again_in(studio, request, report, workers)


def again_in(
    studio: Studio, request: AgainRequest, report: Report = silent, workers: Workers | None = None
) -> MeasuredAgain:
    """Do what `measure_again` does, in a studio that is open."""
    found, shots = read_again(studio, request.photos, report, workers)
    if not request.keep or not shots:
        return found
    return replace(found, kept=sum(map(len, studio.keep_shots(shots))))


def read_again(
    studio: Studio, photos: tuple[str, ...] = (), report: Report = silent, workers: Workers | None = None
) -> tuple[MeasuredAgain, list[Shot]]:
    """Measure photos on record again: what would change, and what `Studio.keep_shots` takes to let it."""
    every = kept_photos(studio.file)
    if not every:
        raise no_kept_photos()
    named, problems = _named(every, photos)
    pairs, unread = _read(named, report, workers)
    shots = [(photo.path, read, _kept(photo, read)) for photo, read in pairs]
    changes = tuple(changes_of(photo, read) for photo, read in pairs)
    return MeasuredAgain(changes, 0, (*problems, *unread)), [shot for shot in shots if shot[2]]


def _named(every: Sequence[KeptPhoto], names: Sequence[str]) -> tuple[list[KeptPhoto], list[StudioProblem]]:
    """The photos of those names (all of one name, where several were kept under it), and the names not found."""
    if not names:
        return list(every), []
    wanted = {fold_name(Path(name).name): name for name in names}
    chosen = [photo for photo in every if fold_name(photo.name) in wanted]
    known = {fold_name(photo.name) for photo in chosen}
    return chosen, [photo_not_kept().at(Where(photo=name)) for fold, name in wanted.items() if fold not in known]


def _read(
    photos: Sequence[KeptPhoto], report: Report, workers: Workers | None
) -> tuple[list[tuple[KeptPhoto, PhotoRead]], list[StudioProblem]]:
    card = card_of(BUILT_IN_CARD)
    usable = [photo for photo in photos if photo.card == card.name]
    problems = [kept_photo_other_card().at(Where(photo=photo.name)) for photo in photos if photo not in usable]
    asked = [_asked(photo, card, None) for photo in usable]
    with nullcontext(workers) if workers else Workers() as hands:
        answers = hands.run_all("measure", asked, report, "photos")
        # A card that is not found by itself lies where it was shown when the photo was kept.
        lost = [k for k, answer in enumerate(answers) if isinstance(answer, PhotoRead) and answer.card is None]
        shown = [_asked(usable[k], card, usable[k].corners) for k in lost]
        for k, answer in zip(lost, hands.run_all("measure", shown, report, "photos"), strict=True):
            answers[k] = answer
    pairs = []
    for photo, answer in zip(usable, answers, strict=True):
        if isinstance(answer, StudioProblem):
            problems.append(answer.at(Where(photo=photo.name)))
            continue
        read = replace(answer, photo=photo.name)
        pairs.append((photo, read))
        if read.verdict is Verdict.REFUSED:
            problems += [StudioProblem(one.code, one.where, **one.facts).at(_at(photo)) for one in read.warnings]
            continue
        seen = {zone.zone for zone in read.zones}
        for k, zone in enumerate(photo.zones):
            if str(k) not in seen:
                place = Where(photo=photo.name, zone=f"{zone.tile} {zone.zone}")
                problems.append(zone_not_read_again().at(place))
    return pairs, problems


def _at(photo: KeptPhoto) -> Where:
    return Where(photo=photo.name)


def _asked(
    photo: KeptPhoto, card: CardTable, corners: tuple[Point, Point, Point, Point] | None
) -> dict[str, object]:
    shapes = tuple(ZoneShape(str(k), zone.polygon) for k, zone in enumerate(photo.zones))
    request = MeasureRequest((str(photo.path),), card.name, corners)
    return measure_job_request(str(photo.path), card, shapes, request)


def _pairs(photo: KeptPhoto, read: PhotoRead) -> list[tuple[KeptZone, ZoneRead]]:
    return [(photo.zones[int(zone.zone)], zone) for zone in read.zones]


def _kept(photo: KeptPhoto, read: PhotoRead) -> list[tuple[ZoneRead, ZoneReading]]:
    """What takes the former readings' place: colours only, so that all else stays as it was known."""
    return [
        (zone, ZoneReading(was.tile, was.zone, zone.lab, zone.covariance, was.stage, was.reading))
        for was, zone in _pairs(photo, read)
    ]


def changes_of(photo: KeptPhoto, read: PhotoRead) -> PhotoAgain:
    """What is on record of a photo's zones beside what is read today."""
    import numpy as np

    from swatch.science.colour_math import delta_e_2000
    from swatch.science.uncertainty import u95_of

    zones = []
    for was, zone in _pairs(photo, read):
        doubt = np.array(was.covariance.rows())
        known = bool(np.linalg.eigvalsh(doubt)[0] > 0)
        zones.append(
            ZoneAgain(
                was.tile,
                was.zone,
                was.stage,
                was.reading,
                was.lab,
                u95_of(doubt, np.array(was.lab)) if known else None,
                zone,
                float(delta_e_2000(was.lab, zone.lab)),
            )
        )
    return PhotoAgain(photo.name, read.verdict, read.warnings, tuple(zones))
