"""A layering changed by a step, in words."""

from __future__ import annotations

from swatch.terms.answers import Prediction
from swatch.terms.layering import format_layers
from swatch.terms.trial import Aside, OneStep, WhatIfAnswer
from swatch.wording.answers import difference_in_words, lab_in_words
from swatch.wording.text import _, say
from swatch.wording.visible import visible

_STEPS = {
    Aside.HOTTER: _("Half a cone hotter: {difference}"),
    Aside.COOLER: _("Half a cone cooler: {difference}"),
    Aside.THICKER: _("Half a coat more on top: {difference}"),
    Aside.THINNER: _("Half a coat less on top: {difference}"),
    Aside.OTHER_BODY: _("On {body}: {difference}"),
}


def trial_in_words(answer: WhatIfAnswer) -> list[str]:
    """Say line by line which own tile is nearest, and what one step would change."""
    lines = []
    if answer.nearest is not None:
        one = answer.nearest
        text = say(_("Nearest own tile: {tile} {zone}, {layers}, {lab}: {off:.1f} ΔE00 away."))
        said = {"tile": visible(one.tile), "zone": visible(one.zone), "layers": visible(format_layers(one.layers))}
        lines.append(text.format(**said, lab=lab_in_words(one.lab), off=one.de00))
    return [*lines, *(step_in_words(one, answer) for one in answer.steps)]


def step_in_words(one: OneStep, answer: WhatIfAnswer) -> str:
    """Say how one step moves the colour."""
    if one.lab is None or not isinstance(answer.said, Prediction):
        moved = say(_("not known"))
    else:
        moved = difference_in_words(one.lab, answer.said.lab)
    return say(_STEPS[one.aside]).format(body=visible(one.question.body), difference=moved)
