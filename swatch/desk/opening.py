"""The studio now open, shared by every place: its records as a snapshot, and the one way to change them."""

from __future__ import annotations

from collections.abc import Callable, Collection, Generator, Mapping
from dataclasses import dataclass, field, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from PySide6.QtCore import QObject, Signal

from swatch.desk.counts import Counts, bodies_by_use, count
from swatch.desk.fired import FiredColours, fired_colours, fired_in_steps
from swatch.desk.jobs import Job, Jobs
from swatch.desk.settings import Settings
from swatch.desk.slices import LetGo, OneATurn, Slices, at_once
from swatch.desk.tile_search import TileIndex, index_tiles
from swatch.desk.tile_views import TileView, doubtful_in_steps, view_in_steps, view_tiles
from swatch.terms.evidence import Evidence, Stage
from swatch.terms.problems import Fact, StudioProblem
from swatch.terms.problems.studio import studio_busy
from swatch.terms.report import Report

if TYPE_CHECKING:
    from swatch.library.studio import Studio

Made = TypeVar("Made")
Named = tuple[str, Mapping[str, Fact]] | None
FEW_READINGS = 1000
"""So many are read within one turn of the event loop; more are read in slices."""
ROWS = 2_000
"""Readings that are looked at in one step where little is asked of each."""
FEW_ROWS = 2_000
"""So many rows are put back by an undo within one turn; more are put back by a job."""


@dataclass(frozen=True, slots=True)
class Known:
    """One state of the records, made ready for every place."""

    evidence: Evidence = field(default_factory=Evidence)
    tiles: list[TileView] = field(default_factory=list)
    index: TileIndex = field(default_factory=lambda: at_once(index_tiles(())))
    fired: FiredColours = field(default_factory=FiredColours)
    counts: Counts = field(default_factory=Counts)
    doubtful: tuple[TileView, ...] = ()


def _learn(evidence: Evidence, tiles: list[TileView] | None = None) -> Generator[None, None, Known]:
    if tiles is None:
        tiles = yield from view_in_steps(evidence.readings)
    yield
    index = yield from index_tiles(tiles)
    yield
    counts = yield from count(evidence)
    yield
    fired = yield from fired_in_steps(evidence)
    yield
    doubtful = yield from doubtful_in_steps(tiles)
    yield
    return Known(evidence, tiles, index, fired, counts, doubtful)


def _know(studio: Studio) -> Generator[None, None, Known]:
    evidence = yield from studio.evidence_in_steps()
    return (yield from _learn(evidence))


def _know_after(studio: Studio, known: Known, touched: Collection[str]) -> Generator[None, None, Known]:
    """Read anew only what was touched."""
    yield
    evidence = studio.evidence_after(known.evidence, touched)
    yield
    tiles = yield from _tiles_after(known, evidence, touched)
    yield
    return (yield from _learn(evidence, tiles))


def _tiles_after(
    known: Known, evidence: Evidence, touched: Collection[str]
) -> Generator[None, None, list[TileView]]:
    """Look anew only at the tiles that were touched."""
    if not touched:
        return known.tiles
    of_these = [r for r in evidence.readings if r.tile in touched]
    yield
    new = {(view.tile, view.stage): view for view in view_tiles(of_these)}
    if new.keys() == {(view.tile, view.stage) for view in known.tiles if view.tile in touched}:
        return [new[view.tile, view.stage] if view.tile in touched else view for view in known.tiles]
    yield
    old = {(view.tile, view.stage): view for view in known.tiles if view.tile not in touched}
    order: dict[tuple[str, Stage], None] = {}
    for start in range(0, len(evidence.readings), ROWS):
        yield
        order.update(((r.tile, r.stage), None) for r in evidence.readings[start : start + ROWS])
    yield
    return [new[key] if key in new else old[key] for key in order]


