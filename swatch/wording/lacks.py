"""What is still to be written down of a zone before its reading can be kept."""

from __future__ import annotations

from swatch.wording.text import _, say

_LACKS = {
    "tile": _("name of the tile missing"),
    "layers": _("layers missing: tap jars"),
    "body": _("body missing"),
    "cone": _("firing or cone missing"),
}


def lack_in_words(code: str) -> str:
    """Say what is missing."""
    return say(_LACKS[code])
