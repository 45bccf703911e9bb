"""The demo studio, built as a potter would build theirs: tables brought in, photos measured, shifts learnt.

Every colour is read from the photos; only layers and firings come from tables. Nothing in it is real, and it
says so wherever it shows.
"""

from __future__ import annotations

import csv
import hashlib
import io
import itertools
import json
import shutil
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from swatch.library.studio import Studio
from swatch.resources import demo_tiles
from swatch.terms.answers import MatchAnswer, MatchRequest, ReplaceAnswer
from swatch.terms.cone import parse_cone
from swatch.terms.evidence import Sheen, Stage, ZoneReading
from swatch.terms.holding import CheckAnswer, CheckRequest
from swatch.terms.layering import parse_layers
from swatch.terms.measured import PhotoRead, ZoneRead
from swatch.terms.problems import StudioProblem
from swatch.terms.problems.studio import folder_not_empty
from swatch.terms.report import Report, silent
from swatch.work.bring_in import bring_in
from swatch.work.measure import MeasureRequest, measure_photos
from swatch.work.plain import to_bytes
from swatch.work.workers import Workers

BUILT_MARK = "demo-as-built"
LOCAL_NAMES = ("cache", "photos", "backups", "quarantine", "writer.lock", "studio.seal")
TABLES = ("materials", "firings", "witness", "editions", "weighings")
HELD = ("firings", "editions", "pieces", "buttons", "counts")
"""Tables of the edition whose loads are checked."""


@dataclass(frozen=True)
class DemoAnswers:
    """What the demo studio was built from, and what it answers."""

    folder: Path
    studio: str
    note: str
    photos: tuple[PhotoRead, ...]
    readings: int
    edition: str
    reference: str
    reference_zone: ZoneRead
    replace: ReplaceAnswer
    match: MatchAnswer
    check: CheckAnswer


def build_demo(into: Path, report: Report = silent, workers: Workers | None = None) -> DemoAnswers:
    """Build the demo studio in `into` and ask it its questions.

    A demo studio that stands there already is built anew, after one that somebody has worked in was moved aside;
    anything else there is left alone and refused.

    Raises
    ------
    StudioProblem
        ``folder-not-empty``, ``studio-in-use``, or a photo of the demo could not be read.
    """
    about = json.loads((demo_tiles() / "demo.json").read_text(encoding="utf-8"))
    _clear(into)
    if workers is not None:
        return _build(into, about, report, workers)
    with Workers() as own:
        return _build(into, about, report, own)


def _build(into: Path, about: Mapping[str, str], report: Report, workers: Workers) -> DemoAnswers:
    photos = [*about["photos"], about["reference_photo"]]
    steps = len(photos) + 5
    bring_in(into, {table: demo_tiles() / f"{table}.csv" for table in TABLES})
    bring_in(into, {table: demo_tiles() / f"held_{table}.csv" for table in HELD})
    report(1, steps, "demo")
    reads = _measured(photos, lambda done, _total, _what="": report(1 + done, steps, "demo"), workers)
    with Studio.open(into) as studio:
        studio.call_it(about["studio"], about["note"])
        readings = _keep(studio, [read for read in reads if _name(read) != about["reference_photo"]])
    (into / "cache").mkdir(exist_ok=True)
    (into / "cache" / BUILT_MARK).write_text(_records_of(into), encoding="utf-8")
    report(steps - 4, steps, "demo")
    workers.run("learn", {"folder": into}, _still(report, steps - 4, steps))
    report(steps - 3, steps, "demo")
    asked = {"folder": into, "material": about["discontinued"], "top": 5}
    replaced = workers.run("replace", asked, _still(report, steps - 3, steps))
    report(steps - 2, steps, "demo")
    zone = next(
        zone
        for read in reads
        for zone in read.zones
        if _name(read) == about["reference_photo"] and zone.zone == about["reference_zone"]
    )
    request = MatchRequest(zone.lab, about["body"], parse_cone(about["cone"]), zone.covariance, top=5)
    matched = workers.run("match", {"folder": into, "request": request}, _still(report, steps - 2, steps))
    report(steps - 1, steps, "demo")
    held = CheckRequest(about["held_edition"])
    checked = workers.run("check", {"folder": into, "request": held}, _still(report, steps - 1, steps))
    report(steps, steps, "demo")
    return DemoAnswers(
        into,
        about["studio"],
        about["note"],
        tuple(reads),
        readings,
        about["edition"],
        about["reference_name"],
        zone,
        replaced,
        matched,
        checked,
    )


