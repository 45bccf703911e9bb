"""Worker processes: a job is sent, its progress and result come back, a wish to stop ends the process."""

from __future__ import annotations

import contextlib
import os
import queue
import subprocess
import sys
import tempfile
import threading
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from types import TracebackType
from typing import Any, Self

import swatch
from swatch.terms.problems import StudioProblem
from swatch.terms.problems.work import worker_died, worker_out_of_memory, worker_silent
from swatch.terms.report import Report, Stopped, silent
from swatch.work.frames import read_frame, write_frame
from swatch.work.jobs import JOBS
from swatch.work.plain import from_bytes, to_bytes

_ONE_THREAD = dict.fromkeys(
    ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS", "NUMEXPR_NUM_THREADS"), "1"
)
SECONDS_BETWEEN_LOOKS = 0.05
WORKER_MARK = "SWATCH_WORKER"


class WorkerBug(RuntimeError):
    """A job failed in a way the potter cannot mend; carries the worker's own traceback."""


def _command() -> list[str]:
    if getattr(sys, "frozen", False):
        return [sys.executable]
    return [sys.executable, "-P", "-m", "swatch.work.worker"]


def _environment() -> dict[str, str]:
    package_home = str(Path(swatch.__file__).resolve().parents[1])
    paths = [package_home, *filter(None, os.environ.get("PYTHONPATH", "").split(os.pathsep))]
    return os.environ | _ONE_THREAD | {"PYTHONPATH": os.pathsep.join(paths), WORKER_MARK: "1"}


class _Worker:
    """One process and the thread that listens to it."""

    def __init__(self) -> None:
        self._errors = tempfile.TemporaryFile()  # noqa: SIM115  lives as long as the process
        hide = getattr(subprocess, "CREATE_NO_WINDOW", 0)
        self._process = subprocess.Popen(
            _command(),
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=self._errors,
            env=_environment(),
            creationflags=hide,
        )
        self._ended = False
        self._heard: queue.SimpleQueue[bytes | None] = queue.SimpleQueue()
        threading.Thread(target=self._listen, daemon=True, name="worker-pipe").start()

    def _listen(self) -> None:
        assert self._process.stdout is not None
        try:
            while (frame := read_frame(self._process.stdout)) is not None:
                self._heard.put(frame)
        finally:
            self._heard.put(None)

    @property
    def alive(self) -> bool:
        return self._process.poll() is None

    def run(self, name: str, request: object, report: Report) -> Any:
        assert self._process.stdin is not None
        try:
            write_frame(self._process.stdin, to_bytes({"job": name, "request": request}))
        except (OSError, ValueError) as error:  # the process is gone, or `end` closed its pipe
            if self._ended:
                raise Stopped from error
            raise worker_died(self._last_words()) from error
        said: tuple[int, int, str] = (0, 0, "")
        waited = 0.0
        while True:
            try:
                frame = self._heard.get(timeout=SECONDS_BETWEEN_LOOKS)
            except queue.Empty:
                waited += SECONDS_BETWEEN_LOOKS
                if waited > JOBS[name].silent_s:
                    raise worker_silent(seconds=round(waited)) from None
                report(*said)  # raises Stopped when the user has cancelled
                continue
            waited = 0.0
            if frame is None:
                if self._ended:
                    raise Stopped
                raise worker_died(self._last_words())
            answer = from_bytes(frame)
            if "progress" in answer:
                said = answer["progress"]
                report(*said)
            else:
                return self._result(answer)

    def _result(self, answer: dict[str, Any]) -> Any:
        if "problem" in answer:
            problem = answer["problem"]
            assert isinstance(problem, StudioProblem)
            raise problem
        if "out_of_memory" in answer:
            raise worker_out_of_memory()
        if "stopped" in answer:
            raise Stopped
        if "bug" in answer:
            raise WorkerBug(answer["bug"])
        return answer["result"]

    def _last_words(self) -> str:
        self._errors.seek(0, os.SEEK_END)
        self._errors.seek(max(0, self._errors.tell() - 400))
        lines = self._errors.read().decode(errors="replace").strip().splitlines()
        return lines[-1] if lines else ""

    def end(self) -> None:
        if self._ended:
            return
        self._ended = True
        self._process.kill()
        self._process.wait()
        assert self._process.stdin is not None
        with contextlib.suppress(OSError):  # what was still buffered for a process that is gone
            self._process.stdin.close()
        self._errors.close()


class Workers:
    """At most `most` worker processes, started when first needed and kept for the next job."""

    def __init__(self, most: int | None = None) -> None:
        self._most = most or max(1, os.cpu_count() or 1)
        self._idle: list[_Worker] = []
        self._all: set[_Worker] = set()
        self._lock = threading.Lock()
        self._places = threading.Semaphore(self._most)
        self._closed = False

    def run(self, name: str, request: object, report: Report = silent) -> Any:
        """Do one job and wait for its result; safe to call from several threads.

        Parameters
        ----------
        name : str
            A job of `swatch.work.jobs`.
        request : object
            Terms' values, numbers, texts, tuples and mappings of them.
        report : Report
            Told of progress; where it raises `Stopped` the process is ended and nothing comes back.

        Raises
        ------
        StudioProblem
            The job's own, or ``worker-died``, ``worker-out-of-memory``, ``worker-silent``.
        Stopped
            The user cancelled.
        WorkerBug
            Our own mistake, with its traceback.
        """
        with self._places:
            worker = self._take()
            try:
                result = worker.run(name, request, report)
            except StudioProblem as problem:
                self._give_back(worker, whole=not problem.code.startswith("worker-"))
                raise
            except WorkerBug:
                self._give_back(worker, whole=True)
                raise
            except BaseException:
                self._give_back(worker, whole=False)
                raise
            self._give_back(worker, whole=True)
            return result

    def run_all(self, name: str, requests: Sequence[object], report: Report = silent, what: str = "") -> list[Any]:
        """Do one job for each request on all workers; a `StudioProblem` stands in the place of its result."""
        done = 0
        lock = threading.Lock()
        stop = threading.Event()

        def listen(_of_one: int, _steps: int, _what: str = "") -> None:
            if stop.is_set():
                raise Stopped
            try:
                report(done, len(requests), what)
            except Stopped:
                stop.set()
                raise

        def one(request: object) -> Any:
            nonlocal done
            if stop.is_set():
                raise Stopped
            try:
                result = self.run(name, request, listen)
            except StudioProblem as problem:
                result = problem
            with lock:
                done += 1
                report(done, len(requests), what)
            return result

        with ThreadPoolExecutor(self._most) as pool:
            waiting = [pool.submit(one, request) for request in requests]
            try:
                return [future.result() for future in waiting]
            except BaseException:
                stop.set()
                raise

    def _take(self) -> _Worker:
        with self._lock:
            if self._closed:
                raise Stopped
            while self._idle:
                worker = self._idle.pop()
                if worker.alive:
                    return worker
                self._all.discard(worker)
                worker.end()
            worker = _Worker()
            self._all.add(worker)
            return worker

    def _give_back(self, worker: _Worker, *, whole: bool) -> None:
        with self._lock:
            if whole and worker.alive and not self._closed:
                self._idle.append(worker)
                return
            self._all.discard(worker)
        worker.end()

    def close(self) -> None:
        """End all processes; jobs still running there are stopped."""
        with self._lock:
            self._closed = True
            workers, self._all, self._idle = list(self._all), set(), []
        for worker in workers:
            worker.end()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()
