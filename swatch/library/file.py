"""The studio's records: one SQLite file, its transactions, and what they are called.

The journal is SQLite's plain rollback journal with ``synchronous = EXTRA``: in simulated power cuts it lost
nothing where the faster settings lost the last record.
"""

from __future__ import annotations

import errno
import sqlite3
import threading
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

from swatch.library import disk, seal
from swatch.library.lock import WriterLock
from swatch.library.migrations import NEWEST, bring_up, check_schema, version_of
from swatch.library.undo import Step, UndoLog
from swatch.terms.problems.base import Fact, StudioProblem
from swatch.terms.problems.studio import (
    disk_failed,
    disk_full,
    no_studio,
    studio_busy,
    studio_damaged,
    studio_older,
    studio_read_only,
    studio_unfinished,
)

FILE_NAME = "studio.sqlite"
BACKUPS = "backups"
BUSY_SECONDS = 10.0

_DAMAGE_IN_WORDS = ("unsupported file format", "no such table", "no such column", "Could not decode to UTF-8")
"""How SQLite tells, without a code of its own, that a file is not what this program wrote."""

Listener = Callable[[frozenset[str]], None]


def commit(sql: sqlite3.Connection) -> None:
    """Make the transaction last; a step of its own, so that a test can stop before or after it."""
    sql.execute("COMMIT")


@contextmanager
def mended(folder: Path) -> Iterator[None]:
    """Turn what the disk or SQLite refuses into a problem the potter can act upon."""
    try:
        yield
    except sqlite3.Error as error:
        code = getattr(error, "sqlite_errorcode", 0)
        problem = _problem_of(str(folder), code & 0xFF, code, str(error))
        if problem is None:
            raise
        raise problem from error
    except UnicodeDecodeError as error:  # what SQLite says of a damaged file quotes the damage
        raise studio_damaged(str(folder), "it holds text that is none") from error
    except OSError as error:
        if error.errno in (errno.ENOSPC, errno.EDQUOT, errno.EFBIG):
            raise disk_full(str(folder)) from error
        if error.errno in (errno.EROFS, errno.EACCES, errno.EPERM):
            raise studio_read_only(str(folder)) from error
        raise disk_failed(str(folder), error.strerror or str(error)) from error


def _problem_of(folder: str, primary: int, code: int, text: str) -> StudioProblem | None:
    if primary == sqlite3.SQLITE_FULL:
        return disk_full(folder)
    if code == sqlite3.SQLITE_READONLY_ROLLBACK:
        return studio_unfinished(folder)
    if primary in (sqlite3.SQLITE_READONLY, sqlite3.SQLITE_PERM):
        return studio_read_only(folder)
    if primary in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB) or text.startswith(_DAMAGE_IN_WORDS):
        return studio_damaged(folder, text)
    if primary in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
        return studio_busy(folder)
    if primary in (sqlite3.SQLITE_IOERR, sqlite3.SQLITE_CANTOPEN):
        return disk_failed(folder, text)
    return None


