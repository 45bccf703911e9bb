"""``swatch import``: files into the studio, all or nothing for each file."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from swatch.cli.out import Out, wrong_call
from swatch.cli.studio_folder import folder_of, remember
from swatch.cli.words import firing_log_word
from swatch.terms.brought import FileIn
from swatch.wording.problems import warning_entry
from swatch.wording.text import _, say

HELP = "bring CSV files into the studio, which is made where there is none"
EXAMPLE = "swatch import --studio shed --materials materials.csv --firings firings.csv --tiles tiles.csv"

_TABLES = {
    "materials": "what is in stock or was",
    "bodies": "bare fired bodies",
    "firings": "firings, as asked and as reached",
    "witness": "witness cones, shelf by shelf",
    "tiles": "measured test tiles",
    "editions": "editions and their regions",
    "pieces": "measured pieces",
    "buttons": "measured witness buttons and the kept one",
    "weighings": "weighings before and after",
    "jars": "what each jar holds, by lot",
    "counts": "pieces made, fired, good and sold",
}


def add_words(parser: argparse.ArgumentParser) -> None:
    """Say which words the command takes."""
    for table, help_text in _TABLES.items():
        parser.add_argument(f"--{table}", metavar="F", help=help_text)
    parser.add_argument(
        "--log", type=firing_log_word, metavar="FIRING=F", action="append", default=[],
        help="log of one firing: columns minutes (since its start) and celsius or fahrenheit; may be given again",
    )  # fmt: skip


def run(args: argparse.Namespace, out: Out) -> int:
    """Do it and give the exit status."""
    files = {table: Path(getattr(args, table)) for table in _TABLES if getattr(args, table) is not None}
    logs = {firing: Path(path) for firing, path in args.log}
    if len(logs) < len(args.log):
        return wrong_call("import", "a firing has one log")
    if not files and not logs:
        return wrong_call("import", f"name at least one file: --{', --'.join(_TABLES)}")
    from swatch.work.bring_in import bring_in

    out.entry["files"] = []
    folder = folder_of(args)
    with out.progress("import") as report:
        brought = bring_in(folder, files, report, logs)
    out.entry |= {"studio": str(folder), "files": [_entry(one) for one in brought.files]}
    if brought.used:
        remember(folder)
    out.table(
        [say(_("table")), say(_("file")), say(_("new")), say(_("changed")), say(_("as before"))],
        [_row(one) for one in brought.files],
        numbers=(2, 3, 4),
    )
    for one in brought.files:
        for notice in one.notices:
            out.notice(notice)
        for problem in one.problems:
            out.problem(problem)
    return out.finish(used=brought.used)


def _entry(one: FileIn) -> dict[str, Any]:
    counts = one.counts
    return {
        "table": one.table,
        "file": one.path,
        "used": counts is not None,
        "added": counts.added if counts else 0,
        "updated": counts.updated if counts else 0,
        "unchanged": counts.unchanged if counts else 0,
        "warnings": [warning_entry(notice) for notice in one.notices],
    }


def _row(one: FileIn) -> list[str]:
    if one.counts is None:
        return [one.table, one.path, say(_("not used")), "", ""]
    return [one.table, one.path, *map(str, (one.counts.added, one.counts.updated, one.counts.unchanged))]
