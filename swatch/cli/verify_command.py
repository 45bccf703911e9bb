"""``swatch verify``: the studio checked for damage."""

from __future__ import annotations

import argparse

from swatch.cli.out import Out
from swatch.cli.studio_folder import folder_of
from swatch.wording.text import _, say

HELP = "check the studio's records and photos for damage"
EXAMPLE = "swatch verify --studio shed"


def add_words(parser: argparse.ArgumentParser) -> None:
    """Say which words the command takes: none of its own."""


def run(args: argparse.Namespace, out: Out) -> int:
    """Do it and give the exit status."""
    folder = folder_of(args)
    from swatch.work.check_studio import check_studio

    out.entry |= {"studio": str(folder), "sound": False}
    problems = check_studio(folder)
    for problem in problems:
        out.problem(problem)
    out.entry["sound"] = not problems
    if not problems:
        out.line(
            say(_("{folder} is sound: every record and every photo is as it was kept.")).format(folder=folder)
        )
    return out.finish(used=True)