class RecordsFile:
    """One open file of records, for writing or for reading only.

    ``touched`` is the set of tables the last change, undo or redo wrote; listeners are told the same.
    """

    def __init__(self, folder: Path, sql: sqlite3.Connection, *, writes: bool) -> None:
        self.folder, self.sql, self.writes = folder, sql, writes
        self.touched: frozenset[str] = frozenset()
        self.facts: dict[str, Fact] = {}
        self._listeners: list[Listener] = []
        self._busy = threading.Lock()
        self._undo = UndoLog(sql) if writes else None
        self._last: Step | None = None
        self._seen = self._data_version()

    @classmethod
    def open(cls, folder: Path) -> RecordsFile:
        """Open for writing; the caller holds the writer's lock."""
        with mended(folder):
            sql = connect(folder / FILE_NAME, "rw")
            try:
                found = version_of(sql, folder)
                check_size(sql, folder)
                if found == NEWEST:
                    check_schema(sql, folder)
                # Before anything is written: a file rolled back need not be the same byte for byte.
                seal.break_open(folder)
                _clear_journal(folder)
                sql.execute("PRAGMA journal_mode = DELETE")
                sql.execute("PRAGMA synchronous = EXTRA")
                bring_up(sql, folder, found, folder / BACKUPS)
                return cls(folder, sql, writes=True)
            except BaseException:
                sql.close()
                raise

    @classmethod
    def look(cls, folder: Path) -> RecordsFile:
        """Open for reading only, beside whoever writes."""
        if not (folder / FILE_NAME).is_file():
            raise no_studio(str(folder))
        _finish_cut_off(folder)
        with mended(folder):
            sql = connect(folder / FILE_NAME, "ro")
            try:
                if version_of(sql, folder) < NEWEST:
                    raise studio_older(str(folder))
                return cls(folder, sql, writes=False)
            except BaseException:
                sql.close()
                raise

    @contextmanager
    def change(self, code: str, **facts: Fact) -> Iterator[sqlite3.Connection]:
        """Run one named transaction: all of it or nothing, one step of undo.

        What stands in ``self.facts`` at the end is what the step is called with, so that a count known only
        then can be in its name. A change that touches no row leaves no step.

        Raises
        ------
        RuntimeError
            Inside another change, or on a studio opened for reading only.
        """
        undo = self._begin_writing()
        self._last = None
        try:
            self.facts = dict(facts)
            with mended(self.folder):
                self._begin(undo)
                try:
                    mark = undo.mark()
                    yield self.sql
                    step = undo.step_since(code, self.facts, mark)
                    commit(self.sql)
                except BaseException:
                    self._roll_back()
                    raise
                if step is not None:
                    undo.keep(step)
                    self._last = step
        finally:
            self._busy.release()
        self._tell(step.tables if step is not None else frozenset())

    def undo(self) -> frozenset[str]:
        """Take the last change back; return the tables touched, none where there was nothing to take back."""
        return self._play("done", "undone")

    def redo(self) -> frozenset[str]:
        """Do again what was taken back last; return the tables touched."""
        return self._play("undone", "done")

    def next_undo(self) -> Step | None:
        """Return the change that `undo` would take back."""
        return self._next("done")

    def next_redo(self) -> Step | None:
        """Return the change that `redo` would do again."""
        return self._next("undone")

    def touched_tiles(self) -> frozenset[str] | None:
        """Names of tiles whose readings the last change, undo or redo may have altered; None where many may be."""
        return self._undo.tiles_of(self._last) if self._undo is not None and self._last is not None else None

    def watch(self, listener: Listener) -> None:
        """Have `listener` called with the tables touched, after every change, undo and redo."""
        self._listeners.append(listener)

    @contextmanager
    def reading(self) -> Iterator[sqlite3.Connection]:
        """Read everything inside as of one moment, whoever writes meanwhile."""
        with mended(self.folder):
            if self.sql.in_transaction:
                yield self.sql
                return
            self.sql.execute("BEGIN")
            try:
                yield self.sql
            except (ValueError, TypeError, KeyError, StudioProblem) as error:
                self._blame_damage(error)
                raise
            finally:
                self._roll_back()

    def _blame_damage(self, error: Exception) -> None:
        """Say that the records are damaged, where a value that nobody wrote is seen to come of that.

        Raises
        ------
        StudioProblem
            ``studio-damaged``; nothing where the records are sound, so that the error is another's.
        """
        from swatch.library.verify import damage_in

        found = damage_in(self.sql)
        if found:
            raise studio_damaged(str(self.folder), found[0]) from error

    def close(self) -> None:
        """Close the file; undo ends here."""
        self.sql.close()

    def _begin_writing(self) -> UndoLog:
        if self._undo is None:
            raise RuntimeError("a studio opened for reading only cannot be changed")
        if not self._busy.acquire(blocking=False):
            raise RuntimeError("a change cannot begin inside another")
        return self._undo

    def _play(self, side: str, other: str) -> frozenset[str]:
        undo = self._begin_writing()
        self._last = None
        try:
            with mended(self.folder):
                self._begin(undo)
                try:
                    stack: list[Step] = getattr(undo, side)
                    if not stack:
                        self._roll_back()
                        return frozenset()
                    back = undo.replay(stack[-1])
                    commit(self.sql)
                except BaseException:
                    self._roll_back()
                    raise
                undo.forget(stack.pop())
                getattr(undo, other).append(back)
                self._last = back
        finally:
            self._busy.release()
        self._tell(back.tables)
        return back.tables

    def _next(self, side: str) -> Step | None:
        if self._undo is None or self._data_version() != self._seen:
            return None
        stack: list[Step] = getattr(self._undo, side)
        return stack[-1] if stack else None

    def _tell(self, tables: frozenset[str]) -> None:
        self.touched = tables
        if tables:
            for listener in list(self._listeners):
                listener(tables)

    def _roll_back(self) -> None:
        # A full disk or a failed read has already rolled back by itself.
        if self.sql.in_transaction:
            self.sql.execute("ROLLBACK")

    def _begin(self, undo: UndoLog) -> None:
        """Begin a transaction that nobody else's write has come before unnoticed."""
        while True:
            self.sql.execute("BEGIN IMMEDIATE")
            if not self._is_changed_elsewhere():
                return
            self.sql.execute("ROLLBACK")
            undo.clear()

    def _data_version(self) -> int:
        return int(self.sql.execute("PRAGMA main.data_version").fetchone()[0])

    def _is_changed_elsewhere(self) -> bool:
        """Tell whether another process has written since the last look; it moves only for others' writes."""
        now = self._data_version()
        changed, self._seen = now != self._seen, now
        return changed


