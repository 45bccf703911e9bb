"""``swatch verify``: the studio checked for damage."""

from __future__ import annotations

import argparse

from swatch.cli.out import Out
from swatch.cli.studio_folder import folder_of
from swatch.wording.text import _, say

HELP = "check the studio's records and photos for damage"
EXAMPLE = "swatch verify --studio shed"

_SOUND = {
    "before": _("{folder} is sound: every record and every photo is as it was kept."),
    "now": _(
        "{folder} reads well, and every photo is as it was kept. It had not been closed properly, so a figure "
        "gone wrong on the disk before today would not show; it is sealed now, and from here on it would."
    ),
    "no": _(
        "{folder} reads well, and every photo is as it was kept. The records are being written, or cannot be, so "
        "they bear no seal: a figure gone wrong on the disk would not show. Close Swatch and verify again."
    ),
}


def add_words(parser: argparse.ArgumentParser) -> None:
    """Say which words the command takes: none of its own."""


def run(args: argparse.Namespace, out: Out) -> int:
    """Do it and give the exit status."""
    folder = folder_of(args)
    from swatch.work.check_studio import check_studio

    out.entry |= {"studio": str(folder), "sound": False, "sealed": "no"}
    checked = check_studio(folder)
    for problem in checked.problems:
        out.problem(problem)
    out.entry |= {"sound": not checked.problems, "sealed": checked.sealed}
    if not checked.problems:
        out.line(say(_SOUND[checked.sealed]).format(folder=folder))
    return out.finish(used=True)
