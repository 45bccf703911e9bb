"""What is printed on the photo sheet."""

from __future__ import annotations

from swatch.terms.sheet import SheetWords, Split
from swatch.wording.text import _, say

_ADVICE = (
    _("Print at 100 %, on white matt paper. Lay tiles flat in their slots, top upward; a curved one in a stand."),
    _("One lamp or one window, from the side at 45°; all other lights off; no flash."),
    _("Tiles at room temperature: a warm tile reads wrong. Nothing may mirror in them or shade the paper."),
    _("Phone flat above the middle, all four corner marks in the picture, HDR and filters off."),
)


_STAND = (
    _("Stands for tiles that do not lie flat: cut out, fold at the dashes, glue the tab under the far end."),
    _("Two under a tile, along its slot, until its middle is level with the paper; use slots near the middle."),
)
_SPLITS = {
    Split.WHOLE: "",
    Split.STEPS: _("steps, three coats at the top"),
    Split.CROSSED_4: _("crossed, 2 × 2 fields"),
    Split.CROSSED_9: _("crossed, 3 × 3 fields"),
}


def sheet_words(split: Split = Split.WHOLE) -> SheetWords:
    """The words of a sheet, in the language now in use."""
    parted = _SPLITS[split]
    return SheetWords(
        title=say(_("Photo sheet")),
        tiles=say(_("tiles {size}")),
        split=say(parted) if parted else "",
        sheet_of=say(_("sheet {number} of {count}")),
        date=say(_("Date")),
        firing=say(_("Firing")),
        card=say(_("Card here")),
        bar=say(_("100 mm: measure this bar after printing")),
        advice=tuple(say(line) for line in _ADVICE),
        stand=tuple(say(line) for line in _STAND),
    )
