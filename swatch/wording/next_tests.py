"""What is said of the tiles to fire next."""

from __future__ import annotations

from swatch.terms.boards import Why
from swatch.terms.next_tests import NextAnswer, NextTest
from swatch.wording.answers import chance_in_words
from swatch.wording.text import _, say

_WHY = {
    Why.ALONE: _("the material alone"),
    Why.OVER_DARKEST: _("how much it covers"),
    Why.LIKELY: _("likely to hit"),
    Why.BESIDE: _("hits where the others miss"),
    Why.BOLD: _("a bet on what is not known"),
    Why.TEACHES: _("teaches most"),
    Why.HALF_AND_HALF: _("beside what it may replace"),
}


def why_in_words(why: str) -> str:
    """Say why a tile is fired."""
    return say(_WHY[Why(why)]) if why else ""


def information_in_words(one: NextTest) -> str:
    """Say what a tile adds: ``0.8 ΔE00`` nearer, or a share of the doubt."""
    if one.chance_within is None:
        return chance_in_words(one.information)
    return say(_("{n:.1f} ΔE00")).format(n=one.information)


def outlook_in_words(answer: NextAnswer) -> str:
    """Say what the tiles together may bring."""
    if answer.request.half_and_half and answer.best_expected is not None:
        text = _("The candidate of the worst use is expected {best:.1f} ΔE00 from what is used there now.")
        return say(text).format(best=answer.best_expected)
    if answer.chance_any is None or answer.best_expected is None:
        left = answer.doubt_left if answer.doubt_left is not None else 1.0
        text = _("Fired together they take {share} of the doubt away.")
        return say(text).format(share=chance_in_words(1.0 - left))
    text = _(
        "Chance that one of them, on average, lies within {tolerance:.1f} ΔE00: {chance}. The best is expected at "
        "{best:.1f}."
    )
    chance = chance_in_words(answer.chance_any)
    return say(text).format(tolerance=answer.request.tolerance, chance=chance, best=answer.best_expected)