def connect(path: Path, mode: str) -> sqlite3.Connection:
    """Open the file with the settings every connection of the library has; ``mode`` is rw, ro or rwc."""
    uri = f"{path.absolute().as_uri()}?mode={mode}"
    sql = sqlite3.connect(
        uri, uri=True, timeout=BUSY_SECONDS, isolation_level=None, check_same_thread=False, cached_statements=256
    )
    for pragma in ("foreign_keys = ON", "trusted_schema = OFF", "cell_size_check = ON", "temp_store = MEMORY"):
        sql.execute(f"PRAGMA {pragma}")
    return sql


def make_records(folder: Path) -> None:
    """Make the file of records under a temporary name, whole, and give it its name."""
    part = folder / (FILE_NAME + disk.TEMPORARY)
    disk.remove(part)
    disk.remove(part.with_name(part.name + "-journal"))
    sql = connect(part, "rwc")
    try:
        sql.execute("PRAGMA synchronous = EXTRA")
        bring_up(sql, folder, 0, folder / BACKUPS)
    finally:
        sql.close()
    disk.rename(part, folder / FILE_NAME)
    disk.flush_folder(folder)


def check_size(sql: sqlite3.Connection, folder: Path) -> None:
    """Hold the file's size against its own count of pages: a file cut short opens without a word otherwise.

    Raises
    ------
    StudioProblem
        ``studio-damaged``.
    """
    pages = int(sql.execute("PRAGMA page_count").fetchone()[0])
    size = int(sql.execute("PRAGMA page_size").fetchone()[0])
    found = (folder / FILE_NAME).stat().st_size
    if pages * size != found:
        raise studio_damaged(str(folder), f"{found} bytes where {pages * size} are due")


def _clear_journal(folder: Path) -> None:
    """Take away a journal that never came to hold anything.

    Under the writer's lock, after the first read: one that mattered has been rolled back and removed by SQLite,
    which leaves one whose first byte is not written where it is.
    """
    journal = folder / (FILE_NAME + "-journal")
    if not journal.is_file():
        return
    with journal.open("rb") as file:
        first = file.read(1)
    if first in (b"", b"\0"):
        disk.remove(journal)


def _finish_cut_off(folder: Path) -> None:
    """Roll back what a process left half written when it died; a reader alone may not."""
    journal = folder / (FILE_NAME + "-journal")
    if not journal.is_file() or journal.stat().st_size == 0:
        return
    try:
        lock = WriterLock(folder)
    except StudioProblem as problem:
        if problem.code in ("studio-in-use", "studio-in-use-unknown"):
            return  # somebody is writing this moment, and will finish or has rolled back already
        raise
    except OSError:
        return  # a folder that cannot be written: opening will say what is unfinished
    try:
        with mended(folder):
            sql = connect(folder / FILE_NAME, "rw")
            try:
                sql.execute("SELECT count(*) FROM sqlite_schema").fetchone()
            finally:
                sql.close()
    finally:
        lock.release()
        disk.flush_folder(folder)


def facts_of(step: Step | None) -> tuple[str, Mapping[str, Fact]] | None:
    """Return a step's code and facts."""
    return None if step is None else (step.code, step.facts)


def size_of(step: Step | None) -> int:
    """Return how many rows a step touched."""
    return 0 if step is None else step.last - step.first
