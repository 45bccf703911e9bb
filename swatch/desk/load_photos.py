"""Photos of a load in hand: pieces beside the card, one of them approved, their regions proposed by the form."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QUndoStack

from swatch.desk.jobs import Job, Jobs
from swatch.desk.load_subject import BUTTONS, LoadPhoto, LoadSubject
from swatch.desk.opening import OpenStudio
from swatch.desk.photo_shapes import Points
from swatch.desk.undoing import Step
from swatch.terms.layering import fold_name
from swatch.terms.measured import PhotoRead, PiecesWanted, ZoneShape
from swatch.terms.problems import StudioProblem, Where
from swatch.wording.text import _, say
from swatch.work.load_entries import LoadEntry, entries_for, pairs_beside, readings_of

PREVIEW, WAIT_MS = 2000, 300
_CARD = "rendition-24"


class LoadPhotos(LoadSubject):
    """The photos waiting, the first of them in view; what they show, and what is kept of them."""

    changed = Signal()
    chosen_changed = Signal()
    kept = Signal(str, int)
    """Readings of the last photo were kept: the edition's name, empty for buttons; and how many."""

    def __init__(self, studio: OpenStudio, jobs: Jobs) -> None:
        super().__init__(studio)
        self._jobs = jobs
        self.steps = QUndoStack(self)
        self.photos: list[LoadPhoto] = []
        self.chosen = ""
        self._placed = False
        self._reading: Job | None = None
        self._preview: Job | None = None
        self._keeping: Job | None = None
        self._total = self._n = 0
        self._wait = QTimer(self)
        self._wait.setSingleShot(True)
        self._wait.setInterval(WAIT_MS)
        self._wait.timeout.connect(self._read)
        studio.opened.connect(self._forget)
        studio.changed.connect(self._records_changed)

    # What is in hand

    @property
    def photo(self) -> LoadPhoto | None:
        """The photo in view."""
        return self.photos[0] if self.photos else None

    @property
    def busy(self) -> bool:
        """Whether the photo in view is being read."""
        return self._reading is not None

    @property
    def number(self) -> tuple[int, int]:
        """Which photo is in view, of how many."""
        return self._total - len(self.photos) + 1, self._total

    def entry(self, seen: str) -> LoadEntry | None:
        """What is written down of one piece of the photo."""
        return next((one for one in self.photo.entries if one.seen == seen), None) if self.photo else None

    def piece_chosen(self) -> LoadEntry | None:
        """The piece whose zone or row is chosen."""
        return self.entry(self.chosen.partition(" ")[0])

    # Changes

    def add(self, paths: Sequence[Path], edition: str | None = None) -> None:
        """Take photos in hand."""
        fresh = [path for path in paths if all(one.path != path for one in self.photos)]
        empty = not self.photos
        self.photos += [LoadPhoto(path) for path in fresh]
        self._total = self._total + len(fresh) if not empty else len(fresh)
        if edition is not None:
            self.subject = edition
        if empty:
            self._begin()
        self.changed.emit()

    def say(self, *, subject: str | None = None, firing: str | None = None, approved: str | None = None,
            shelves: str | None = None) -> None:  # fmt: skip
        """Say what the photo shows, which firing it is, what lies beside the card, and the shelves as unloaded."""
        again = subject is not None and subject != self.subject
        if again:
            self.subject = subject or BUTTONS
            self._usual()
        self.firing = firing if firing is not None else self.firing
        self.approved = approved if approved is not None else self.approved
        self.shelves = shelves if shelves is not None else self.shelves
        if again:
            self._put(zones={}, read=None, entries=())
            self._read()
        else:
            self._enter()
        self.changed.emit()

    def choose(self, key: str) -> None:
        """Choose a zone, ``piece region``, or a piece."""
        if key != self.chosen:
            self.chosen = key
            self.chosen_changed.emit()

    def write(self, seen: str, name: str, *, shelf: str | None = None, approve: bool = False) -> None:
        """Write down one piece otherwise than proposed; an empty name leaves it out."""
        work = self.photo
        if work is not None:
            entries = tuple(
                replace(one, name=" ".join(name.split()), shelf=shelf, approve=approve)
                if one.seen == seen
                else one
                for one in work.entries
            )
            self._put(entries=entries)
            self.changed.emit()

    def take_for_approved(self, seen: str) -> None:
        """Say which piece is the approved one, where it is not the one nearest the card."""
        from swatch.work.measure import with_comparisons

        work = self.photo
        if work is None or work.read is None:
            return
        pieces = tuple(replace(one, beside_card=one.piece == seen) for one in work.read.pieces)
        read = replace(work.read, pieces=pieces)
        self._put(read=with_comparisons(read, pairs_beside(read)))
        self._enter()
        self.changed.emit()

    @property
    def guessed(self) -> bool:
        """Whether the regions are only proposed, since they were never placed on this form."""
        work, studio = self.photo, self._studio.studio
        if work is None or work.read is None or studio is None or not work.read.zones:
            return False
        form = self.records().form
        return not self._placed and all(fold_name(one.name) != fold_name(form) for one in studio.forms())

    def move_zone(self, key: str, polygon: Points) -> None:
        """Nudge one region of one piece."""
        work = self.photo
        if work is None or work.read is None or key not in self.outlines():
            return
        before, after = work.zones, {**self.outlines(), key: polygon}
        self._step(say(_("Move {zone}")).format(zone=key), before, after)

    def place_on_all(self) -> None:
        """Have the regions of the chosen piece lie so on every piece, now and in later photos."""
        work = self.photo
        seen = self.chosen.partition(" ")[0]
        mine = {key: one for key, one in self.outlines().items() if key.partition(" ")[0] == seen}
        if work is None or not mine:
            return
        self._form, self._placed = None, True
        shapes = tuple(ZoneShape(key.partition(" ")[2], polygon) for key, polygon in mine.items())
        self._put(zones={})
        self.steps.clear()
        self._read(shapes)

    def outlines(self) -> dict[str, Points]:
        """Every region of every piece, by ``piece region``."""
        work = self.photo
        if work is None or work.read is None:
            return {}
        return work.zones or {zone.zone: zone.polygon for zone in work.read.zones}

    def put_away(self) -> None:
        """Put the photo in view away, unkept."""
        self._stop()
        self.photos = self.photos[1:]
        self._begin()
        self.changed.emit()

    def cancel(self) -> None:
        """Stop reading."""
        self._stop()
        self.changed.emit()

    @property
    def keepable(self) -> int:
        """How many readings would be kept."""
        work = self.photo
        if work is None or work.read is None or self.busy or not self.firing:
            return 0
        return len(readings_of(work.read, work.entries, self.records(), self.firing))

    def keep(self) -> None:
        """Keep the readings of the photo in view, and how the regions lie."""
        work = self.photo
        if work is None or work.read is None or not self.keepable or self._keeping is not None:
            return
        read, path, form = work.read, work.path, work.read.form
        kept = readings_of(read, work.entries, self.records(), self.firing)

        def command(studio: object) -> int:
            from swatch.library.studio import Studio

            assert isinstance(studio, Studio)
            if form is not None and form not in studio.forms():
                studio.put_form(form)
            return sum(len(ids) for ids in studio.keep_shots([(path, read, kept)]))

        # The original is hashed and copied: too long for the UI thread.
        self._keeping = self._studio.lend_to(command, "keep", self._was_kept, self._let_go)

    # Within

    def _let_go(self) -> None:
        self._keeping = None

    def _was_kept(self, n: int) -> None:
        subject = self.subject
        self._form = self.photo.read.form if self.photo is not None and self.photo.read is not None else None
        self._n += n
        self.photos = self.photos[1:]
        self.steps.clear()
        self._begin()
        self.changed.emit()
        if not self.photos:
            count, self._n = self._n, 0
            self.kept.emit(subject, count)

    def _records_changed(self) -> None:
        self._records = None
        if self.photo is not None and self.firing not in self.firings():
            self._usual()
        if self.photo is not None and not self.photo.entries:
            self._enter()
        self.changed.emit()

    def _forget(self) -> None:
        self._records = None
        self._stop()
        self.photos, self._total, self._n = [], 0, 0
        self.subject, self.firing, self.approved, self.shelves, self.chosen = "", "", "", "", ""
        self._form = None
        self.steps.clear()
        self.changed.emit()

    def _begin(self) -> None:
        """Open the photo that is first now."""
        self.chosen, self._placed = "", False
        self.steps.clear()
        if self.photo is None:
            self._total = 0
            return
        self._usual()
        self._show()
        self._read()

    def _enter(self) -> None:
        """Propose names and shelves of the pieces anew."""
        work = self.photo
        if work is not None and work.read is not None:
            shelves = self._shelf_names()
            entries = entries_for(work.read, self.records(), self.firing, self.approved or None, shelves)
            self._put(entries=entries)

    def _put(self, **changes: object) -> None:
        if self.photos:
            self.photos[0] = replace(self.photos[0], **changes)  # type: ignore[arg-type]

    def _step(self, name: str, before: dict[str, Points], after: dict[str, Points]) -> None:
        def lay(zones: dict[str, Points]) -> Callable[[], None]:
            def do() -> None:
                self._put(zones=zones)
                self._wait.start()
                self.changed.emit()

            return do

        self.steps.push(Step(name, lay(after), lay(before)))

    def _show(self) -> None:
        studio, work = self._studio.studio, self.photo
        if studio is None or work is None:
            return
        path = work.path
        out = studio.cache / "previews" / f"{hashlib.sha256(str(path).encode()).hexdigest()[:24]}.jpg"
        out.parent.mkdir(parents=True, exist_ok=True)
        job = self._jobs.ask("preview", {"photo": str(path), "out": str(out), "long_side": PREVIEW})
        self._preview = job
        job.finished.connect(lambda made: self._previewed(path, Path(made)))
        job.failed.connect(lambda error: self._failed(path, error))

    def _previewed(self, path: Path, made: Path) -> None:
        if self.photo is not None and self.photo.path == path:
            self._put(preview=made)
            self.changed.emit()

    def _read(self, pattern: tuple[ZoneShape, ...] = ()) -> None:
        work = self.photo
        if work is None:
            return
        from swatch.work.measure import card_of

        self._stop(preview=False)
        studio, name = self._studio.studio, self.records().form
        regions = tuple(
            one.region
            for one in (studio.editions() if studio else ())
            if one.edition == self.subject and one.region
        )
        wanted = PiecesWanted(name, None if pattern else self._form, pattern, regions)
        table, path = card_of(_CARD), work.path
        asked = {
            "photo": str(path),
            "card": [table.name, table.rows, table.columns, table.lab],
            "wanted": wanted,
            "zones": tuple(ZoneShape(key, polygon) for key, polygon in work.zones.items()),
        }
        job = self._jobs.ask("pieces", asked)
        self._reading = job
        job.finished.connect(lambda read: self._was_read(path, read))
        job.failed.connect(lambda error: self._failed(path, error))
        job.ended.connect(lambda: self._over(job))
        self.changed.emit()

    def _was_read(self, path: Path, read: PhotoRead) -> None:
        work = self.photo
        if work is None or work.path != path:
            return
        same = work.read is not None and [one.piece for one in work.read.pieces] == [
            one.piece for one in read.pieces
        ]
        self._form = read.form if read.form is not None and read.zones else self._form
        self._put(read=read, problem=None)
        if not same or not work.entries:
            self._enter()
        if not self.chosen and read.zones:
            self.choose(read.zones[0].zone)

    def _failed(self, path: Path, error: Exception) -> None:
        if not isinstance(error, StudioProblem):
            self._jobs.bug.emit(error)
        elif self.photo is not None and self.photo.path == path:
            self._put(problem=error.at(Where(photo=path.name)), read=None)
            self.changed.emit()

    def _over(self, job: Job) -> None:
        if self._reading is job:
            self._reading = None
        self.changed.emit()

    def _stop(self, *, preview: bool = True) -> None:
        self._wait.stop()
        jobs = (self._reading, self._preview) if preview else (self._reading,)
        self._reading = None
        for job in jobs:
            if job is not None:
                job.stop()
