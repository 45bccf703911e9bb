"""What is said of what is known of a material."""

from __future__ import annotations

from swatch.terms.knowledge import Change, Covering, Lack, MaterialKnowledge, NextTile, Sensitivity
from swatch.wording.answers import difference_in_words, lab_in_words, layers_in_words
from swatch.wording.text import _, say, say_many
from swatch.wording.visible import visible

_CHANGES = {
    Change.HALF_A_CONE_HOTTER: _("Half a cone hotter: {difference}"),
    Change.HALF_A_CONE_COOLER: _("Half a cone cooler: {difference}"),
    Change.LIGHT_COAT: _("A light coat, three quarters: {difference}"),
    Change.HEAVY_COAT: _("A heavy coat, four thirds: {difference}"),
}
_LACKS = {
    Lack.NEVER_FIRED: _("it was never fired here"),
    Lack.NOT_OVER_DARK: _("it was never fired over a dark colour, so how it covers is a guess"),
    Lack.MOST_DOUBT: _("there its colour is least sure"),
}


OPAQUE, HALF = 0.9, 0.5
"""Contrast ratios from which a coat hides what lies below, and half does: common practice, no source."""


def opacity_in_words(covering: Covering) -> str:
    """Say whether it hides what lies below: the words before the figure."""
    if covering.contrast_ratio >= OPAQUE:
        return say(_("It hides what lies below."))
    return (
        say(_("It half hides what lies below."))
        if covering.contrast_ratio >= HALF
        else say(_("What lies below shows through."))
    )


def covering_in_words(covering: Covering) -> str:
    """Say how well it covers, with the range."""
    ends = covering.ratio_80
    text = _("Covers: over dark {n:.2f} as light as over light (80 % in {low:.2f}–{high:.2f}; 1 hides all).")
    return say(text).format(n=covering.contrast_ratio, low=ends[0], high=ends[1])


def change_in_words(one: Sensitivity) -> str:
    """Say what a change does: ``Half a cone hotter: Yellower by 1.8.``"""
    return say(_CHANGES[one.change]).format(difference=difference_in_words(one.changed, one.lab))


def next_tile_in_words(after: NextTile) -> str:
    """Say which one more tile would teach most, and why."""
    asked = after.question
    text = _("One tile that would teach most: {layers} on {body} at cone {cone}; {why}.")
    facts = {"layers": layers_in_words(asked.layers), "body": visible(asked.body), "cone": str(asked.cone)}
    return say(text).format(why=say(_LACKS[after.lack]), **facts)


def taught_in_words(known: MaterialKnowledge) -> list[str]:
    """Say what stands beside a picture of the colours: on how many tiles it rests, covering, what is missing."""
    tiles = say_many("{n} reading of it fired here.", "{n} readings of it fired here.", known.fired_tiles)
    lines = [tiles.format(n=known.fired_tiles)]
    if known.covering is not None:
        lines.append(f"{opacity_in_words(known.covering)} {covering_in_words(known.covering)}")
    if known.next_tile is not None:
        lines.append(next_tile_in_words(known.next_tile))
    return lines


def knowledge_in_words(known: MaterialKnowledge) -> list[str]:
    """Say line by line what is known beside the colours themselves."""
    tiles = say_many("{n} reading of it fired here.", "{n} readings of it fired here.", known.fired_tiles)
    lines = [tiles.format(n=known.fired_tiles)]
    if known.raw is not None:
        lines.append(say(_("Raw it is {lab}.")).format(lab=lab_in_words(known.raw)))
    if known.covering is not None:
        lines.append(covering_in_words(known.covering))
    lines += [change_in_words(one) for one in known.sensitivities]
    if known.next_tile is not None:
        lines.append(next_tile_in_words(known.next_tile))
    return lines
