"""Work on the UI thread in slices of a few milliseconds, so that the window goes on between them."""

from __future__ import annotations

import gc
import time
from collections.abc import Callable, Generator, Sequence
from typing import Any, TypeVar

from PySide6.QtCore import QObject, QTimer

Made = TypeVar("Made")
Steps = Generator[None, None, Made]

SLICE_S = 0.012
FREED_AT_ONCE = 500
LOOKED_AWAY_MS, BETWEEN_MS = 1000, 5


def at_once(steps: Steps[Made]) -> Made:
    """Run all steps now."""
    while True:
        try:
            next(steps)
        except StopIteration as end:
            made: Made = end.value
            return made


class Slices(QObject):
    """Runs one chain of steps at a time; a new one takes the place of the one before, which is heard of no more.

    What is read stays for long and holds no cycles, so the garbage collector is kept from walking it: for twenty
    thousand tiles each walk would stop the window for a tenth of a second.
    """

    _frozen = False

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._collects = False
        self._steps: Steps[Any] | None = None
        self._done: Callable[[Any], None] | None = None
        self._failed: Callable[[Exception], None] | None = None
        self._timer = QTimer(self)
        self._timer.setInterval(0)
        self._timer.timeout.connect(self._go_on)

    @property
    def running(self) -> bool:
        """Whether anything is under way."""
        return self._steps is not None

    def run(self, steps: Steps[Made], done: Callable[[Made], None], failed: Callable[[Exception], None]) -> None:
        """Run `steps` from the next turns on; `done` gets what they give."""
        self.stop()
        self._steps, self._done, self._failed = steps, done, failed
        self._collects = True
        gc.disable()
        self._timer.start()

    def stop(self) -> None:
        """Give up what is under way."""
        if self._steps is not None:
            self._steps.close()
            self._end()

    def _end(self) -> None:
        self._timer.stop()
        self._steps = None
        gc.freeze()
        Slices._frozen = True
        gc.enable()

    def _go_on(self) -> None:
        if self._steps is None or self._done is None or self._failed is None:
            return
        if self._collects:
            # A turn of its own: what became garbage since would else be frozen with the rest, and stay.
            self._collects = False
            if Slices._frozen:
                gc.collect()
            else:
                gc.freeze()
            return
        until = time.perf_counter() + SLICE_S
        done, failed = self._done, self._failed
        try:
            while time.perf_counter() < until:
                next(self._steps)
        except StopIteration as end:
            self._end()
            done(end.value)
        except Exception as error:  # noqa: BLE001  handed to whoever asked, who shows it or raises it
            self._end()
            failed(error)


class OneATurn(QObject):
    """Calls what is to be done one after the other, each in a turn of the event loop of its own.

    What waits already is not put in again: it will see what is newest.
    """

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._waiting: list[Callable[[], None]] = []
        self._timer = QTimer(self)
        self._timer.setInterval(0)
        self._timer.timeout.connect(self._go_on)

    def put(self, do: Callable[[], None]) -> None:
        """Have it done after what waits already."""
        if do not in self._waiting:
            self._waiting.append(do)
        self._timer.start()

    def forget(self) -> None:
        """Give up what waits."""
        self._waiting.clear()
        self._timer.stop()

    def _go_on(self) -> None:
        if self._waiting:
            self._waiting.pop(0)()
        if not self._waiting:
            self._timer.stop()


class LetGo(QObject):
    """Holds what is past until everyone has looked away, then lets go of it a little at a time.

    Twenty thousand tiles freed at once would stop the window for some hundredths of a second.
    """

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._held: list[list[Any]] = []
        self._timer = QTimer(self)
        self._timer.timeout.connect(self._go_on)

    def keep(self, *past: Sequence[Any]) -> None:
        """Hold these for a moment."""
        self._held += [list(one) for one in past if len(one) > FREED_AT_ONCE]
        if self._held:
            self._timer.start(LOOKED_AWAY_MS)

    def _go_on(self) -> None:
        self._timer.setInterval(BETWEEN_MS)
        if self._held:
            del self._held[-1][-FREED_AT_ONCE:]
            if not self._held[-1]:
                self._held.pop()
        if not self._held:
            self._timer.stop()
