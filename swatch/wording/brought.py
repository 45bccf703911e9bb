"""What came of bringing tables in."""

from __future__ import annotations

from pathlib import PurePath

from swatch.terms.brought import BroughtIn
from swatch.wording.problems import notice_in_words, place_in_words, problem_in_words
from swatch.wording.text import _, say

MOST_SAID = 5


def brought_in_words(brought: BroughtIn) -> tuple[str, str]:
    """Say file by file what came in, then what is to be mended."""
    done: list[str] = []
    after: list[str] = []
    for file in brought.files:
        name = PurePath(file.path).name
        if file.counts is None:
            done.append(say(_("{file}: nothing was taken in.")).format(file=name))
        else:
            counts = file.counts
            text = _("{file}: {added} added, {updated} changed, {unchanged} as before.")
            done.append(
                say(text).format(file=name, added=counts.added, updated=counts.updated, unchanged=counts.unchanged)
            )
        for problem in file.problems[:MOST_SAID]:
            where = place_in_words(problem.where)
            after.append(f"{where}: {' '.join(problem_in_words(problem))}")
        if len(file.problems) > MOST_SAID:
            after.append(say(_("and {n} more like these.")).format(n=len(file.problems) - MOST_SAID))
        after += [" ".join(notice_in_words(notice)).strip() for notice in file.notices[:MOST_SAID]]
    return " ".join(done), "\n".join(after)
