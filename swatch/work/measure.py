"""Photos in, colours out: each photo is read by a worker process, on all cores."""

from __future__ import annotations

import os
from collections.abc import Sequence
from contextlib import nullcontext
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from swatch.formats.keyword_text import read_card
from swatch.formats.zones_file import read_zones
from swatch.resources import resource
from swatch.terms.colour import Lab
from swatch.terms.measured import CardTable, MergedRead, PhotoRead, Point, Verdict, ZoneShape
from swatch.terms.problems import Notice, StudioProblem, Where
from swatch.terms.problems.photo import own_card_does_not_fit
from swatch.terms.problems.work import file_not_written
from swatch.terms.report import Report, silent
from swatch.work.files import read_file, write_file
from swatch.work.workers import Workers

if TYPE_CHECKING:
    from swatch.science.merging import ZoneGrid

LARGEST_PHOTO_BYTES = 400 << 20
"""A 16-bit TIFF of 60 megapixels is 360 MB."""
BUILT_IN_CARD = "rendition-24"


@dataclass(frozen=True, slots=True)
class MeasureRequest:
    """Photos to read, and with what."""

    photos: tuple[str, ...]
    card: str = BUILT_IN_CARD
    corners: tuple[Point, Point, Point, Point] | None = None
    zones: str | None = None
    blank: str | None = None
    overlay: str | None = None
    compare: tuple[tuple[str, str], ...] = ()
    merge: bool = False
    neutral: Point | None = None
    neutral_lightness: float | None = None
    own_card: str | None = None


@dataclass(frozen=True, slots=True)
class Measured:
    """The photos that were read, in the order asked, and why the others were not; and all of them as one."""

    photos: tuple[PhotoRead, ...]
    problems: tuple[StudioProblem, ...]
    merged: MergedRead | None = None


def card_of(name: str) -> CardTable:
    """The built-in card of that name, or the card in an ISO 28178 text file."""
    built_in = resource("cards", f"{name}.txt")
    if name == BUILT_IN_CARD:
        return read_card(built_in.read_bytes(), name)
    return read_card(read_file(name), name)


def measure_photos(request: MeasureRequest, report: Report = silent, workers: Workers | None = None) -> Measured:
    """Read every photo; one that cannot be read is a problem and does not stop the others.

    Raises
    ------
    StudioProblem
        The card, the zones or the blank sheet cannot be used, so that no photo can be read.
    """
    card = card_of(request.card)
    own = _own_card(request.own_card, card)
    zones = read_zones(read_file(request.zones), request.zones) if request.zones else ()
    if request.blank is not None:
        read_file(request.blank, LARGEST_PHOTO_BYTES)
    if request.overlay is not None:
        _refuse_original(request)
    asked = [measure_job_request(photo, card, zones, request) | {"own": own} for photo in request.photos]
    with nullcontext(workers) if workers else Workers(_processes(request)) as hands:
        if request.merge:
            answers, merged = hands.run("measure together", {"photos": asked}, report)
        else:
            answers, merged = hands.run_all("measure", asked, report, "photos"), None
        undrawn = _drawn(request, answers, hands, report)
    problems = [
        answer.at(Where(photo=photo))
        for photo, answer in zip(request.photos, answers, strict=True)
        if isinstance(answer, StudioProblem)
    ]
    reads = tuple(answer for answer in answers if isinstance(answer, PhotoRead))
    return Measured(reads, (*problems, *undrawn), merged)


def _own_card(path: str | None, card: CardTable) -> tuple[Lab, ...] | None:
    """The colours of a learnt card, which has to have the layout of `card`."""
    if path is None:
        return None
    own = read_card(read_file(path), path)
    if (own.rows, own.columns) != (card.rows, card.columns):
        raise own_card_does_not_fit(card.name).at(Where(file=path))
    return own.lab


def _drawn(
    request: MeasureRequest, answers: Sequence[object], hands: Workers, report: Report
) -> list[StudioProblem]:
    """Write the overlay of the one photo; what was read stands, even where it cannot be drawn."""
    if request.overlay is None or len(answers) != 1 or not isinstance(answers[0], PhotoRead):
        return []
    try:
        hands.run("overlay", {"photo": request.photos[0], "read": answers[0], "out": request.overlay}, report)
    except StudioProblem as problem:
        return [problem]
    return []


def _refuse_original(request: MeasureRequest) -> None:
    """Originals are never altered: the overlay may not be written over what is read."""
    refuse_original(
        str(request.overlay), (*request.photos, request.blank, request.zones, request.card, request.own_card)
    )


