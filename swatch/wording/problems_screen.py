"""What is said of the screen itself."""

from __future__ import annotations

from swatch.wording.text import _

PROBLEMS: dict[str, tuple[str, str]] = {
    "bad-screen-profile": (
        _("{file} is not a colour profile of a screen."),
        _("Choose the .icc or .icm file your monitor was measured with, or go on with sRGB."),
    ),
}

NOTICES: dict[str, tuple[str, str]] = {}
