"""Keeps photos in studios and dies at a given step: run by `test_killed`, never imported by the program.

``python keeping_killed.py JOBS.json``: a list of ``{"folder", "photos", "acknowledged", "die_at", "die_after"}``.
Each job opens its studio and keeps its photos, as the program does, in a process of its own, and dies at the
counted step ``die_at`` (0: never), or ``die_after`` seconds (0: never). What has been acknowledged stands in the
file ``acknowledged``, one JSON list of reading ids a line; ``done N`` at its end says that N steps were counted.
"""

from __future__ import annotations

import _sqlite3
import ctypes
import json
import os
import signal
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from swatch.library import disk, file, originals
from swatch.library.studio import Studio
from swatch.terms.colour import Covariance, Lab
from swatch.terms.evidence import ZoneReading
from swatch.terms.layering import parse_layers
from swatch.terms.measured import PhotoRead, Verdict, ZoneRead

COVARIANCE = Covariance(1, 0, 0, 1, 0, 1)
SQUARE = ((0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (0.0, 9.0))
STEPS = ("write", "flush_file", "rename", "remove", "flush_folder")


class Steps:
    """Counts the steps by which bytes reach the disk, and dies at one of them."""

    def __init__(self, die_at: int) -> None:
        self.n, self.die_at = 0, die_at

    def step(self) -> bool:
        self.n += 1
        return self.n == self.die_at

    def counted(self, what: Callable[..., Any]) -> Callable[..., Any]:
        def run(*args: Any) -> Any:
            if self.step():
                die()
            return what(*args)

        return run

    def half_written(self, write: Callable[[int, bytes], None]) -> Callable[[int, bytes], None]:
        def run(fd: int, data: bytes) -> None:
            if self.step():
                write(fd, data[: len(data) // 2])
                die()
            write(fd, data)

        return run


def die() -> None:
    os.kill(os.getpid(), signal.SIGKILL if hasattr(signal, "SIGKILL") else signal.SIGTERM)


def count_steps(steps: Steps) -> list[Any]:
    """Have every step of ours and, where SQLite lets itself be asked, every write of its own counted."""
    for name in STEPS:
        wrap = steps.half_written if name == "write" else steps.counted
        setattr(disk, name, wrap(getattr(disk, name)))
    commit = file.commit

    def counted_commit(sql: Any) -> None:
        if steps.step():
            die()
        commit(sql)
        if steps.step():
            die()

    file.commit = counted_commit
    return count_sqlite(steps)


class _Vfs(ctypes.Structure):
    """SQLite's own description of how it reaches the disk (sqlite3.h, struct sqlite3_vfs)."""

    _fields_ = (
        ("iVersion", ctypes.c_int),
        ("szOsFile", ctypes.c_int),
        ("mxPathname", ctypes.c_int),
        ("pNext", ctypes.c_void_p),
        ("zName", ctypes.c_char_p),
        ("pAppData", ctypes.c_void_p),
        ("others", ctypes.c_void_p * 13),
        ("xSetSystemCall", ctypes.CFUNCTYPE(ctypes.c_int, ctypes.c_void_p, ctypes.c_char_p, ctypes.c_void_p)),
        ("xGetSystemCall", ctypes.CFUNCTYPE(ctypes.c_void_p, ctypes.c_void_p, ctypes.c_char_p)),
    )


_INT, _SIZE, _TEXT, _BYTES = ctypes.c_int, ctypes.c_ssize_t, ctypes.c_char_p, ctypes.c_void_p
_CALLS = {
    b"pwrite": ctypes.CFUNCTYPE(_SIZE, _INT, _BYTES, ctypes.c_size_t, ctypes.c_int64),
    b"pwrite64": ctypes.CFUNCTYPE(_SIZE, _INT, _BYTES, ctypes.c_size_t, ctypes.c_int64),
    b"ftruncate": ctypes.CFUNCTYPE(_INT, _INT, ctypes.c_int64),
    b"unlink": ctypes.CFUNCTYPE(_INT, _TEXT),
}


def count_sqlite(steps: Steps) -> list[Any]:
    """Count SQLite's system calls; returns what must be kept alive, nothing where they cannot be reached."""
    library = ctypes.CDLL(_sqlite3.__file__) if hasattr(_sqlite3, "__file__") else ctypes.CDLL(None)
    find = getattr(library, "sqlite3_vfs_find", None)
    if find is None or os.name == "nt":
        return []
    find.restype = ctypes.c_void_p
    where = find(None)
    vfs = _Vfs.from_address(where)
    kept: list[Any] = [vfs]
    for name, kind in _CALLS.items():
        address = vfs.xGetSystemCall(where, name)
        if not address:
            continue
        call = kind(steps.counted(kind(address)))
        vfs.xSetSystemCall(where, name, ctypes.cast(call, ctypes.c_void_p))
        kept.append(call)
    return kept


def read_of(
    photo: Path, tiles: list[str], light: float
) -> tuple[Path, PhotoRead, list[tuple[ZoneRead, ZoneReading]]]:
    """Stand in for the measuring, which is not what is tried here."""
    zones = [ZoneRead(tile, SQUARE, Lab(light, 1, 2), COVARIANCE, 2.0, 1.0, 0.9) for tile in tiles]
    read = PhotoRead(str(photo), (9, 9), Verdict.GOOD, None, tuple(zones))
    layers = parse_layers("Sedgewater*2 > Bramling clear")
    return (
        photo,
        read,
        [(z, ZoneReading(z.zone, "A", z.lab, COVARIANCE, layers=layers, firing="F1")) for z in zones],
    )


def changes(photos: Path) -> list[list[Any]]:
    """The named changes of one job: photos kept together, then another with the first measured again."""
    a, b, c = sorted(photos.iterdir())
    return [
        [read_of(a, ["T1", "T2"], 40.0), read_of(b, ["T3"], 41.0)],
        [read_of(c, ["T4"], 42.0), read_of(a, ["T1"], 43.0)],
    ]


def keep_all(job: dict[str, Any]) -> None:
    """Do one job in this process."""
    os.fsync = lambda fd: None  # a killed process loses nothing the system has; flushing only takes time here
    log = os.open(job["acknowledged"], os.O_CREAT | os.O_WRONLY | os.O_APPEND)
    steps = Steps(job["die_at"])
    kept = count_steps(steps)
    if job["die_after"]:
        signal.setitimer(signal.ITIMER_REAL, job["die_after"])  # nobody listens: the process ends where it stands
    start = time.perf_counter()
    with Studio.open(Path(job["folder"])) as studio:
        for change in changes(Path(job["photos"])):
            ids = studio.keep_shots(change)
            os.write(log, (json.dumps([one for shot in ids for one in shot]) + "\n").encode())
    os.write(log, f"done {steps.n} {len(kept)} {time.perf_counter() - start}\n".encode())


def main() -> None:
    assert originals  # loaded once here, so that a forked job has nothing left to load
    for job in json.loads(Path(sys.argv[1]).read_text()):
        child = os.fork()
        if child == 0:
            keep_all(job)
            os._exit(0)
        os.waitpid(child, 0)


if __name__ == "__main__":
    main()
