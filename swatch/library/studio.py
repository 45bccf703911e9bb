"""The studio folder as one thing: what the rest of the program knows of the library.

A folder holds ``studio.sqlite`` (the records), ``photos`` (originals by content), ``cache`` (what may be thrown
away), ``quarantine`` (what nothing speaks of), ``backups`` (copies before a change of form), the lock.
"""

from __future__ import annotations

from collections.abc import Collection, Generator, Mapping, Sequence
from contextlib import AbstractContextManager
from dataclasses import replace
from pathlib import Path
from sqlite3 import Connection
from types import TracebackType

from swatch.library import (
    backs,
    boards,
    disk,
    evidence,
    firing_logs,
    firings,
    materials,
    originals,
    photos,
    piece_shots,
    rows,
    seal,
    settings,
    tiles,
    verify,
)
from swatch.library.file import BACKUPS, FILE_NAME, Listener, RecordsFile, facts_of, make_records, mended, size_of
from swatch.library.lock import LOCK_NAME, WriterLock
from swatch.library.stock_records import StockRecords
from swatch.terms.boards import Board
from swatch.terms.editions import Counts
from swatch.terms.evidence import Evidence, ZoneReading
from swatch.terms.materials import BareBody, Firing, Material, Status, WitnessCone
from swatch.terms.measured import PhotoRead
from swatch.terms.problems.base import Fact, StudioProblem
from swatch.terms.problems.studio import folder_not_empty, no_studio, studio_exists
from swatch.terms.report import Report, silent

CACHE = "cache"
_OWN = {LOCK_NAME, originals.PHOTOS, originals.QUARANTINE, CACHE, BACKUPS, FILE_NAME + disk.TEMPORARY}
_OWN |= {FILE_NAME + disk.TEMPORARY + "-journal"}


