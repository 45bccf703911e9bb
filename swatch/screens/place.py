"""What every place of the window has in common: its heading, its foot, and what it can be asked."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QUndoStack

from swatch.screens.seen import Seen


class Place(Seen):
    """One place of the left rail, or a workspace opened in its stead."""

    headed = Signal()
    """Its heading or its foot says something else now."""

    code = ""
    """Name of the place, as its help and its rail button know it."""
    shows_colour = True
    """Whether the surround can be changed here."""
    searchable = False

    def heading(self) -> tuple[str, str]:
        """Title and the line beneath it."""
        return "", ""

    def foot(self) -> str:
        """What the right end of the foot says."""
        return ""

    def in_hand(self) -> QUndoStack | None:
        """The changes of work in hand that Undo takes back while the place is open."""
        return None

    def search(self, text: str) -> None:
        """Show what holds this text."""

    def searched(self) -> str:
        """The text now searched for."""
        return ""

    def come(self) -> None:
        """The place is being opened."""

    def go(self) -> None:
        """Another place is being opened."""

    def begin(self) -> None:
        """Open where the first entry is made."""
