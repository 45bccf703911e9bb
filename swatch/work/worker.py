"""A worker process: reads a job, does it, writes progress and the result; ends when its pipe closes.

Started as ``python -m swatch.work.worker`` (or by the frozen program itself). Hostile photos are decoded only
here, under a limit of memory, so that a bomb or a crash in a decoder costs one message.
"""

from __future__ import annotations

import os
import signal
import sys
import time
import traceback
from typing import BinaryIO

from swatch.terms.problems import StudioProblem
from swatch.terms.report import Stopped
from swatch.work.frames import read_frame, write_frame
from swatch.work.jobs import JOBS, job_function
from swatch.work.plain import from_bytes, to_bytes

SECONDS_BETWEEN_REPORTS = 0.05
_CV2_NO_MEMORY = -4
"""How OpenCV says that memory ran out (StsNoMem), since it raises no MemoryError."""


class _Speaker:
    """The `Report` of a job in a worker: sends progress, not more often than a person can see."""

    def __init__(self, out: BinaryIO) -> None:
        self._out = out
        self._last = 0.0

    def __call__(self, done: int, total: int, what: str = "") -> None:
        now = time.monotonic()
        if done >= total or now - self._last >= SECONDS_BETWEEN_REPORTS:
            self._last = now
            write_frame(self._out, to_bytes({"progress": [done, total, what]}))


def _limit_memory(limit_bytes: int) -> None:
    if sys.platform == "win32":
        return  # no such limit there without a job object; pixel counts are checked before decoding
    import resource

    _, hard = resource.getrlimit(resource.RLIMIT_AS)
    soft = limit_bytes if hard == resource.RLIM_INFINITY else min(limit_bytes, hard)
    resource.setrlimit(resource.RLIMIT_AS, (soft, hard))


def _answer(name: str, request: object, out: BinaryIO) -> dict[str, object]:
    _limit_memory(JOBS[name].memory_bytes)
    try:
        return {"result": job_function(name)(request, _Speaker(out))}  # type: ignore[arg-type]
    except StudioProblem as problem:
        return {"problem": problem}
    except MemoryError:
        return {"out_of_memory": True}
    except Stopped:
        return {"stopped": True}
    except Exception as error:  # noqa: BLE001  told to the program, which raises it there as our own bug
        if type(error).__module__.startswith("cv2") and getattr(error, "code", 0) == _CV2_NO_MEMORY:
            return {"out_of_memory": True}
        return {"bug": traceback.format_exc()}


def main() -> int:
    """Serve jobs until the pipe closes."""
    # Libraries print; only frames may reach the pipe, so standard output is turned to standard error.
    out = os.fdopen(os.dup(1), "wb")
    # Ctrl+C reaches every process of a terminal; it is for the program that started this one, which then ends it.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    os.dup2(2, 1)
    while (frame := read_frame(sys.stdin.buffer)) is not None:
        asked = from_bytes(frame)
        write_frame(out, to_bytes(_answer(asked["job"], asked["request"], out)))
    return 0


if __name__ == "__main__":
    sys.exit(main())