def refuse_original(out: str, read: Sequence[str | None]) -> None:
    """Raise ``file-not-written`` where what is to be written would lie over a file that is read."""
    for given in read:
        if given is not None and os.path.exists(given) and os.path.exists(out) and os.path.samefile(given, out):
            raise file_not_written("it would be written over a file that is read").at(Where(file=out))


def _processes(request: MeasureRequest) -> int:
    return 1 if request.merge else max(1, min(len(request.photos), os.cpu_count() or 1))


def measure_job_request(
    photo: str, card: CardTable, zones: tuple[ZoneShape, ...], request: MeasureRequest
) -> dict[str, object]:
    """What the worker's job ``measure`` needs to read one photo."""
    return {
        "photo": photo,
        "card": [card.name, card.rows, card.columns, card.lab],
        "zones": zones,
        "corners": request.corners,
        "blank": request.blank,
        "compare": request.compare,
        "neutral": request.neutral,
        "neutral_lightness": request.neutral_lightness,
    }


def measure_one(asked: dict[str, Any], report: Report, grids: dict[str, ZoneGrid] | None = None) -> PhotoRead:
    """Read one photo (the worker's job); `grids` is filled as `measure` says."""
    import numpy as np

    from swatch.science.card import Card
    from swatch.science.measuring import measure
    from swatch.science.picture import decode

    report(0, 3, "decoding")
    name, rows, columns, lab = asked["card"]
    picture = decode(read_file(asked["photo"], LARGEST_PHOTO_BYTES), asked["photo"])
    if asked.get("neutral"):
        from swatch.science.neutral import measure_by_neutral

        report(1, 3, "reading")
        point, lightness = asked["neutral"], asked["neutral_lightness"]
        return measure_by_neutral(picture, asked["zones"], point, photo=asked["photo"], lightness=lightness)
    blank = decode(read_file(asked["blank"], LARGEST_PHOTO_BYTES), asked["blank"]) if asked["blank"] else None
    report(1, 3, "reading")
    read = measure(
        picture,
        Card(name, rows, columns, np.array(lab, dtype=float)),
        asked["zones"],
        photo=asked["photo"],
        corners=asked["corners"],
        blank=blank,
        own=np.array(asked["own"], dtype=float) if asked.get("own") else None,
        grids=grids,
    )
    report(2, 3, "reading")
    if asked.get("compare"):
        read = with_comparisons(read, asked["compare"])
    return read


def overlay_one(asked: dict[str, Any], report: Report) -> str:
    """Write a photo with what was found in it drawn on it (the worker's job); gives the file's path back."""
    from swatch.science.picture import decode
    from swatch.work.overlay import write_overlay

    report(0, 2, "decoding")
    picture = decode(read_file(asked["photo"], LARGEST_PHOTO_BYTES), asked["photo"])
    report(1, 2, "reading")
    write_overlay(picture, asked["read"], Path(asked["out"]))
    return str(asked["out"])


def with_comparisons(read: PhotoRead, pairs: Sequence[tuple[str, str]]) -> PhotoRead:
    """Add the comparisons asked for; a zone that was not read is told in the photo's warnings."""
    from swatch.science.comparing import compare

    found, missing = [], []
    for one, other in pairs if read.verdict is not Verdict.REFUSED else ():
        try:
            found.append(compare(read, one, other))
        except StudioProblem as problem:
            missing.append(Notice(problem.code, problem.facts, problem.where))
    return replace(read, comparisons=tuple(found), warnings=(*read.warnings, *missing))


def preview_one(asked: dict[str, Any], report: Report) -> str:
    """Write a small JPEG of a photo, upright, for the window (the worker's job); gives its path back."""
    from swatch.science.picture import decode, preview_jpeg

    report(0, 2, "decoding")
    picture = decode(read_file(asked["photo"], LARGEST_PHOTO_BYTES), asked["photo"], quick=True)
    report(1, 2, "reading")
    out = Path(asked["out"])
    write_file(out, preview_jpeg(picture, int(asked["long_side"])))
    return str(out)


def preview(photo: Path, out: Path, long_side: int, workers: Workers, report: Report = silent) -> Path:
    """Have a worker write an upright JPEG of `photo`, `long_side` pixels on its longer side, at `out`."""
    out.parent.mkdir(parents=True, exist_ok=True)
    asked = {"photo": str(photo), "out": str(out), "long_side": long_side}
    return Path(workers.run("preview", asked, report))
