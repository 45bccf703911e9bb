"""How long work speaks: progress out, a wish to stop in."""

from __future__ import annotations

from typing import Protocol


class Stopped(Exception):
    """The user cancelled; raised inside the work by `Report`, caught by whoever started it."""


class Report(Protocol):
    """Called by long work at every step; raises `Stopped` when the user has cancelled."""

    def __call__(self, done: int, total: int, what: str = "", /) -> None:
        """Say that `done` of `total` steps are over; `what` is a code that wording knows, such as ``photos``."""


def silent(done: int, total: int, what: str = "") -> None:
    """Report to nobody."""
