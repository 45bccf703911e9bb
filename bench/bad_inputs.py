"""150 bad inputs through the real reading of photos: what each comes to, how long it takes, how much memory.

python -m bench.bad_inputs            all of them, one after the other, and then as one queue
python -m bench.bad_inputs --only jpeg

Each is refused with its reason or read right: no crash, no hang over 10 s, no growth over 1 GiB.
"""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from bench import bad_files
from swatch.science.colour_math import delta_e_2000
from swatch.terms.measured import PhotoRead, Verdict
from swatch.work.measure import Measured, MeasureRequest, measure_photos
from swatch.work.workers import Workers

MOST_SECONDS, MOST_GROWTH = 10.0, 1 << 30
READ_RIGHT = 1.5
"""ΔE00 by which a spoilt file's zone may differ from the sound photo's, beyond its own 95 % uncertainty."""


@dataclass(frozen=True)
class Outcome:
    """What one bad input came to; ``fault`` is empty where it is as it should be."""

    name: str
    ended: str
    seconds: float
    growth: int
    fault: str = ""


def good_photo() -> tuple[bytes, dict[str, list[tuple[float, float]]]]:
    """A sound photo to spoil, a chart and three tiles on white paper, and its zones."""
    from bench.painted import COLOURS, jpeg_of, paint

    painted = paint(COLOURS[:3])
    return jpeg_of(painted), {shape.zone: list(shape.polygon) for shape in painted.zones}


@contextmanager
def bench_place() -> Iterator[tuple[Path, bad_files.Good]]:
    """A folder for the bad inputs with the zones beside it, and the sound photo."""
    photo, zones = good_photo()
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        shapes = [{"zone": name, "polygon": outline} for name, outline in zones.items()]
        (place / "zones.json").write_text(json.dumps({"zones": shapes}))
        (place / "bad").mkdir()
        yield place, bad_files.Good(photo)


def peak_of_children(reset: bool = False) -> int:
    """Most bytes of memory any child process has held since the last reset; Linux only."""
    most = 0
    # A worker is the child of the thread that started it, and that of the whole process once the thread has ended.
    for listed in list(Path("/proc/self/task").glob("*/children")):
        try:
            pids = listed.read_text().split()
        except OSError:  # the thread ended meanwhile
            continue
        for pid in pids:
            try:
                if reset:
                    Path(f"/proc/{pid}/clear_refs").write_text("5")
                status = Path(f"/proc/{pid}/status").read_text()
            except OSError:  # it ended meanwhile
                continue
            most = max([most, *(int(line.split()[1]) << 10 for line in status.splitlines() if "VmHWM" in line)])
    return most


def judge(case: bad_files.Bad, measured: Measured, sound: PhotoRead) -> tuple[str, str]:
    """How an input ended, and what is wrong with that."""
    if measured.problems:
        code = measured.problems[0].code
        if code in ("worker-died", "worker-silent", "worker-out-of-memory"):
            return code, f"ended the worker: {measured.problems[0].facts}"
        return code, "" if case.ends != "read" else "should have been read"
    (read,) = measured.photos
    if read.verdict is Verdict.REFUSED:
        reasons = "+".join(notice.code for notice in read.warnings)
        return f"refused: {reasons}", "" if reasons and case.ends != "read" else "should have been read"
    if case.ends == "refused":
        return "read", "should have been refused"
    off = _further_off(read, sound)
    return f"read, {off:+.1f} beyond its doubt", "" if off <= READ_RIGHT else "read wrong"


def _further_off(read: PhotoRead, sound: PhotoRead) -> float:
    """How far the worst zone is off beyond its own uncertainty; warned zones say themselves that they may be."""
    wanted = {zone.zone: np.array(zone.lab) for zone in sound.zones}
    off = [float(delta_e_2000(np.array(z.lab), wanted[z.zone])) - z.u95_de00 for z in read.zones]
    return max(off, default=-1.0)


def run_one(case: bad_files.Bad, place: Path, workers: Workers, sound: PhotoRead, good: bad_files.Good) -> Outcome:
    """Make one input, have it read and take it away."""
    path = case.make(place / "bad", good)
    before = peak_of_children(reset=True)
    began = time.monotonic()
    try:
        measured = measure_photos(MeasureRequest((path,), zones=str(place / "zones.json")), workers=workers)
    except Exception as error:  # noqa: BLE001  whatever reaches here is a fault to be told
        return Outcome(case.name, type(error).__name__, time.monotonic() - began, 0, str(error)[-600:])
    seconds, growth = time.monotonic() - began, peak_of_children() - before
    ended, fault = judge(case, measured, sound)
    if seconds > MOST_SECONDS:
        fault = fault or f"took {seconds:.1f} s"
    if growth > MOST_GROWTH:
        fault = fault or f"grew by {growth >> 20} MiB"
    return Outcome(case.name, ended, seconds, growth, fault)


def read_sound(place: Path, workers: Workers, good: bad_files.Good) -> PhotoRead:
    """The sound photo's own reading, to compare with."""
    photo = place / "sound.jpg"
    photo.write_bytes(good.jpeg)
    measured = measure_photos(MeasureRequest((str(photo),), zones=str(place / "zones.json")), workers=workers)
    return measured.photos[0]


def main() -> int:
    """Run them all; 1 where one of them is not as it should be."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--only", default="")
    only = words.parse_args().only
    chosen = [case for case in bad_files.cases() if only in case.name]
    faults = 0
    with bench_place() as (place, good), Workers(1) as workers:
        sound = read_sound(place, workers, good)
        outcomes = []
        for case in chosen:
            outcome = run_one(case, place, workers, sound, good)
            outcomes.append(outcome)
            faults += bool(outcome.fault)
            mark = f"  ← {outcome.fault}" if outcome.fault else ""
            growth = outcome.growth >> 20
            print(f"{case.name:42} {outcome.seconds:5.1f} s {growth:5} MiB  {outcome.ended}{mark}", flush=True)
            bad_files.sweep(place / "bad")
        faults += _as_one_queue([c for c in chosen if not c.heavy], place, good)
    print(
        f"{len(outcomes)} inputs, {faults} not as they should be; slowest {max(o.seconds for o in outcomes):.1f} s"
    )
    return int(faults > 0)


def _as_one_queue(chosen: list[bad_files.Bad], place: Path, good: bad_files.Good) -> int:
    """All of them in one call with the sound photo last, which must still be read."""
    paths = [case.make(place / "bad", good) for case in chosen]
    request = MeasureRequest((*paths, str(place / "sound.jpg")), zones=str(place / "zones.json"))
    measured = measure_photos(request)
    whole = len(measured.photos) + len(measured.problems) == len(paths) + 1
    last = bool(measured.photos) and measured.photos[-1].photo == str(place / "sound.jpg")
    print(f"as one queue: {len(measured.photos)} read, {len(measured.problems)} refused, sound one read: {last}")
    return int(not (whole and last and measured.photos[-1].verdict is not Verdict.REFUSED))


if __name__ == "__main__":
    sys.exit(main())
