"""Names of changes as Undo and Redo say them."""

from __future__ import annotations

from collections.abc import Mapping

from swatch.terms.problems import Fact
from swatch.wording.text import _, say, say_many

CHANGES: dict[str, str | tuple[str, str]] = {
    "keep-readings": (_("Keep 1 reading"), _("Keep {n} readings")),
    "bring-in-materials": (_("Bring in 1 material"), _("Bring in {n} materials")),
    "bring-in-bodies": (_("Bring in 1 body"), _("Bring in {n} bodies")),
    "bring-in-firings": (_("Bring in 1 firing"), _("Bring in {n} firings")),
    "bring-in-firing-log": _("Bring in the log of {name}"),
    "bring-in-witnesses": (_("Bring in 1 witness cone"), _("Bring in {n} witness cones")),
    "bring-in-readings": (_("Bring in 1 reading"), _("Bring in {n} readings")),
    "bring-in-editions": (_("Bring in 1 region of an edition"), _("Bring in {n} regions of editions")),
    "bring-in-pieces": (_("Bring in 1 reading of a piece"), _("Bring in {n} readings of pieces")),
    "bring-in-weighings": (_("Bring in 1 weighing"), _("Bring in {n} weighings")),
    "set-aside": (_("Set 1 reading aside"), _("Set {n} readings aside")),
    "take-back": (_("Take 1 reading in again"), _("Take {n} readings in again")),
    "remove-tiles": (_("Remove 1 tile"), _("Remove {n} tiles")),
    "rename-material": _("Rename {name} to {new}"),
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
    if isinstance(words, str):
        return say(words).format_map(facts)
    n = facts["n"]
    return say_many(*words, int(n or 0)).format_map(facts)
