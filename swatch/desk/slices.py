"""Work on the UI thread in slices of a few milliseconds, so that the window goes on between them."""

from __future__ import annotations

import gc
import time
from collections.abc import Callable, Generator
from typing import Any, TypeVar

from PySide6.QtCore import QObject, QTimer

Made = TypeVar("Made")
Steps = Generator[None, None, Made]

SLICE_S = 0.012


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

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
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
        if gc.get_freeze_count():
            gc.collect()
        else:
            gc.freeze()
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
        gc.enable()

    def _go_on(self) -> None:
        if self._steps is None or self._done is None or self._failed is None:
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
