"""A studio's own card learnt from photos of it under several lights: more repeatable readings, not truer ones."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from swatch.formats.keyword_text import write_card
from swatch.terms.colour import Lab
from swatch.terms.measured import CardTable, PhotoRead, Verdict
from swatch.terms.problems import StudioProblem, Where
from swatch.terms.problems.photo import own_card_too_few
from swatch.terms.report import Report, silent
from swatch.work.files import write_file
from swatch.work.measure import BUILT_IN_CARD, MeasureRequest, card_of, measure_photos, refuse_original
from swatch.work.workers import Workers

FEWEST_PHOTOS, FEWEST_OCCASIONS = 3, 2
ALIKE_WARMTH = 0.15
"""Ln of red over blue within which two photos are taken to be in one light."""
HOURS_APART = 3.0


@dataclass(frozen=True, slots=True)
class OwnCardRequest:
    """Photos of one card, and where its own reference goes."""

    photos: tuple[str, ...]
    out: str
    card: str = BUILT_IN_CARD


@dataclass(frozen=True, slots=True)
class OwnCardLearnt:
    """What was learnt: the card, how many photos and lights it rests on, and by how much each patch moved (ΔE00).

    ``card`` is None where too little could be used.
    """

    card: CardTable | None
    photos: int
    lights: int
    moved: tuple[float, ...]
    problems: tuple[StudioProblem, ...]


def learn_own_card(
    request: OwnCardRequest, report: Report = silent, workers: Workers | None = None
) -> OwnCardLearnt:
    """Read the card in every photo and write its own reference, beside the published one, which stays as it is."""
    from swatch.science.colour_math import delta_e_2000

    published = card_of(request.card)
    refuse_original(request.out, (*request.photos, request.card))
    measured = measure_photos(MeasureRequest(request.photos, request.card), report, workers)
    problems = list(measured.problems)
    for read in measured.photos:
        if read.verdict is Verdict.REFUSED:
            problems += [
                StudioProblem(notice.code, notice.where, **notice.facts).at(Where(photo=read.photo))
                for notice in read.warnings
            ]
    reads = [read for read in measured.photos if read.card is not None and read.verdict is not Verdict.REFUSED]
    lights = by_light(reads)
    if len(reads) < FEWEST_PHOTOS or len(lights) < FEWEST_OCCASIONS:
        problems.append(own_card_too_few(len(reads), len(lights), FEWEST_PHOTOS, FEWEST_OCCASIONS))
        return OwnCardLearnt(None, len(reads), len(lights), (), tuple(problems))
    colours = own_colours(published, lights)
    card = CardTable(f"{published.name}, own", published.rows, published.columns, colours)
    write_file(Path(request.out), write_card(card))
    moved = tuple(float(delta_e_2000(new, old)) for new, old in zip(colours, published.lab, strict=True))
    return OwnCardLearnt(card, len(reads), len(lights), moved, tuple(problems))


def by_light(reads: Sequence[PhotoRead]) -> list[list[PhotoRead]]:
    """Part photos by camera, light and hours, as far as they tell."""
    groups: list[list[PhotoRead]] = []
    for read in reads:
        home = next((group for group in groups if _alike(group[0], read)), None)
        if home is None:
            groups.append([read])
        else:
            home.append(read)
    return groups


def own_colours(published: CardTable, lights: Sequence[Sequence[PhotoRead]]) -> tuple[Lab, ...]:
    """The card's own colours: published, moved by what its photos read, each light counting once.

    Of k lights, k/(k + 1) of the mean is taken, since what one phone gets wrong under every light is in it too.
    """
    import numpy as np

    reference = np.array(published.lab)
    means = [
        np.mean([[patch.read for patch in read.card.patches] for read in group if read.card is not None], axis=0)
        for group in lights
    ]
    moved = reference + (np.median(means, axis=0) - reference) * len(lights) / (len(lights) + 1.0)
    return tuple(Lab(*(round(float(part), 2) for part in lab)) for lab in moved)


def _alike(one: PhotoRead, other: PhotoRead) -> bool:
    from datetime import datetime

    if one.taken and other.taken:
        if one.taken.camera != other.taken.camera:
            return False
        if one.taken.at and other.taken.at:
            apart = datetime.fromisoformat(one.taken.at) - datetime.fromisoformat(other.taken.at)
            if abs(apart.total_seconds()) > HOURS_APART * 3600:
                return False
    return one.warmth is None or other.warmth is None or abs(one.warmth - other.warmth) <= ALIKE_WARMTH
