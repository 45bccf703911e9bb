"""Names of changes as Undo and Redo say them."""

from __future__ import annotations

from collections.abc import Mapping

from swatch.terms.problems import Fact
from swatch.wording.text import _, say

CHANGES: dict[str, str] = {
    "keep-readings": _("Keep {n} readings"),
    "bring-in-materials": _("Change materials"),
    "bring-in-bodies": _("Change bodies"),
    "bring-in-firings": _("Change firings"),
    "bring-in-witnesses": _("Enter witness cones"),
    "bring-in-readings": _("Change readings"),
    "bring-in-editions": _("Change editions"),
    "bring-in-pieces": _("Change pieces"),
    "bring-in-weighings": _("Enter weighings"),
    "rename-material": _("Rename {name}"),
    "set-status": _("{name}: {status}"),
    "set-aside": _("Set {n} readings aside"),
    "take-back": _("Take {n} readings in again"),
    "remove-tiles": _("Remove {n} tiles"),
    "set-up-studio": _("Name the studio"),
}


class _Facts(dict[str, Fact]):
    def __missing__(self, key: str) -> str:
        return "…"


def change_in_words(code: str, facts: Mapping[str, Fact]) -> str:
    """Say the name of a change: ``Keep 12 readings``."""
    return say(CHANGES.get(code, code.replace("-", " ").capitalize())).format_map(_Facts(facts))
