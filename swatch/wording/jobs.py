"""What is said of work under way."""

from __future__ import annotations

from swatch.wording.text import _, say

_DOING = {
    "demo": _("Building the demo studio from its photos"),
    "measure": _("Reading the photo"),
    "pieces": _("Reading the pieces of a load"),
    "preview": _("Opening the photo"),
    "backs": _("Looking at the backs of tiles"),
    "learn": _("Learning from the studio's tiles"),
    "predict": _("Predicting fired colours"),
    "match": _("Looking for layerings"),
    "next tests": _("Choosing the tiles to fire next"),
    "trial": _("Predicting fired colours"),
    "colours": _("Outlining the colours that the jars can make"),
    "why": _("Finding out what it rests on"),
    "knows": _("Finding out what is known of it"),
    "replace": _("Looking for what could replace it"),
    "heat": _("Reading the firing's log"),
    "check": _("Checking the loads of the edition"),
    "edition": _("Counting what the edition takes"),
    "buttons": _("Choosing the stripes of witness buttons"),
    "report": _("Gathering the report"),
    "trust": _("Checking how far predictions can be trusted"),
    "keep": _("Keeping readings"),
    "import": _("Bringing files in"),
    "undo": _("Undo"),
    "redo": _("Redo"),
    "backup": _("Copying the studio"),
    "restore": _("Bringing the studio back"),
    "verify": _("Checking records and photos"),
}
_STEPS = {
    "photos": _("{done} of {total} photos"),
    "layerings": _("{done} of {total} layerings"),
    "tiles": _("{done} of {total} tiles"),
    "files": _("{done} of {total} files"),
}


def progress_in_words(name: str, done: int, total: int, what: str = "", *, more: int = 0) -> str:
    """Say how far a piece of work is: ``Reading the photo: 3 of 12 photos``."""
    text = say(_DOING.get(name, _("Working")))
    if what in _STEPS and total > 1:
        text = f"{text}: {say(_STEPS[what]).format(done=done, total=total)}"
    if more > 0:
        text = say(_("{text} (and {more} more)")).format(text=text, more=more)
    return text
