"""What a hidden widget would show is put off until it is seen: a place that is not open costs nothing."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any, TypeVar

from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QWidget

Shows = TypeVar("Shows", bound="Seen")


class Seen(QWidget):
    """A widget whose `when_seen` methods wait until it is shown."""

    def __init__(self) -> None:
        super().__init__()
        self._late: dict[str, Callable[[Any], None]] = {}

    def catch_up(self) -> None:
        """Do now what was put off."""
        late, self._late = self._late, {}
        for do in late.values():
            do(self)

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802
        """Do what was put off, before the first paint."""
        super().showEvent(event)
        self.catch_up()


def when_seen(show: Callable[[Shows], None]) -> Callable[[Shows], None]:
    """Make a method that shows what a desk holds wait, once however often it is called, while nobody sees it."""

    @wraps(show)
    def now_or_later(self: Shows) -> None:
        if self.isVisible():
            show(self)
        else:
            self._late[show.__name__] = show

    return now_or_later
