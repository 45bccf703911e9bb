"""Loads of the kiln: asked, reached by shelf, and what was fired in them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from PySide6.QtCore import QObject, Signal

from swatch.desk.jobs import Job, Jobs
from swatch.desk.opening import OpenStudio
from swatch.desk.photo_work import next_tile
from swatch.terms.cone import Cone, parse_cone
from swatch.terms.firing_heat import FiringHeat
from swatch.terms.materials import Firing, WitnessCone
from swatch.terms.problems import StudioProblem
from swatch.work.load_entries import deal


@dataclass(frozen=True, slots=True)
class LoadOf:
    """Measured pieces of one edition in a firing, with the shelf each stood on."""

    edition: str
    shelves: tuple[tuple[str, str | None], ...]

    @property
    def without_shelf(self) -> tuple[str, ...]:
        """Names of the pieces whose shelf is not known, in order."""
        return tuple(name for name, shelf in self.shelves if not shelf)


@dataclass(frozen=True, slots=True)
class FiringView:
    """One firing with its witness cones, the number of its tiles, and its pieces by edition."""

    firing: Firing
    witnesses: tuple[WitnessCone, ...]
    tiles: int
    pieces: tuple[LoadOf, ...] = ()
    logged: bool = False

    @property
    def lacks_cone(self) -> bool:
        """Whether something rests on a cone that nobody noted: neither reached, nor on a shelf, nor a log."""
        known = self.firing.cone_reached is not None or bool(self.witnesses) or self.logged
        return not known and bool(self.tiles or self.pieces)


class Firings(QObject):
    """The firings of the studio, one of them chosen."""

    shown = Signal()
    chosen_changed = Signal()

    def __init__(self, studio: OpenStudio, jobs: Jobs) -> None:
        super().__init__(studio)
        self._studio, self._jobs = studio, jobs
        self.chosen_name = ""
        self.heat: FiringHeat | None = None
        self._views: list[FiringView] | None = None
        self._pieces: dict[str, dict[str, dict[str, str | None]]] = {}
        self._awake = False
        self._job: Job | None = None
        studio.written.connect(self._stop)
        studio.opened.connect(self._other_studio)
        studio.when_changed(self._records_changed)

    @property
    def all(self) -> Sequence[FiringView]:
        """Every firing, the latest first."""
        if self._views is not None:
            return self._views
        evidence = self._studio.evidence
        tiles = self._studio.counts.firings
        logged = {log.firing for log in evidence.logs}
        views = [
            FiringView(
                firing,
                tuple(witness for witness in evidence.witnesses if witness.firing == firing.name),
                len(tiles.get(firing.name, ())),
                self._loads_of(firing.name),
                firing.name in logged,
            )
            for firing in evidence.firings
        ]
        self._views = sorted(views, key=lambda view: (view.firing.date or "", view.firing.name), reverse=True)
        return self._views

    @property
    def chosen(self) -> FiringView | None:
        """The firing looked at closely."""
        return next((view for view in self.all if view.firing.name == self.chosen_name), None)

    def choose(self, name: str) -> None:
        """Look at one firing closely."""
        if name != self.chosen_name:
            self.chosen_name = name
            self.chosen_changed.emit()
            self._ask()

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

    def fill_shelves(self, edition: str, shelves: str) -> None:
        """Put the pieces of an edition that have no shelf on these, in the order in which they were unloaded."""
        view = self.chosen
        names = tuple(part for part in (" ".join(one.split()) for one in shelves.split(",")) if part)
        load = next((one for one in view.pieces if one.edition == edition), None) if view is not None else None
        studio = self._studio.studio
        if view is None or load is None or studio is None or not names:
            return
        without = load.without_shelf
        where = dict(zip(without, deal(names, len(without)), strict=True))
        values = [
            replace(one, shelf=where[one.piece])
            for one in studio.pieces()
            if one.edition == edition and one.piece in where and one.firing == view.firing.name
        ]
        self._studio.do(lambda records: records.put_pieces(values, frozenset({"firing", "shelf"})))

    def shelves(self) -> tuple[str, ...]:
        """Shelves the studio speaks of, as first met."""
        known = [witness.shelf for witness in self._studio.evidence.witnesses]
        for load in self._pieces.values():
            known += [shelf for pieces in load.values() for shelf in pieces.values() if shelf]
        return tuple(dict.fromkeys(known))

    def bring_log(self, path: Path) -> None:
        """Keep a CSV of minutes and degrees as the log of the chosen firing."""
        from swatch.formats.tables import read_firing_log
        from swatch.work.files import read_file

        name = self.chosen_name
        try:
            points = read_firing_log(read_file(str(path)), path.name).rows
        except StudioProblem as problem:
            self._studio.failed.emit(problem)
            return
        self._studio.do(lambda studio: studio.put_firing_log(name, points))

    def wake(self) -> None:
        """The place is open: say what the chosen firing's log comes to."""
        self._awake = True
        self._ask()

    def sleep(self) -> None:
        """The place is closed."""
        self._awake = False

    def _loads_of(self, firing: str) -> tuple[LoadOf, ...]:
        return tuple(
            LoadOf(edition, tuple(pieces.items())) for edition, pieces in self._pieces.get(firing, {}).items()
        )

    def _ask(self) -> None:
        view, folder = self.chosen, self._studio.folder
        if not self._awake or view is None or folder is None:
            return
        if self.heat is not None and self.heat.firing == view.firing.name:
            return
        self._stop()
        self.heat = None
        if not view.logged:
            self.chosen_changed.emit()
            return
        job = self._jobs.ask("heat", {"folder": str(folder), "firing": view.firing.name})
        self._job = job
        job.finished.connect(self._heard)
        job.failed.connect(self._not_heard)

    def _heard(self, heat: FiringHeat) -> None:
        self.heat = heat
        self.chosen_changed.emit()

    def _not_heard(self, error: Exception) -> None:
        if isinstance(error, StudioProblem):
            self._studio.failed.emit(error)
        else:
            self._jobs.bug.emit(error)

    def _stop(self) -> None:
        if self._job is not None:
            job, self._job = self._job, None
            job.stop()

    def _other_studio(self) -> None:
        self.chosen_name = ""

    def _records_changed(self) -> None:
        self._views, self.heat, self._pieces = None, None, {}
        studio = self._studio.studio
        for one in studio.pieces() if studio is not None else ():
            if one.firing:
                self._pieces.setdefault(one.firing, {}).setdefault(one.edition, {})[one.piece] = one.shelf
        if self.chosen is None:
            views = self.all
            self.chosen_name = views[0].firing.name if views else ""
        self.shown.emit()
        self.chosen_changed.emit()
        self._ask()


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
