"""The photo workspace: photos in hand, what is read from them, what is kept."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from PySide6.QtCore import QTimer, Signal

from swatch.desk.jobs import Job, Jobs
from swatch.desk.opening import OpenStudio
from swatch.desk.photo_records import preview_file, state_on_record, stem_of
from swatch.desk.photo_work import (
    PhotoWork,
    State,
    ZoneEntry,
    reading_of,
    split_name,
)
from swatch.desk.photos_in_hand import PhotosInHand
from swatch.desk.photos_on_record import MeasuringAgain, OwnCard
from swatch.desk.planned import named_by_slot
from swatch.desk.turned import back_of, named_backs, turned, where_tiles_lie
from swatch.library.photos import kept_before
from swatch.terms.evidence import ZoneReading
from swatch.terms.measured import PhotoRead, TileBack, ZoneRead
from swatch.terms.problems import StudioProblem, Where

Kept = Sequence[tuple[ZoneRead, ZoneReading]]
Backs = Sequence[TileBack]
PREVIEW = 2000
"""Pixels on the longer side of the picture that is drawn in the workspace."""
WAIT_MS = 300
"""A photo is read again this long after the last change of its outlines."""


class Measuring(PhotosInHand):
    """Reads photos in worker processes and keeps what was read."""

    kept = Signal(int)
    done = Signal()
    """The last photo in hand was kept and put away."""
    match_wanted = Signal(object, str)
    """A `ZoneRead` whose colour is to be matched, and what it is called."""

    def __init__(self, studio: OpenStudio, jobs: Jobs) -> None:
        super().__init__(studio)
        self._jobs = jobs
        self.card = "rendition-24"
        self._running: dict[Path, Job] = {}
        self._keeping: Job | None = None
        self._previews: dict[Path, Job] = {}
        self._turning: dict[Path, Job] = {}
        self.again = MeasuringAgain(studio, jobs)
        self.own_card = OwnCard(studio, jobs, self.steps)
        self.own_card.changed.connect(self._card_changed)
        self._wait = QTimer(self)
        self._wait.setSingleShot(True)
        self._wait.setInterval(WAIT_MS)
        self._wait.timeout.connect(self._read_changed)
        self._changed: set[Path] = set()
        studio.opened.connect(self._clear)
        studio.changed.connect(self._look_what_is_kept)

    # Photos

    def add(self, paths: Sequence[Path]) -> None:
        """Take photos in hand; those in hand already are only shown."""
        first = None
        for path in paths:
            at = self._at(path)
            if at is None:
                self.photos.append(PhotoWork(path))
                at = len(self.photos) - 1
                self._begin(path)
            first = at if first is None else first
        if first is not None:
            self.show_photo(first)
        self.photos_changed.emit()

    def show_photo(self, number: int) -> None:
        """Bring another photo into view."""
        if 0 <= number < len(self.photos):
            self.shown, self.chosen = number, ""
            zones = self.photos[number].zones
            self.chosen = zones[0].key if zones else ""
            self.photo_changed.emit()
            self.chosen_changed.emit()
            self.photos_changed.emit()

    def put_away(self) -> None:
        """Put the photo in view away, unkept."""
        if self.photo is not None:
            path, kept = self.photo.path, self.photo.is_kept
            self._stop(path)
            del self.photos[self.shown]
            for other in [work.path for work in self.photos if work.fronts == path]:
                self._put(other, fronts=None, backs=(), told=False)
            self.show_photo(min(self.shown, max(0, len(self.photos) - 1)))
            self.steps.clear()
            self.photos_changed.emit()
            self.photo_changed.emit()
            if kept and not self.photos:
                self.done.emit()

    def cancel(self) -> None:
        """Stop reading what is not read yet."""
        for path in [*self._running, *self._previews, *self._turning]:
            self._stop(path)
        self.photos = [
            replace(work, state=State.WAITING) if work.state is State.READING else work for work in self.photos
        ]
        self.photos_changed.emit()
        self.photo_changed.emit()

    @property
    def reading(self) -> bool:
        """Whether any photo is being read."""
        return bool(self._running)

    def read_again(self) -> None:
        """Read the photo in view again."""
        if self.photo is not None:
            self._measure(self.photo.path)

    def _clear(self) -> None:
        for path in [*self._running, *self._previews, *self._turning]:
            self._stop(path)
        self.photos, self.shown, self.chosen = [], 0, ""
        self.steps.clear()
        self.photos_changed.emit()
        self.photo_changed.emit()

    # Reading

    def _read_soon(self, path: Path) -> None:
        self._changed.add(path)
        self._wait.start()

    def show_again(self) -> None:
        """Make the picture of the photo in view again."""
        if self.photo is not None:
            self._preview(self.photo.path)

    def _begin(self, path: Path) -> None:
        self._preview(path)
        if self._studio.studio is not None:
            self._put(path, kept_before=kept_before(self._studio.studio.file, path))
        try:
            zones = self._zones_beside(path)
        except StudioProblem as problem:
            self._studio.failed.emit(problem)
            zones = ()
        self._put(path, zones=zones)
        self._measure(path)

    def _zones_beside(self, path: Path) -> tuple[ZoneEntry, ...]:
        from swatch.formats.zones_file import read_zones

        beside = path.with_name(f"{path.stem}.zones.json")
        if not beside.is_file():
            return ()
        shapes = read_zones(beside.read_bytes(), beside.name)
        return tuple(
            self._entry(f"z{n}", shape.polygon, *split_name(shape.zone)) for n, shape in enumerate(shapes)
        )

    def _preview(self, path: Path) -> None:
        studio = self._studio.studio
        if studio is None:
            return
        self._put(path, unseen=False, preview_problem=None)
        try:
            out = preview_file(studio, path)
        except StudioProblem as problem:
            self._not_seen(path, problem)
            return
        job = self._jobs.ask("preview", {"photo": str(path), "out": str(out), "long_side": PREVIEW})
        self._previews[path] = job
        job.finished.connect(lambda made: self._put(path, preview=Path(made)))
        job.failed.connect(lambda error: self._not_seen(path, error))
        job.ended.connect(lambda: self._previews.pop(path, None))

    def _not_seen(self, path: Path, error: Exception) -> None:
        if not isinstance(error, StudioProblem):
            self._jobs.bug.emit(error)
        self._put(path, unseen=True, preview_problem=error if isinstance(error, StudioProblem) else None)

    def _measure(self, path: Path) -> None:
        from swatch.work.measure import MeasureRequest, card_of, measure_job_request

        at = self._at(path)
        if at is None:
            return
        self._stop(path, preview=False)
        work = self.photos[at]
        try:
            card = card_of(self.card)
        except StudioProblem as problem:
            self._studio.failed.emit(problem)
            return
        request = MeasureRequest((str(path),), self.card, work.corners, neutral=work.neutral)
        asked: dict[str, Any] = measure_job_request(str(path), card, work.shapes(), request)
        asked["own"] = None if work.neutral is not None else self.own_card.colours()
        job = self._jobs.ask("measure", asked)
        self._running[path] = job
        self._put(path, state=State.READING, problem=None)
        job.finished.connect(lambda read: self._was_read(path, read))
        job.failed.connect(lambda error: self._failed(path, error))
        job.ended.connect(lambda: self._over(path, job))

    def _was_read(self, path: Path, read: PhotoRead) -> None:
        at = self._at(path)
        if at is None:
            return
        zones = self.photos[at].zones
        if not zones and read.zones and self.photos[at].fronts is None:
            # The sheet's own slots.
            boards = self.boards()
            zones = tuple(
                self._entry(zone.zone, zone.polygon, *named_by_slot(boards, read.sheet, zone.zone))
                for zone in read.zones
            )
        self._put(path, read=read, state=State.READ, zones=zones, problem=None)
        for backs, fronts in list(turned(self.photos)):
            self._turn(backs, fronts)
        if at == self.shown and not self.chosen and zones:
            self.choose(zones[0].key)

    def _failed(self, path: Path, error: Exception) -> None:
        if not isinstance(error, StudioProblem):
            self._jobs.bug.emit(error)
        problem = error.at(Where(photo=path.name)) if isinstance(error, StudioProblem) else None
        self._put(path, state=State.FAILED, problem=problem, read=None)

    def _over(self, path: Path, job: Job) -> None:
        if self._running.get(path) is job:
            del self._running[path]
            self.photos_changed.emit()

    def _stop(self, path: Path, *, preview: bool = True) -> None:
        for jobs in (self._running, self._previews, self._turning) if preview else (self._running,):
            job = jobs.pop(path, None)
            if job is not None:
                job.stop()

    def _read_changed(self) -> None:
        changed, self._changed = self._changed, set()
        for path in changed:
            self._measure(path)

    def learn_card(self) -> None:
        """Learn the studio's own card from the photos in hand that show it."""
        self.own_card.learn([w.path for w in self.photos if w.read is not None and w.read.card is not None])

    def _card_changed(self) -> None:
        """Read again what is not kept, where the card in use is another now."""
        if self.own_card.learning:
            return
        for work in self.photos:
            if work.state is State.READ and work.neutral is None and work.fronts is None:
                self._read_soon(work.path)
        self.photo_changed.emit()

    # Backs

    def these_are_backs_of(self, fronts: Path | None) -> None:
        """The photo in view shows the tiles of another from behind; None: it shows fronts of its own."""
        work = self.photo
        if work is None or work.fronts == fronts or fronts == work.path:
            return
        if fronts is not None:
            self._put(work.path, told=True)
            self._turn(work.path, fronts)
            return
        self._put(work.path, fronts=None, backs=(), told=True)
        if work.read is not None:
            self._was_read(work.path, work.read)
        else:
            self._measure(work.path)

    def back_of(self, key: str) -> TileBack | None:
        """The back of the tile that a zone of the photo in view belongs to."""
        return back_of(self.photos, self.photo, key) if self.photo is not None else None

    def _turn(self, path: Path, fronts: Path) -> None:
        at, front = self._at(path), self._at(fronts)
        studio = self._studio.studio
        if at is None or front is None or studio is None:
            return
        self._put(path, fronts=fronts, zones=(), backs=(), problem=None)
        if at == self.shown:
            self.choose("")
        work = self.photos[at]
        on_sheet = work.read is not None and work.read.sheet is not None
        asked = {
            "photo": str(path),
            "backs": () if on_sheet else where_tiles_lie(self.photos[front], work),
            "out": str(studio.cache / "backs"),
            "stem": stem_of(path),
        }
        self._stop(path, preview=False)
        job = self._jobs.ask("backs", asked)
        self._turning[path] = job
        job.finished.connect(lambda backs: self._were_turned(path, fronts, backs))
        job.failed.connect(lambda error: self._failed(path, error))
        job.ended.connect(lambda: self._turning.pop(path, None))

    def _were_turned(self, path: Path, fronts: Path, backs: tuple[TileBack, ...]) -> None:
        at = self._at(path)
        if at is not None and self.photos[at].fronts == fronts:
            self._put(path, backs=backs)
            self.photo_changed.emit()

    def match(self) -> None:
        """Look for layerings that come near the chosen zone's colour; nothing needs to be kept for that."""
        work = self.photo
        read = work.reading(self.chosen) if work is not None else None
        if work is not None and read is not None and self.entry is not None:
            self.match_wanted.emit(read, f"{work.path.stem}, {self.entry.name}")

    # Keeping

    def keep(self) -> None:
        """Keep what is read and written down of the photo in view, with its tiles' backs."""
        work = self.photo
        if work is None or work.read is None or work.is_kept or self._keeping:
            return
        fronts = self._fronts_of(work)
        if fronts is not None:
            self._keep((), ((work, named_backs(fronts, work)),))
            return
        pairs = work.keepable()
        if not pairs:
            return
        session = work.path.parent.name + "/" + (self.photos[0].path.stem if self.photos else "")
        kept = [(replace(read, zone=entry.name), reading_of(entry, read, session)) for read, entry in pairs]
        tiles = {entry.tile for _read, entry in pairs}
        backs = [
            (other, tuple(back for back in named_backs(work, other) if back.tile in tiles))
            for other in self.photos
            if other.fronts == work.path and other.backs and other.state is not State.KEPT
        ]
        self._keep(((work, kept),), backs)

    def backs_to_keep(self) -> int:
        """How many tiles' backs `keep` would keep where the photo in view shows some: those of kept fronts."""
        work = self.photo
        fronts = self._fronts_of(work) if work is not None and work.state is not State.KEPT else None
        return len(named_backs(fronts, work)) if work is not None and fronts is not None else 0

    def _fronts_of(self, work: PhotoWork) -> PhotoWork | None:
        at = self._at(work.fronts) if work.fronts is not None else None
        return self.photos[at] if at is not None and self.photos[at].state is State.KEPT else None

    def _keep(self, shots: Sequence[tuple[PhotoWork, Kept]], turned: Sequence[tuple[PhotoWork, Backs]]) -> None:
        told = [(work.path, work.read, kept) for work, kept in shots if work.read is not None]
        backs = [(work.path, work.read, some) for work, some in turned if work.read is not None and some]
        keeping = [work for work, _kept in (*shots, *turned)]
        n = sum(len(kept) for _work, kept in (*shots, *(() if shots else turned)))
        # Originals are hashed and copied: too long for the UI thread.
        self._keeping = self._studio.lend_to(
            lambda studio: studio.keep_shots(told, backs),
            "keep",
            lambda made: self._was_kept(keeping, n, made),
            self._let_go,
        )

    def _let_go(self) -> None:
        self._keeping = None

    def _look_what_is_kept(self) -> None:
        """What an undo took out of the records is kept no longer; a redo brings it back."""
        studio = self._studio.studio
        for work in tuple(self.photos):
            state = state_on_record(studio, work) if studio is not None else work.state
            if state is not work.state:
                self._put(work.path, state=state)

    def _was_kept(self, keeping: Sequence[PhotoWork], n: int, made: Sequence[Sequence[int]]) -> None:
        in_hand = False
        for k, work in enumerate(keeping):
            at = self._at(work.path)
            if at is not None:
                in_hand = True
                state = State.KEPT if self.photos[at].zones == work.zones else self.photos[at].state
                readings = tuple(made[k]) if k < len(made) else ()
                self._put(work.path, state=state, kept=work.zones, readings=readings)
        if in_hand:
            self.steps.clear()
        self.kept.emit(n)
        waiting = [
            n
            for n, one in enumerate(self.photos)
            if one.state in (State.READ, State.READING, State.WAITING) and one.fronts is None
        ]
        if in_hand and waiting:
            self.show_photo(waiting[0])
