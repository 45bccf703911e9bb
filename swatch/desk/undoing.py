"""Undo and redo, with the name of what they would undo: of the studio's records and of work in hand."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QUndoCommand, QUndoStack

from swatch.desk.opening import OpenStudio
from swatch.terms.problems import Fact


class Step(QUndoCommand):
    """One change of work in hand (a corner moved, a limit set), that can be taken back."""

    def __init__(self, name: str, redo: Callable[[], None], undo: Callable[[], None]) -> None:
        super().__init__(name)
        self._redo, self._undo = redo, undo

    def redo(self) -> None:
        """Do it."""
        self._redo()

    def undo(self) -> None:
        """Take it back."""
        self._undo()


class Undoing(QObject):
    """What the Undo and Redo buttons say and do.

    Work in hand of the place that is open comes first, since that is what the user has just touched; after it
    come the studio's records.
    """

    changed = Signal()

    def __init__(self, studio: OpenStudio, say_change: Callable[[str, Mapping[str, Fact]], str]) -> None:
        super().__init__(studio)
        self._studio, self._say = studio, say_change
        self._in_hand: QUndoStack | None = None
        studio.written.connect(self.changed)

    def work_in_hand(self, stack: QUndoStack | None) -> None:
        """Name the stack of the place now open, or none."""
        if self._in_hand is not None:
            self._in_hand.indexChanged.disconnect(self._told)
        self._in_hand = stack
        if stack is not None:
            stack.indexChanged.connect(self._told)
        self.changed.emit()

    @property
    def undo_name(self) -> str:
        """What Undo would take back; empty where there is nothing."""
        if self._in_hand is not None and self._in_hand.canUndo():
            return self._in_hand.undoText()
        return self._said(undo=True)

    @property
    def redo_name(self) -> str:
        """What Redo would do again; empty where there is nothing."""
        if self._in_hand is not None and self._in_hand.canRedo():
            return self._in_hand.redoText()
        return self._said(undo=False)

    def undo(self) -> None:
        """Take back the last change."""
        if self._in_hand is not None and self._in_hand.canUndo():
            self._in_hand.undo()
        elif self.undo_name:
            self._studio.undo()

    def redo(self) -> None:
        """Do the change last taken back again."""
        if self._in_hand is not None and self._in_hand.canRedo():
            self._in_hand.redo()
        elif self.redo_name:
            self._studio.redo()

    def _said(self, *, undo: bool) -> str:
        named = self._studio.undo_step if undo else self._studio.redo_step
        return self._say(named[0], named[1]) if named is not None else ""

    def _told(self, _index: int) -> None:
        self.changed.emit()