class OpenStudio(QObject):
    """The studio on the desk, or none."""

    opened = Signal()
    """Another studio is on the desk, or none."""
    settled = Signal()
    """That is so, and every place has read its records: now it can be shown."""
    written = Signal()
    """Its records are others as of now, and what rested on them is stale; they are read before `changed` comes."""
    changed = Signal()
    """Its records changed, by a command, an undo or a redo, and were read."""
    failed = Signal(object)
    """A `StudioProblem`: what was asked for did not happen."""

    def __init__(self, settings: Settings, parent: QObject | None = None, jobs: Jobs | None = None) -> None:
        super().__init__(parent)
        self.settings, self._jobs = settings, jobs
        self._studio: Studio | None = None
        self._known = Known()
        self._bodies: tuple[str, ...] = ()
        self._lent = False
        self._named: tuple[str, bool] = ("", False)
        self._steps: tuple[Named, Named] = (None, None)
        self._opening, self._reading = Slices(self), Slices(self)
        self._late, self._past = OneATurn(self), LetGo(self)

    @property
    def studio(self) -> Studio | None:
        """The studio's records, where a studio is open."""
        return self._studio

    @property
    def folder(self) -> Path | None:
        """The studio's folder."""
        return self._studio.folder if self._studio is not None else None

    @property
    def name(self) -> str:
        """The studio's name."""
        return self._named[0]

    @property
    def invented(self) -> bool:
        """Whether this is the demo studio, in which everything is invented."""
        return self._named[1]

    @property
    def evidence(self) -> Evidence:
        """Everything recorded that an answer can rest on."""
        return self._known.evidence

    def tiles(self) -> list[TileView]:
        """The tiles as they are looked at; worked out once for each state of the records."""
        return self._known.tiles

    @property
    def index(self) -> TileIndex:
        """The same tiles, ready to be searched."""
        return self._known.index

    @property
    def fired(self) -> FiredColours:
        """The colours that materials and bodies fire to by themselves."""
        return self._known.fired

    @property
    def counts(self) -> Counts:
        """What the readings come to."""
        return self._known.counts

    @property
    def bodies(self) -> tuple[str, ...]:
        """Every body on record, those with most readings first; one only named or planned for is there too."""
        return self._bodies

    @property
    def doubtful(self) -> tuple[TileView, ...]:
        """Fired tiles with a zone that is read poorly, the worst first."""
        return self._known.doubtful

    @property
    def busy(self) -> bool:
        """Whether the records are being read, or lent to a job, so that what is shown is not yet what is."""
        return self._lent or self._opening.running or self._reading.running

    @property
    def undo_step(self) -> Named:
        """Code and facts of what undo would take back."""
        return self._steps[0]

    @property
    def redo_step(self) -> Named:
        """Code and facts of what redo would do again."""
        return self._steps[1]

    def open(self, folder: Path) -> bool:
        """Put the studio in this folder on the desk; where that fails the one now open stays.

        The studio that is on the desk already is only shown.
        """
        from swatch.library.studio import Studio

        if self.folder is not None and folder.resolve() == self.folder.resolve():
            self.settled.emit()
            return True
        return self._take(lambda: Studio.open(folder))

    def create(self, folder: Path) -> bool:
        """Make a new, empty studio in this folder and put it on the desk."""
        from swatch.library.studio import Studio

        return self._take(lambda: Studio.create(folder))

    def _take(self, get: Callable[[], Studio]) -> bool:
        if self._lent:
            self._say_busy()
            return False
        self._opening.stop()
        try:
            studio = get()
        except StudioProblem as problem:
            self.failed.emit(problem)
            return False
        try:
            few = studio.readings_count() <= FEW_READINGS
            known = at_once(_know(studio)) if few else None
        except StudioProblem as problem:
            self._not_opened(studio, problem)
            return False
        if known is not None:
            self._put(studio, known)
        else:
            self._opening.run(_know(studio), partial(self._put, studio), partial(self._not_opened, studio))
        return True

    def _not_opened(self, studio: Studio, error: Exception) -> None:
        studio.close()
        self._tell_failed(error)

    def _put(self, studio: Studio, known: Known) -> None:
        self._reading.stop()
        if self._studio is not None:
            self._studio.close()
        self._studio, self._known = studio, known
        self._bodies = bodies_by_use(known.counts, known.evidence, studio.bodies())
        self._named = studio.name, studio.invented
        self._name_steps()
        self.settings.opened(studio.folder)
        self._tell_opened()

    def _tell_opened(self) -> None:
        self.opened.emit()
        self.written.emit()
        self.changed.emit()
        self.settled.emit()

    def close(self) -> None:
        """Take the studio off the desk."""
        self._opening.stop()
        self._reading.stop()
        if self._studio is not None:
            self._studio.close()
            self._studio, self._known, self._bodies = None, Known(), ()
            self._named, self._steps = ("", False), (None, None)
            self._tell_opened()

    def when_changed(self, do: Callable[[], None]) -> None:
        """Call `do` whenever `changed` comes; in a large studio in a turn of its own, a little later."""
        self.changed.connect(lambda: self.in_turn(do) if len(self.tiles()) > FEW_READINGS else do())

    def in_turn(self, do: Callable[[], None]) -> None:
        """Have something done in a turn of the event loop of its own."""
        self._late.put(do)

    def lend(self) -> Studio | None:
        """Lend the records to a job; until `take_back` nothing else can be changed. None where they are lent."""
        if self._studio is None or self._lent or self._opening.running:
            self._say_busy()
            return None
        self._reading.stop()
        self._lent = True
        return self._studio

    def take_back(self) -> None:
        """The job has let go of the records."""
        self._lent = False
        if self._studio is not None:
            self._read_again(None)

    def lend_to(
        self,
        command: Callable[[Studio], Made],
        name: str,
        done: Callable[[Made], None],
        over: Callable[[], None] = lambda: None,
    ) -> Job | None:
        """Have a job do a command that takes long; `done` gets what it gave, `over` comes before it in every case.

        None where the records are lent already, or no studio is open.
        """
        studio = self.lend() if self._jobs is not None else None
        if studio is None or self._jobs is None:
            return None
        made: list[Made] = []

        def work(_report: Report) -> None:
            made.append(command(studio))  # told even where it was stopped: a change that is made is made

        job = self._jobs.start(work, name)
        job.failed.connect(self._tell_failed)

        def let_go() -> None:
            self.take_back()
            over()
            if made:
                done(made[0])

        job.over.connect(let_go)
        return job

    def undo(self) -> None:
        """Take the last change back, by a job where it is large."""
        studio = self._studio
        n = studio.undo_rows if studio is not None and not self._lent else 0
        self._play(lambda records: records.undo(), n, "undo")

    def redo(self) -> None:
        """Do the change taken back last again."""
        studio = self._studio
        n = studio.redo_rows if studio is not None and not self._lent else 0
        self._play(lambda records: records.redo(), n, "redo")

    def _play(self, command: Callable[[Studio], object], n: int, name: str) -> None:
        if n > FEW_ROWS and self._jobs is not None:
            self.lend_to(command, name, lambda _made: None)
        else:
            self.do(command)

    def _tell_failed(self, error: Exception) -> None:
        if isinstance(error, StudioProblem):
            self.failed.emit(error)
        elif self._jobs is not None:
            self._jobs.bug.emit(error)
        else:
            raise error

    def _name_steps(self) -> None:
        assert self._studio is not None
        self._steps = self._studio.undo_name, self._studio.redo_name

    def _read_again(self, touched: Collection[str] | None) -> None:
        """Read what changed: of few tiles only those, of a large studio in slices."""
        assert self._studio is not None
        was_read = not self._reading.running
        self._reading.stop()
        self._name_steps()
        self.written.emit()
        few = self._studio.readings_count() <= FEW_READINGS
        if touched is not None and not touched and was_read and not few:
            # No reading is another: the tiles stand as they are.
            evidence = self._studio.evidence_after(self._known.evidence, touched)
            self._was_read(replace(self._known, evidence=evidence, fired=fired_colours(evidence)))
            return
        after = touched is not None and was_read
        steps = _know_after(self._studio, self._known, touched or ()) if after else _know(self._studio)
        if few:
            self._was_read(at_once(steps))
        else:
            self._reading.run(steps, self._was_read, self._tell_failed)

    def _was_read(self, known: Known) -> None:
        self._past.keep(self._known.tiles, self._known.evidence.readings)
        self._known = known
        named = self._studio.bodies() if self._studio is not None else ()
        self._bodies = bodies_by_use(known.counts, known.evidence, named)
        self.changed.emit()

    def _say_busy(self) -> None:
        if self._studio is not None:
            self.failed.emit(studio_busy(str(self._studio.folder)))

    def do(self, command: Callable[[Studio], Made]) -> Made | None:
        """Do one command on the records and tell everyone; None where it could not be done."""
        if self._studio is None or self._lent or self._opening.running:
            self._say_busy()
            return None
        unread = self._reading.running
        self._reading.stop()  # nothing can be changed between two steps of reading
        try:
            made = command(self._studio)
            touched = self._studio.touched_tiles
        except StudioProblem as problem:
            if unread:
                self._read_again(None)
            self.failed.emit(problem)
            return None
        self._read_again(None if unread else touched)
        return made
