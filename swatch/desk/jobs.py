"""Long work off the UI thread: heard only on the UI thread, and not at all once stopped."""

from __future__ import annotations

import threading
from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, Qt, QThreadPool, Signal

from swatch.terms.report import Report, Stopped

if TYPE_CHECKING:
    from swatch.work.workers import Workers

Work = Callable[[Report], object]


class Job(QObject):
    """Run ``work(report)`` off the UI thread; speak of it only on the UI thread.

    After `stop` neither progress nor a result is delivered; `ended` comes exactly once in every case.
    """

    progressed = Signal(int, int, str)  # done, total, what
    began = Signal()
    """A thread has taken it up; until then it waits behind other work."""
    finished = Signal(object)
    failed = Signal(object)
    ended = Signal()
    over = Signal()
    """The work's thread has let go, stopped or not; what was lent to it can be taken back."""
    _said = Signal(object)
    _let_go = Signal()

    def __init__(self, work: Work, name: str) -> None:
        super().__init__()
        self.name = name
        self.progress: tuple[int, int, str] = (0, 0, "")
        self.waiting = True
        self._work, self._stopped, self._over = work, threading.Event(), False
        self._said.connect(self._pass_on, Qt.ConnectionType.QueuedConnection)
        self._let_go.connect(self.over, Qt.ConnectionType.QueuedConnection)

    @property
    def stopped(self) -> bool:
        """Whether `stop` was called."""
        return self._stopped.is_set()

    def stop(self) -> None:
        """Ask the work to end; from now on nothing of it is heard."""
        self._stopped.set()
        self._end()

    def run(self) -> None:
        """Do the work (called by the pool's thread)."""
        self.waiting = False
        self._said.emit(self.began.emit)
        try:
            result = self._work(self._report)
        except Stopped:
            self._said.emit(self._end)
        except Exception as error:  # noqa: BLE001  handed to the UI thread, which shows it or raises it
            self._said.emit(partial(self._fail, error))
        else:
            self._said.emit(partial(self._finish, result))
        self._let_go.emit()

    def _report(self, done: int, total: int, what: str = "") -> None:
        if self._stopped.is_set():
            raise Stopped
        if (done, total, what) != self.progress:
            self.progress = (done, total, what)
            self._said.emit(partial(self.progressed.emit, done, total, what))

    def _finish(self, result: object) -> None:
        self.finished.emit(result)
        self._end()

    def _fail(self, error: Exception) -> None:
        self.failed.emit(error)
        self._end()

    def _end(self) -> None:
        if not self._over:
            self._over = True
            self.ended.emit()

    def _pass_on(self, say: Callable[[], None]) -> None:
        if not self._stopped.is_set():
            say()


class Jobs(QObject):
    """All work now under way, and the worker processes it runs in."""

    changed = Signal()
    bug = Signal(object)
    """An exception that is ours, not the potter's to mend."""

    def __init__(self, parent: QObject | None = None, workers: Workers | None = None, most: int = 4) -> None:
        super().__init__(parent)
        self._workers = workers
        self._pool = QThreadPool(self)
        self._pool.setMaxThreadCount(most)
        self._running: list[Job] = []
        self._closed = False

    @property
    def running(self) -> tuple[Job, ...]:
        """Jobs under way, oldest first."""
        return tuple(self._running)

    @property
    def workers(self) -> Workers:
        """The worker processes, made when first asked for."""
        if self._workers is None:
            from swatch.work.workers import Workers

            self._workers = Workers()
        return self._workers

    def start(self, work: Work, name: str) -> Job:
        """Start work of our own; `name` is the code wording knows it by."""
        job = Job(work, name)
        self._running.append(job)
        job.ended.connect(partial(self._ended, job))
        job.progressed.connect(self._progressed)
        self._pool.start(job.run)
        self.changed.emit()
        return job

    def ask(self, name: str, request: dict[str, Any], said_as: str = "") -> Job:
        """Have a worker process do one of the studio's jobs, by name."""
        workers = self.workers

        def work(report: Report) -> object:
            return workers.run(name, request, report)

        return self.start(work, said_as or name)

    def stop_all(self) -> None:
        """Stop everything under way."""
        for job in self.running:
            job.stop()

    def close(self) -> None:
        """Stop everything, end the worker processes, wait for the threads."""
        self._closed = True
        self.stop_all()
        if self._workers is not None:
            self._workers.close()
        self._pool.waitForDone(10_000)

    def _ended(self, job: Job) -> None:
        if job in self._running:
            self._running.remove(job)
            self.changed.emit()

    def _progressed(self, _done: int, _total: int, _what: str) -> None:
        self.changed.emit()
