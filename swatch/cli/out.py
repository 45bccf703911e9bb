"""What a command says: one JSON object or a table on standard output, problems and progress on standard error."""

from __future__ import annotations

import json
import sys
import threading
import time
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from typing import Any

from swatch.cli.columns import columns_of_text
from swatch.terms.problems import Notice, StudioProblem
from swatch.terms.problems.files import all_of
from swatch.terms.report import Report, Stopped
from swatch.wording.jobs import progress_in_words
from swatch.wording.problems import (
    notice_in_words,
    place_in_words,
    problem_entry,
    problem_in_words,
)
from swatch.wording.visible import visible

DONE, WRONG_CALL, NOTHING, IN_PART, STOPPED = 0, 2, 3, 4, 130
SECONDS_BETWEEN_REPORTS = 0.1
STOPPING = threading.Event()
"""Set by Ctrl+C, so that work in other threads of this process stops at its next report too."""


class Out:
    """Collects what a command has to say, and says it in one of two ways.

    Parameters
    ----------
    as_json : bool
        Print one JSON object and nothing else on standard output.

    Attributes
    ----------
    entry : dict
        The JSON object; a command fills it as soon as something is known, so that a failure prints what there is.
    """

    def __init__(self, as_json: bool) -> None:
        self.as_json = as_json
        self.entry: dict[str, Any] = {}
        self._lines: list[str] = []
        self._problems: list[StudioProblem] = []

    def line(self, text: str = "") -> None:
        """Add one line for people."""
        self._lines.append("\n".join(visible(part) for part in text.split("\n")) if text else "")

    def table(self, header: Sequence[str], rows: Sequence[Sequence[str]], numbers: Iterable[int] = ()) -> None:
        """Add a table for people; the columns in `numbers` are set to the right."""
        self._lines.extend(columns_of_text(header, [[visible(c) for c in row] for row in rows], numbers))

    def notice(self, notice: Notice) -> None:
        """Say a warning on standard error, at once."""
        self._say(place_in_words(notice.where), *notice_in_words(notice))

    def problem(self, problem: StudioProblem) -> None:
        """Say on standard error what could not be used, where, and the next step; keep it for the JSON object."""
        for one in all_of(problem):
            self._problems.append(one)
            self._say(place_in_words(one.where), *problem_in_words(one))

    def finish(self, *, used: bool) -> int:
        """Print the answer and give the exit status; `used` is whether anything of the input could be used."""
        if self.as_json:
            if self._problems:
                self.entry["problems"] = [problem_entry(problem) for problem in self._problems]
            print(json.dumps(self.entry, ensure_ascii=False, allow_nan=False))
        else:
            for line in self._lines:
                print(line)
        sys.stdout.flush()
        if not self._problems:
            return DONE
        return IN_PART if used else NOTHING

    @contextmanager
    def progress(self, name: str) -> Iterator[Report]:
        """Give a report that shows on standard error how far the work is, where that is a terminal."""
        shown = _Progress(name)
        try:
            yield shown
        finally:
            shown.clear()

    @staticmethod
    def _say(place: str, happened: str, next_step: str) -> None:
        head = f"{place}: " if place else ""
        print(f"swatch: {head}{happened} {next_step}".rstrip(), file=sys.stderr)


class _Progress:
    """A line on the terminal that is written over; nothing where standard error is no terminal."""

    def __init__(self, name: str) -> None:
        self._name = name
        self._terminal = sys.stderr.isatty()
        self._width = 0
        self._last = float("-inf")

    def __call__(self, done: int, total: int, what: str = "") -> None:
        if STOPPING.is_set():
            raise Stopped
        now = time.monotonic()
        if not self._terminal or now - self._last < SECONDS_BETWEEN_REPORTS:
            return
        self._last = now
        text = visible(progress_in_words(self._name, done, total, what))
        sys.stderr.write("\r" + text.ljust(self._width))
        sys.stderr.flush()
        self._width = len(text)

    def clear(self) -> None:
        if self._width:
            sys.stderr.write("\r" + " " * self._width + "\r")
            sys.stderr.flush()
            self._width = 0


def wrong_call(command: str, text: str) -> int:
    """Say that the words of a call do not go together; gives status 2, as `argparse` does for a single word."""
    print(f"swatch {command}: error: {text}", file=sys.stderr)
    return WRONG_CALL