class Studio(StockRecords, piece_shots.FormRecords):
    """One studio, open; closes itself as a context manager. `create` and `open` hold the lock, `look` reads."""

    def __init__(self, file: RecordsFile, lock: WriterLock | None) -> None:
        self.file, self._lock = file, lock
        self.folder = file.folder

    @classmethod
    def create(cls, folder: Path) -> Studio:
        """Make a studio in a folder that is absent or empty, and open it.

        Raises
        ------
        StudioProblem
            ``studio-exists``, ``folder-not-empty``, or what the disk refuses.
        """
        folder = Path(folder)
        with mended(folder):
            if (folder / FILE_NAME).exists():
                raise studio_exists(str(folder))
            if folder.is_dir():
                found = sorted(path.name for path in folder.iterdir() if path.name not in _OWN)
                if found:
                    raise folder_not_empty(str(folder), found[0])
            elif folder.exists():
                raise folder_not_empty(str(folder), folder.name)
            folder.mkdir(parents=True, exist_ok=True)
            lock = WriterLock(folder)
            try:
                if (folder / FILE_NAME).exists():
                    raise studio_exists(str(folder))
                make_records(folder)
            finally:
                lock.release()
        return cls.open(folder)

    @classmethod
    def open(cls, folder: Path, *, although_damaged: bool = False) -> Studio:
        """Open a studio for writing: take the lock, bring the records up, sweep stray files into quarantine.

        With `although_damaged` even where the records are not, byte for byte, as they were when last closed.

        Raises
        ------
        StudioProblem
            ``no-studio``, ``studio-in-use`` (naming who), ``studio-newer`` (naming by what), ``studio-damaged``,
            ``studio-read-only`` and what else the disk refuses.
        """
        folder = Path(folder)
        if not (folder / FILE_NAME).is_file():
            raise no_studio(str(folder))
        with mended(folder):
            lock = WriterLock(folder)
        try:
            with mended(folder):
                if not although_damaged:
                    seal.check(folder)
                file = RecordsFile.open(folder)
                try:
                    for name in (originals.PHOTOS, CACHE):
                        disk.make_folder(folder / name)
                    originals.sweep(folder, file.sql)
                except BaseException:
                    file.close()
                    raise
        except BaseException:
            lock.release()
            raise
        return cls(file, lock)

    @classmethod
    def look(cls, folder: Path) -> Studio:
        """Open a studio for reading only; works while another process writes it, and where nothing can be written.

        Raises
        ------
        StudioProblem
            ``no-studio``, ``studio-newer``, ``studio-older``, ``studio-unfinished`` (a cut-off write in a folder
            that cannot be written), ``studio-damaged``.
        """
        return cls(RecordsFile.look(Path(folder)), None)

    def close(self) -> None:
        """Close; a studio that was written is sealed, so that damage can be seen when it is opened next."""
        self.file.close()
        if self._lock is not None:
            try:
                seal.put(self.folder)
            except OSError:
                # All is kept by now. A full disk costs the seal only: the studio opens as one that was not closed.
                seal.leave_off(self.folder)
            finally:
                self._lock.release()
                self._lock = None

    def __enter__(self) -> Studio:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    @property
    def writes(self) -> bool:
        """Whether this studio was opened for writing."""
        return self.file.writes

    @property
    def cache(self) -> Path:
        """A folder for what can be made again: thumbnails, fits. It may not exist where nothing can be written."""
        return self.folder / CACHE

    def change(self, code: str, **facts: Fact) -> AbstractContextManager[Connection]:
        """Run one named change; see `RecordsFile.change`."""
        return self.file.change(code, **facts)

    def undo(self) -> frozenset[str]:
        """Take the last change back; return the tables touched."""
        return self.file.undo()

    def redo(self) -> frozenset[str]:
        """Do the change taken back last again; return the tables touched."""
        return self.file.redo()

    @property
    def undo_name(self) -> tuple[str, Mapping[str, Fact]] | None:
        """Code and facts of the change that `undo` would take back."""
        return facts_of(self.file.next_undo())

    @property
    def redo_name(self) -> tuple[str, Mapping[str, Fact]] | None:
        """Code and facts of the change that `redo` would do again."""
        return facts_of(self.file.next_redo())

    @property
    def touched(self) -> frozenset[str]:
        """The tables the last change, undo or redo wrote."""
        return self.file.touched

    def watch(self, listener: Listener) -> None:
        """Have `listener` called with the tables touched, after every change, undo and redo."""
        self.file.watch(listener)

    def evidence(self) -> Evidence:
        """Read everything a prediction can rest on, as of one moment."""
        with self.file.reading() as sql:
            return evidence.read_evidence(sql)

    def evidence_in_steps(self) -> Generator[None, None, Evidence]:
        """Read the same as of one moment in steps of some milliseconds; nothing may be changed between them.

        Whoever has to change something first closes the generator, and reads anew afterwards.
        """
        with self.file.reading() as sql:
            return (yield from evidence.evidence_in_steps(sql))

    def evidence_after(self, before: Evidence, tiles: Collection[str]) -> Evidence:
        """Read the evidence anew where `before` is right but for a few tiles' readings."""
        with self.file.reading() as sql:
            stock, found = evidence.read_stock(sql), evidence.readings_of_tiles(sql, tiles)
        return replace(stock, readings=evidence.put_in(before.readings, tiles, found))

    @property
    def touched_tiles(self) -> frozenset[str] | None:
        """Names of the tiles whose readings the last change, undo or redo may have altered; None for many."""
        return self.file.touched_tiles()

    @property
    def undo_rows(self) -> int:
        """How many rows `undo` would put back."""
        return size_of(self.file.next_undo())

    @property
    def redo_rows(self) -> int:
        """How many rows `redo` would put back."""
        return size_of(self.file.next_redo())

    def readings_count(self) -> int:
        """How many readings are recorded, superseded ones too."""
        with self.file.reading() as sql:
            return int(sql.execute("SELECT count(*) FROM reading").fetchone()[0])

    def tiles_called(self, name: str) -> tuple[rows.TileRow, ...]:
        """Tiles and maker's chips of one name, with their zones and current readings, those set aside too."""
        with self.file.reading() as sql:
            return rows.tile_rows(sql, self.folder, name)

    def materials(self) -> tuple[Material, ...]:
        """Materials by name."""
        with self.file.reading() as sql:
            return tuple(evidence.read_materials(sql))

    def firings(self) -> tuple[Firing, ...]:
        """Firings by name."""
        with self.file.reading() as sql:
            return tuple(evidence.read_firings(sql))

    def bodies(self) -> tuple[str, ...]:
        """Names of every body, whether or not its own colour is known."""
        with self.file.reading() as sql:
            return rows.body_names(sql)

    def tiles(self) -> tuple[rows.TileRow, ...]:
        """Every tile with its zones and current readings, those set aside too; `rows.find` searches them."""
        with self.file.reading() as sql:
            return rows.tile_rows(sql, self.folder)

    @property
    def name(self) -> str:
        """The studio's name: its own, else its folder's."""
        with self.file.reading() as sql:
            return settings.read_setting(sql, settings.NAME) or self.folder.resolve().name

    @property
    def invented(self) -> bool:
        """Whether everything in it is invented, as in the demo studio."""
        with self.file.reading() as sql:
            return settings.read_setting(sql, settings.INVENTED) is not None

    def boards(self) -> tuple[Board, ...]:
        """Boards of planned tiles, the latest first."""
        with self.file.reading() as sql:
            return boards.read_boards(sql)

    def plan_board(self, *planned: Board) -> None:
        """Put boards on record with their tiles, so that their photos are understood later; one change."""
        boards.plan_boards(self.file, planned)

    def call_it(self, name: str, invented: str | None = None) -> None:
        """Name the studio; `invented` is the note that says that nothing in it is real."""
        note = {} if invented is None else {settings.INVENTED: invented}
        settings.put_settings(self.file, {settings.NAME: name, **note})

    def put_materials(self, values: Sequence[Material], given: frozenset[str]) -> Counts:
        """Add or bring up to date; the name is the key."""
        return materials.put_materials(self.file, values, given)

    def put_bodies(self, values: Sequence[BareBody], given: frozenset[str]) -> Counts:
        """Add or bring up to date; body and cone are the key."""
        return materials.put_bodies(self.file, values, given)

    def put_firings(self, values: Sequence[Firing], given: frozenset[str]) -> Counts:
        """Add or bring up to date; the name is the key."""
        return firings.put_firings(self.file, values, given)

    def put_witnesses(self, values: Sequence[WitnessCone], given: frozenset[str]) -> Counts:
        """Add or bring up to date; firing and shelf are the key."""
        return firings.put_witnesses(self.file, values, given)

    def put_firing_log(self, firing: str, points: Sequence[tuple[float, float]]) -> Counts:
        """Keep the log of a firing: minutes since its start, and °C."""
        return firing_logs.put_firing_log(self.file, firing, points)

    def put_readings(
        self, values: Sequence[ZoneReading], given: frozenset[str], lines: Sequence[int] = ()
    ) -> Counts:
        """Add or bring up to date; tile, zone, stage and reading are the key."""
        return tiles.put_readings(self.file, values, given, lines)

    def keep_shot(self, photo: Path, read: PhotoRead, kept: photos.Kept) -> list[int]:
        """Keep the readings chosen from one photo; return their ids once all is on the disk."""
        return photos.keep_shots(self.file, [(photo, read, kept)])[0]

    def keep_shots(
        self, shots: Sequence[tuple[Path, PhotoRead, photos.Kept]], turned: Sequence[photos.Turned] = ()
    ) -> list[list[int]]:
        """Keep what photos taken together show, fronts and backs, as one change; see `photos.keep_shots`."""
        return photos.keep_shots(self.file, shots, turned)

    def back_of(self, tile: str) -> rows.PhotoOf | None:
        """Where a tile's back is to be seen; see `backs.back_of`."""
        with self.file.reading() as sql:
            return backs.back_of(sql, self.folder, tile)

    def set_aside(self, readings: Sequence[int]) -> None:
        """Leave readings out of the evidence; they stay in the records."""
        tiles.set_aside(self.file, readings)

    def take_back(self, readings: Sequence[int]) -> None:
        """Take readings that were set aside into the evidence again."""
        tiles.set_aside(self.file, readings, aside=False)

    def remove_tiles(self, wares: Sequence[int]) -> None:
        """Take tiles out of the records with everything that is theirs."""
        tiles.remove_tiles(self.file, wares)

    def set_status(self, material: str, status: Status) -> None:
        """Say whether a material can be had."""
        materials.set_status(self.file, material, status)

    def mark_discontinued(self, material: str) -> None:
        """Say that a material can no longer be had."""
        materials.set_status(self.file, material, Status.DISCONTINUED)

    def edit_material(self, name: str, value: Material, given: frozenset[str]) -> None:
        """Write down anew what a material is, its name too, as one change."""
        materials.edit_material(self.file, name, value, given)

    def rename_material(self, name: str, new: str) -> None:
        """Call a material otherwise."""
        materials.rename_material(self.file, name, new)

    def backup(self, out: Path, report: Report = silent) -> int:
        """Write the whole studio into one file; see `swatch.library.backup`, which also restores it."""
        from swatch.library import backup

        return backup.save(self.file, out, report)

    def verify(self, deep: bool = True, report: Report = silent) -> list[StudioProblem]:
        """Look for damage; `deep` also reads every original. See `verify.find_damage`."""
        return verify.find_damage(self.file, deep=deep, report=report)