def _still(report: Report, done: int, total: int) -> Report:
    """Keep saying where the whole stands while one of its steps reports its own progress."""

    def say(_of_step: int, _steps: int, _what: str = "") -> None:
        report(done, total, "demo")

    return say


def _clear(into: Path) -> None:
    if not into.exists() or (into.is_dir() and not any(into.iterdir())):
        return
    try:
        with Studio.open(into, although_damaged=True) as studio:
            invented = studio.invented
    except StudioProblem as problem:
        if problem.code != "no-studio":
            raise
        invented = False
    if not invented:
        found = sorted(path.name for path in into.iterdir()) if into.is_dir() else [into.name]
        raise folder_not_empty(str(into), found[0])
    if _as_built(into):
        shutil.rmtree(into)
    else:  # somebody has worked in it: what they did is moved aside, not thrown away
        into.rename(_free_name(into))


def _records_of(folder: Path) -> str:
    """Digest of all that the demo's records say, and of what else lies in its folder."""
    with Studio.look(folder) as studio:
        said = to_bytes(
            [studio.evidence(), studio.editions(), studio.pieces(), studio.buttons(), studio.weighings()]
        )
    here = sorted(path.name for path in folder.iterdir() if path.name not in LOCAL_NAMES)
    return hashlib.sha256(said + repr(here).encode()).hexdigest()


def _as_built(folder: Path) -> bool:
    mark = folder / "cache" / BUILT_MARK
    return mark.is_file() and mark.read_text(encoding="utf-8") == _records_of(folder)


def _free_name(into: Path) -> Path:
    numbered = (into.with_name(f"{into.name} (earlier {n})") for n in itertools.count(1))
    return next(path for path in numbered if not path.exists())


def _measured(photos: Sequence[str], report: Report, workers: Workers) -> list[PhotoRead]:
    folder = demo_tiles()
    requests = [
        MeasureRequest((str(folder / photo),), zones=str((folder / photo).with_suffix(".zones.json")))
        for photo in photos
    ]
    from concurrent.futures import ThreadPoolExecutor

    done = 0

    def one(request: MeasureRequest) -> PhotoRead:
        nonlocal done
        measured = measure_photos(request, lambda *_said: report(done, len(photos), "photos"), workers)
        if measured.problems:
            raise measured.problems[0]
        done += 1
        return measured.photos[0]

    with ThreadPoolExecutor(max_workers=4) as pool:
        return list(pool.map(one, requests))


def _name(read: PhotoRead) -> str:
    return Path(read.photo).name


def _keep(studio: Studio, reads: Sequence[PhotoRead]) -> int:
    """Keep every zone that the demo's list of layers names, with what it says of it."""
    rows = csv.DictReader(io.StringIO((demo_tiles() / "layers.csv").read_text(encoding="utf-8")))
    described = {(row["photo"], row["zone_in_photo"]): row for row in rows}
    shots = []
    for read in reads:
        kept = [(zone, _reading(zone, described[_name(read), zone.zone])) for zone in read.zones]
        shots.append((Path(read.photo), read, kept))
    return sum(len(ids) for ids in studio.keep_shots(shots))


def _reading(zone: ZoneRead, row: Mapping[str, str]) -> ZoneReading:
    return ZoneReading(
        tile=row["tile"],
        zone=row["zone"],
        lab=zone.lab,
        covariance=zone.covariance,
        stage=Stage(row["stage"]),
        body=row["body"] or None,
        layers=parse_layers(row["layers"]),
        firing=row["firing"] or None,
        shelf=row["shelf"] or None,
        session=row["session"] or None,
        method=row["method"] or None,
        sheen=Sheen(row["sheen"]) if row["sheen"] else None,
        faults=tuple(row["faults"].split()),
    )
