"""Loads of the kiln: asked, reached by shelf, and what was fired in them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from PySide6.QtCore import QObject, Signal

from swatch.desk.opening import OpenStudio
from swatch.desk.photo_work import next_tile
from swatch.terms.cone import Cone, parse_cone
from swatch.terms.materials import Firing, WitnessCone


@dataclass(frozen=True, slots=True)
class FiringView:
    """One firing with its witness cones and the number of its tiles."""

    firing: Firing
    witnesses: tuple[WitnessCone, ...]
    tiles: int


class Firings(QObject):
    """The firings of the studio, one of them chosen."""

    shown = Signal()
    chosen_changed = Signal()

    def __init__(self, studio: OpenStudio) -> None:
        super().__init__(studio)
        self._studio = studio
        self.chosen_name = ""
        studio.opened.connect(self._other_studio)
        studio.changed.connect(self._records_changed)

    @property
    def all(self) -> Sequence[FiringView]:
        """Every firing, the latest first."""
        evidence = self._studio.evidence
        tiles = self._studio.counts.firings
        views = [
            FiringView(
                firing,
                tuple(witness for witness in evidence.witnesses if witness.firing == firing.name),
                len(tiles.get(firing.name, ())),
            )
            for firing in evidence.firings
        ]
        return sorted(views, key=lambda view: (view.firing.date or "", view.firing.name), reverse=True)

    @property
    def chosen(self) -> FiringView | None:
        """The firing looked at closely."""
        return next((view for view in self.all if view.firing.name == self.chosen_name), None)

    def choose(self, name: str) -> None:
        """Look at one firing closely."""
        if name != self.chosen_name:
            self.chosen_name = name
            self.chosen_changed.emit()

    def add(self, date: str) -> None:
        """Add a firing like the last one, under the next name."""
        views = self.all
        last = views[0].firing if views else Firing("")
        name = next_tile(view.firing.name for view in views) if views else "F-1"
        made = replace(last, name=name, date=date, cone_reached=None)
        given = frozenset(
            {"date", "cone_asked", "peak_c", "rate_c_per_h", "hold_min", "cooling", "atmosphere", "kiln"}
        )
        if self._studio.do(lambda studio: studio.put_firings([made], given)) is not None:
            self.choose(name)

    def write(self, **changes: Any) -> None:
        """Write something down of the chosen firing."""
        view = self.chosen
        if view is not None and any(getattr(view.firing, name) != value for name, value in changes.items()):
            value = replace(view.firing, **changes)
            self._studio.do(lambda studio: studio.put_firings([value], frozenset(changes)))

    def witness(self, shelf: str, cone: Cone) -> None:
        """Say what the witness cone of a shelf reached."""
        view = self.chosen
        if view is not None and shelf:
            value = WitnessCone(view.firing.name, shelf, cone)
            self._studio.do(lambda studio: studio.put_witnesses([value], frozenset({"cone_reached"})))

    def _other_studio(self) -> None:
        self.chosen_name = ""

    def _records_changed(self) -> None:
        if self.chosen is None:
            views = self.all
            self.chosen_name = views[0].firing.name if views else ""
        self.shown.emit()
        self.chosen_changed.emit()


def cone_typed(text: str, *, between: bool = False) -> Cone | None:
    """A cone as typed, None for an empty field.

    Raises
    ------
    StudioProblem
        ``bad-cone``.
    """
    return parse_cone(text, between=between) if text.strip() else None


def number_typed(text: str) -> float | None:
    """A number as typed, with a point or a comma; None for an empty field or for what is none."""
    try:
        return float(text.replace(",", ".").strip())
    except ValueError:
        return None
