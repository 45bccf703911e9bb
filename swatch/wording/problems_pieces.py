"""What is said of photos of loads: pieces that were not found, and forms that do not fit."""

from __future__ import annotations

from swatch.wording.text import _

PROBLEMS: dict[str, tuple[str, str]] = {
    "pieces-none": (
        _("No piece stands out from the ground in this photo."),
        _("Lay the pieces apart on plain paper of another colour than theirs, clear of the photo's edge, or "
          "outline their regions by hand."),
    ),
    "pieces-of-another-form": (
        _("{n} things in this photo do not have the form's outline and were left out."),
        _("Lay the pieces as they lay when the regions were placed, or place the regions anew."),
    ),
    "regions-not-placed": (
        _("The regions of {name} have not been placed on a piece yet."),
        _("Outline them once on one piece: in the photo of a load, or in a zones file given with --pieces."),
    ),
    "not-an-approved-piece": (
        _("“{name}” is not known as an approved piece, or a kept button."),
        _("Known are: {known}."),
    ),
    "firing-not-known": (
        _("No firing is called “{name}”."),
        _("Add it in Firings, or check the spelling."),
    ),
}  # fmt: skip

NOTICES: dict[str, tuple[str, str]] = {code: PROBLEMS[code] for code in ("pieces-none", "pieces-of-another-form")}
