"""``swatch backup``: the whole studio into one file."""

from __future__ import annotations

import argparse
from pathlib import Path

from swatch.cli.out import Out
from swatch.cli.studio_folder import folder_of
from swatch.wording.text import _, say

HELP = "write the whole studio, records and photos, into one ZIP file"
EXAMPLE = "swatch backup --studio shed --out shed-november.zip"


def add_words(parser: argparse.ArgumentParser) -> None:
    """Say which words the command takes."""
    parser.add_argument("--out", metavar="F.zip", required=True, help="the file to write")


def run(args: argparse.Namespace, out: Out) -> int:
    """Do it and give the exit status."""
    from swatch.work.safekeeping import save

    folder = folder_of(args)
    with out.progress("backup") as report:
        size = save(folder, Path(args.out), report)
    out.entry |= {"studio": str(folder), "out": args.out, "bytes": size}
    text = _("{folder} is kept in {out} ({megabytes:.1f} MB). Bring it back with swatch restore.")
    out.line(say(text).format(folder=folder, out=args.out, megabytes=size / 1e6))
    return out.finish(used=True)
