"""``swatch restore``: a studio back from the file that backup wrote."""

from __future__ import annotations

import argparse
from pathlib import Path

from swatch.cli.out import Out
from swatch.cli.studio_folder import remember
from swatch.wording.text import _, say

HELP = "make a studio from a file that backup wrote, in an empty folder"
EXAMPLE = "swatch restore shed-november.zip --into shed-again"


def add_words(parser: argparse.ArgumentParser) -> None:
    """Say which words the command takes."""
    parser.add_argument("source", metavar="F.zip", help="the file that swatch backup wrote")
    parser.add_argument("--into", metavar="DIR", required=True, help="the folder, absent or empty")


def run(args: argparse.Namespace, out: Out) -> int:
    """Do it and give the exit status."""
    from swatch.work.safekeeping import bring_back

    into = Path(args.into)
    with out.progress("restore") as report:
        bring_back(Path(args.source), into, report)
    remember(into)
    out.entry |= {"studio": str(into)}
    out.line(say(_("The studio is back in {folder}.")).format(folder=into))
    return out.finish(used=True)
