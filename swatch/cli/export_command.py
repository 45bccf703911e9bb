"""``swatch export``: readings as CSV or ISO 28178 keyword text."""

from __future__ import annotations

import argparse
from pathlib import Path

from swatch.cli import backup_command
from swatch.cli.out import Out
from swatch.cli.studio_folder import folder_of, remember
from swatch.wording.text import _, say

HELP = "write the readings as CSV (comes back in with import --tiles) or ISO 28178 text; the whole studio as ZIP"
EXAMPLE = "swatch export --studio shed --out readings.csv"


def add_words(parser: argparse.ArgumentParser) -> None:
    """Say which words the command takes."""
    parser.add_argument(
        "--out", metavar="F.csv|F.txt|F.zip", required=True, help="the file; its ending says the format"
    )


def run(args: argparse.Namespace, out: Out) -> int:
    """Do it and give the exit status."""
    if Path(args.out).suffix.lower() == ".zip":  # all there is can only be the whole studio
        return backup_command.run(args, out)
    folder = folder_of(args)
    from swatch.work.send_out import send_out

    count = send_out(folder, Path(args.out))
    remember(folder)
    out.entry |= {"out": args.out, "readings": count}
    out.line(say(_("{count} readings written to {file}.")).format(count=count, file=args.out))
    return out.finish(used=True)
