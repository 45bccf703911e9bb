"""What is said of what is known of a material."""

from __future__ import annotations

from swatch.terms.knowledge import Change, Lack, MaterialKnowledge
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


def knowledge_in_words(known: MaterialKnowledge) -> list[str]:
    """Say line by line what is known beside the colours themselves."""
    tiles = say_many("{n} reading of it fired here.", "{n} readings of it fired here.", known.fired_tiles)
    lines = [tiles.format(n=known.fired_tiles)]
    if known.raw is not None:
        lines.append(say(_("Raw it is {lab}.")).format(lab=lab_in_words(known.raw)))
    if known.covering is not None:
        ends = known.covering.ratio_80
        facts = {"n": known.covering.contrast_ratio, "low": ends[0], "high": ends[1]}
        text = _("Covers: over dark {n:.2f} as light as over light (80 % in {low:.2f}–{high:.2f}; 1 hides all).")
        lines.append(say(text).format(**facts))
    for one in known.sensitivities:
        lines.append(say(_CHANGES[one.change]).format(difference=difference_in_words(one.changed, one.lab)))
    if known.next_tile is not None:
        asked = known.next_tile.question
        text = _("One tile that would teach most: {layers} on {body} at cone {cone}; {why}.")
        facts_of = {"layers": layers_in_words(asked.layers), "body": visible(asked.body), "cone": str(asked.cone)}
        lines.append(say(text).format(why=say(_LACKS[known.next_tile.lack]), **facts_of))
    return lines
