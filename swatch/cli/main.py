"""The command line's frame: finds the command, does it, turns what went wrong into an exit status."""

from __future__ import annotations

import argparse
import importlib
import os
import signal
import sys
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import Protocol, cast

import swatch
from swatch.cli.out import DONE, IN_PART, NOTHING, STOPPED, STOPPING, WRONG_CALL, Out
from swatch.terms.problems import StudioProblem
from swatch.terms.report import Stopped

COMMANDS = (
    *("demo", "sheet", "measure", "self-test", "learn-card", "import", "heat"),
    *("predict", "match", "replace", "next-tests", "colours", "knows"),
    *("check", "edition", "report", "buttons", "trust"),
    *("export", "backup", "restore", "verify"),
)

OpenWindow = Callable[[str | None], int]
"""Opens the window on a studio's folder, or on the last one; gives the exit status when it is closed."""


class Command(Protocol):
    """A module of one command."""

    HELP: str
    EXAMPLE: str

    @staticmethod
    def add_words(parser: argparse.ArgumentParser) -> None:
        """Say which words the command takes."""

    @staticmethod
    def run(args: argparse.Namespace, out: Out) -> int:
        """Do it and give the exit status."""


def run(argv: Sequence[str] | None, open_window: OpenWindow) -> int:
    """Do what the words of a call ask for.

    Returns
    -------
    int
        0 done, 4 done in part, 3 nothing of the input could be used, 2 the words are wrong, 130 stopped.
    """
    _speak_utf8()
    try:
        args = _parser().parse_args(argv)
    except SystemExit as end:
        return end.code if isinstance(end.code, int) else WRONG_CALL
    try:
        with _ctrl_c_stops_work():
            return _do(args, open_window)
    except (KeyboardInterrupt, Stopped):
        return STOPPED
    except BrokenPipeError:
        # Whoever read the answer has gone; Python would complain again when it flushes at the end.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0


def _do(args: argparse.Namespace, open_window: OpenWindow) -> int:
    out = Out(args.json)
    try:
        if args.command is None:
            return open_window(args.studio)
        status = _command(args.command).run(args, out)
        if args.command == "demo" and status == DONE and args.show is not None:
            # Its answers stand even where the window cannot open.
            return IN_PART if open_window(args.show) == NOTHING else DONE
        return status
    except StudioProblem as problem:
        out.problem(problem)
        return out.finish(used=False)


@contextmanager
def _ctrl_c_stops_work() -> Iterator[None]:
    """Let Ctrl+C end the work of every thread, not only of the one that waits for it."""
    if threading.current_thread() is not threading.main_thread():
        yield  # only the main thread hears signals
        return

    def stop(_signal: int, _frame: object) -> None:
        STOPPING.set()
        raise KeyboardInterrupt

    before = signal.signal(signal.SIGINT, stop)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)
        STOPPING.clear()


def _command(name: str) -> Command:
    return cast(Command, importlib.import_module(f"swatch.cli.{name.replace('-', '_')}_command"))


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="swatch",
        description="From photos of a studio's test tiles to layerings of its own glazes that match a colour. "
        "Without a command, the window opens on the last studio.",
        epilog="swatch COMMAND --help says more of each, with an example.",
        allow_abbrev=False,
    )
    parser.add_argument("--version", action=_Version)
    _add_common(parser, top=True)
    commands = parser.add_subparsers(dest="command", metavar="COMMAND")
    for name in COMMANDS:
        command = _command(name)
        sub = commands.add_parser(
            name,
            help=command.HELP,
            description=command.HELP,
            epilog=f"Example:\n  {command.EXAMPLE}",
            formatter_class=argparse.RawDescriptionHelpFormatter,
            allow_abbrev=False,
        )
        _add_common(sub, top=False)
        command.add_words(sub)
    return parser


def _add_common(parser: argparse.ArgumentParser, *, top: bool) -> None:
    """Add what all commands share; it may stand before the command or after it."""
    parser.add_argument(
        "--studio",
        metavar="DIR",
        default=None if top else argparse.SUPPRESS,
        help="the studio's folder (default: the last one used)",
    )
    parser.add_argument(
        "--json",
        action="store_true",
        default=False if top else argparse.SUPPRESS,
        help="print one JSON object on standard output and nothing else there",
    )


class _Version(argparse.Action):
    """Print the version and stop."""

    def __init__(self, option_strings: Sequence[str], dest: str) -> None:
        super().__init__(option_strings, dest, nargs=0, help="print the version and stop")

    def __call__(self, parser: argparse.ArgumentParser, *_: object) -> None:
        print(f"swatch {swatch.__version__}")
        parser.exit()


def _speak_utf8() -> None:
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            # A file's name may hold bytes that are no UTF-8; they are shown, not a reason to stop.
            reconfigure(encoding="utf-8", errors="backslashreplace")
