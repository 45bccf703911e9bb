"""What is said of tests that came back: whether the target is hit, and what was learnt."""

from __future__ import annotations

from swatch.wording.text import _, say, say_many


def hit_in_words(tile: str, off: float, tolerance: float) -> str:
    """Say that a tile hits, and what comes next."""
    text = _(
        "{tile} hits: {off:.1f} from the target, within {tolerance:.1f}. Fire it on three real pieces, top and "
        "bottom shelf, before buying."
    )
    return say(text).format(tile=tile, off=off, tolerance=tolerance)


def miss_in_words(tile: str, off: float, tolerance: float) -> str:
    """Say that none hits, and how near the nearest comes."""
    text = _("None hits: the nearest, {tile}, is {off:.1f} from the target; wanted was {tolerance:.1f}.")
    return say(text).format(tile=tile, off=off, tolerance=tolerance)


def learnt_in_words(as_said: int, n: int) -> str:
    """Say how many came out as they were said to."""
    text = say_many(
        "{as_said} of {n} tile came out within the doubt it was given.",
        "{as_said} of {n} tiles came out within the doubt they were given.",
        n,
    )
    return text.format(as_said=as_said, n=n)


def missing_in_words(n: int) -> str:
    """Say how many tiles have not come back."""
    return say_many("{n} tile has not come back yet.", "{n} tiles have not come back yet.", n).format(n=n)
