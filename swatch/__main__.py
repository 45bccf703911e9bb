"""Joins the command line and the window; imports neither Qt nor anything heavy before it is needed."""

from __future__ import annotations

import sys
from collections.abc import Sequence


def main(argv: Sequence[str] | None = None) -> int:
    """Run ``swatch`` with the words of a call (default: those of this process); gives the exit status."""
    if argv is None and getattr(sys, "frozen", False) and _is_worker():
        from swatch.work.worker import main as serve

        return serve()
    _one_thread_each()
    _speak_the_users_language()
    if list(sys.argv[1:] if argv is None else argv) == ["--gallery"]:
        return _open_gallery()
    from swatch.cli.main import run

    return run(argv, _open_window)


def _one_thread_each() -> None:
    """Keep numpy to one thread, before it is loaded: both cores are used by processes, and sums stay the same."""
    import os

    for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
        os.environ.setdefault(name, "1")


def _speak_the_users_language() -> None:
    from swatch.desk.settings import Settings
    from swatch.wording.languages import chosen, speak

    speak(chosen(Settings().text("language")))


def _is_worker() -> bool:
    """Whether the frozen program was started by itself as a worker process."""
    import os

    return "SWATCH_WORKER" in os.environ


def _open_window(studio: str | None) -> int:
    from swatch.cli.system_libraries import say_what_is_missing

    if not say_what_is_missing():
        return 3
    from pathlib import Path

    from swatch.screens.start import open_window

    return open_window(Path(studio) if studio is not None else None)


def _open_gallery() -> int:
    """Open the hidden pages of components, for whoever works on the window."""
    from swatch.cli.system_libraries import say_what_is_missing

    if not say_what_is_missing():
        return 3
    from swatch.screens.gallery import open_gallery

    return open_gallery()


if __name__ == "__main__":
    sys.exit(main())
