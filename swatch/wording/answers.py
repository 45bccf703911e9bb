"""What is said of colours and predictions: differences, ranges, chances, and what an answer rests on."""

from __future__ import annotations

from swatch.terms.answers import Basis, Grounds
from swatch.terms.colour import Lab
from swatch.wording.text import _, say, say_many

_TOO_SMALL = 0.5
"""A component below this is not put in words: it cannot be seen side by side."""


def difference_in_words(lab: Lab, against: Lab) -> str:
    """Say how `lab` differs from `against`, largest part first: ``Redder by 1.9, yellower by 1.8.``"""
    parts = [
        (lab.L - against.L, _("lighter by {n:.1f}"), _("darker by {n:.1f}")),
        (lab.a - against.a, _("redder by {n:.1f}"), _("greener by {n:.1f}")),
        (lab.b - against.b, _("yellower by {n:.1f}"), _("bluer by {n:.1f}")),
    ]
    seen = sorted((part for part in parts if abs(part[0]) >= _TOO_SMALL), key=lambda part: -abs(part[0]))
    if not seen:
        return say(_("The same to the eye."))
    text = ", ".join(say(more if by > 0 else less).format(n=abs(by)) for by, more, less in seen)
    return f"{text[0].upper()}{text[1:]}."


def evidence_in_words(grounds: Grounds) -> str:
    """Say what a prediction rests on: ``2 tiles of this layering, 9 of these materials``."""
    if grounds.basis is Basis.RAW_ONLY:
        return say(_("raw colour only, no tile"))
    if grounds.basis is Basis.MAKER:
        return say(_("maker's chart only, no tile"))
    n, others = grounds.same_layering, grounds.same_materials
    rest = say(_("{n} of these materials")).format(n=others)
    if n == 0:
        return say(_("new layering, {rest}")).format(rest=rest)
    own = say_many("{n} tile of this layering", "{n} tiles of this layering", n).format(n=n)
    return f"{own}, {rest}"


def chance_in_words(chance: float) -> str:
    """Say a chance of 0 to 1 as per cent: ``63 %``, ``under 1 %``."""
    if chance < 0.01:
        return say(_("under 1 %"))
    if chance > 0.99:
        return say(_("over 99 %"))
    return say(_("{n:.0f} %")).format(n=100 * chance)


def range_in_words(low: float, high: float) -> str:
    """Say a range: ``0.9–3.1``."""
    return say(_("{low:.1f}–{high:.1f}")).format(low=low, high=high)
