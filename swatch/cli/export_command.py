"""``swatch export``: readings as CSV or ISO 28178 keyword text."""

from __future__ import annotations

import argparse
from pathlib import Path

from swatch.cli.out import Out
from swatch.cli.studio_folder import folder_of, remember
from swatch.wording.text import _, say

HELP = "write the studio's readings as CSV (comes back in with import --tiles) or ISO 28178 keyword text"
EXAMPLE = "swatch export --studio shed --out readings.csv"


def add_words(parser: argparse.ArgumentParser) -> None:
    """Say which words the command takes."""
    parser.add_argument("--out", metavar="F.csv|F.txt", required=True, help="the file; its ending says the format")


def run(args: argparse.Namespace, out: Out) -> int:
    """Do it and give the exit status."""
    folder = folder_of(args)
    from swatch.work.send_out import send_out

    count = send_out(folder, Path(args.out))
    remember(folder)
    out.entry |= {"out": args.out, "readings": count}
    out.line(say(_("{count} readings written to {file}.")).format(count=count, file=args.out))
    return out.finish(used=True)
