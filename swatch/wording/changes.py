"""Names of changes as Undo and Redo say them."""

from __future__ import annotations

from collections.abc import Mapping

from swatch.terms.problems import Fact
from swatch.wording.text import _, _many, say, say_many

CHANGES: dict[str, str | tuple[str, str]] = {
    "place-regions": _("Place the regions of {name}"),
    "keep-readings": _many("Keep 1 reading", "Keep {n} readings"),
    "keep-backs": _many("Keep 1 tile's back", "Keep {n} tiles' backs"),
    "bring-in-materials": _many("Bring in 1 material", "Bring in {n} materials"),
    "bring-in-bodies": _many("Bring in 1 body", "Bring in {n} bodies"),
    "bring-in-firings": _many("Bring in 1 firing", "Bring in {n} firings"),
    "bring-in-firing-log": _("Bring in the log of {name}"),
    "bring-in-witnesses": _many("Bring in 1 witness cone", "Bring in {n} witness cones"),
    "bring-in-readings": _many("Bring in 1 reading", "Bring in {n} readings"),
    "bring-in-editions": _many("Bring in 1 region of an edition", "Bring in {n} regions of editions"),
    "bring-in-pieces": _many("Bring in 1 reading of a piece", "Bring in {n} readings of pieces"),
    "bring-in-buttons": _many("Bring in 1 reading of a button", "Bring in {n} readings of buttons"),
    "bring-in-weighings": _many("Bring in 1 weighing", "Bring in {n} weighings"),
    "bring-in-jars": _many("Bring in 1 jar", "Bring in {n} jars"),
    "bring-in-counts": _many("Bring in 1 count of pieces", "Bring in {n} counts of pieces"),
    "lock-jar": _("Lock a jar of {name}"),
    "unlock-jar": _("Unlock a jar of {name}"),
    "set-aside": _many("Set 1 reading aside", "Set {n} readings aside"),
    "take-back": _many("Take 1 reading in again", "Take {n} readings in again"),
    "remove-tiles": _many("Remove 1 tile", "Remove {n} tiles"),
    "plan-board": _many("Plan 1 tile for {name}", "Plan {n} tiles for {name}"),
    "rename-material": _("Rename {name} to {new}"),
    "edit-material": _("Edit {name}"),
    "set-status": _("Mark {name} as {status}"),
    "set-up-studio": _("Name the studio"),
}
"""By code; where something is counted, for one and for several."""


def change_in_words(code: str, facts: Mapping[str, Fact]) -> str:
    """Say the name of a change: ``Keep 12 readings``.

    Raises
    ------
    KeyError
        A change without words, or words without their facts: ours to mend.
    """
    words = CHANGES[code]
    if isinstance(status := facts.get("status"), str):
        facts = {**facts, "status": say(status)}
    if isinstance(words, str):
        return say(words).format_map(facts)
    n = facts["n"]
    return say_many(*words, int(n or 0)).format_map(facts)
