"""Who writes a studio: one process at a time; the operating system lets go of it when the process dies."""

from __future__ import annotations

import errno
import json
import os
import platform
import sys
from pathlib import Path

from swatch.terms.problems.studio import cannot_lock, studio_in_use

LOCK_NAME = "writer.lock"

_HELD_ELSEWHERE = (errno.EACCES, errno.EAGAIN, errno.EDEADLK)
# Windows lets nobody else read a byte that is held, so the byte held lies far behind the name of the holder.
_HELD_BYTE = 1 << 20


class WriterLock:
    """The right to write one studio.

    The file stays behind, empty, when the lock is let go: taking it away would let two processes hold two
    different files of one name.
    """

    def __init__(self, folder: Path) -> None:
        """Take the lock.

        Raises
        ------
        StudioProblem
            ``studio-in-use``: another process holds it. ``studio-cannot-lock``: this disk knows no locks.
        OSError
            The folder cannot be written.
        """
        path = folder / LOCK_NAME
        self._fd: int | None = os.open(path, os.O_CREAT | os.O_RDWR | getattr(os, "O_BINARY", 0), 0o644)
        try:
            _hold(self._fd)
        except OSError as error:
            os.close(self._fd)
            self._fd = None
            if error.errno in _HELD_ELSEWHERE:
                raise studio_in_use(str(folder), *_holder(path)) from None
            raise cannot_lock(str(folder), error.strerror or str(error)) from None
        who = {"program": _program(), "pid": os.getpid(), "host": platform.node()}
        os.ftruncate(self._fd, 0)
        os.lseek(self._fd, 0, os.SEEK_SET)
        os.write(self._fd, json.dumps(who).encode())

    def release(self) -> None:
        """Let go."""
        if self._fd is not None:
            os.ftruncate(self._fd, 0)
            _let_go(self._fd)
            os.close(self._fd)
            self._fd = None


def is_held(folder: Path) -> bool:
    """Tell whether some process holds a studio for writing this moment."""
    try:
        fd = os.open(folder / LOCK_NAME, os.O_RDWR | getattr(os, "O_BINARY", 0))
    except OSError:
        return False  # no such file, or a folder that nobody can write
    try:
        _hold(fd)
        _let_go(fd)
    except OSError as error:
        return error.errno in _HELD_ELSEWHERE
    finally:
        os.close(fd)
    return False


def _program() -> str:
    name = Path(sys.argv[0]).name if sys.argv and sys.argv[0] else "python"
    return name if name not in ("__main__.py", "-c", "-m") else "swatch"


def _holder(path: Path) -> tuple[str | None, int | None, str | None]:
    """Who holds the lock, as far as the file says."""
    try:
        said = json.loads(path.read_bytes())
        return str(said["program"]), int(said["pid"]), str(said["host"])
    except (OSError, ValueError, KeyError, TypeError):
        return None, None, None


if sys.platform == "win32":
    import msvcrt

    def _hold(fd: int) -> None:
        os.lseek(fd, _HELD_BYTE, os.SEEK_SET)
        msvcrt.locking(fd, msvcrt.LK_NBLCK, 1)

    def _let_go(fd: int) -> None:
        os.lseek(fd, _HELD_BYTE, os.SEEK_SET)
        msvcrt.locking(fd, msvcrt.LK_UNLCK, 1)

else:
    import fcntl

    def _hold(fd: int) -> None:
        fcntl.flock(fd, fcntl.LOCK_EX | fcntl.LOCK_NB)

    def _let_go(fd: int) -> None:
        fcntl.flock(fd, fcntl.LOCK_UN)
