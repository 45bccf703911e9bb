"""What is said of colours and predictions: differences, ranges, chances, and what an answer rests on."""

from __future__ import annotations

from swatch.terms.answers import Basis, Footing, Grounds, Reach, RestsOn
from swatch.terms.colour import Lab
from swatch.terms.layering import Layer, Layers
from swatch.wording.text import _, say, say_many
from swatch.wording.visible import visible

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


def evidence_in_words(grounds: Grounds, *, short: bool = False) -> str:
    """Say what a prediction rests on: ``2 tiles of this layering, 9 of these materials``.

    In short, beside the layering's name: ``2 tiles of it, 9 of these materials``.
    """
    if grounds.basis is Basis.RAW_ONLY:
        return say(_("raw colour only, no tile"))
    if grounds.basis is Basis.MAKER:
        return say(_("maker's chart only, no tile"))
    n, others = grounds.same_layering, grounds.same_materials
    rest = say(_("{n} of these materials")).format(n=others)
    if n == 0:
        return say(_("new layering, {rest}")).format(rest=rest)
    if short:
        own = say_many("{n} tile of it", "{n} tiles of it", n)
    else:
        own = say_many("{n} tile of this layering", "{n} tiles of this layering", n)
    return f"{own.format(n=n)}, {rest}"


def why_in_words(why: Footing) -> list[str]:
    """Say which tiles a prediction rests on most, and what one more would leave of its doubt."""
    lines = []
    if why.tiles:
        lines.append(say(_("Rests most on:")))
    for one in why.tiles:
        where = f"{visible(one.tile)} {visible(one.zone)}, {layers_in_words(one.layers)}"
        lines.append(f"  {where}: {rests_on_in_words(one)}")
    lines.append(one_more_in_words(why))
    return lines


def rests_on_in_words(one: RestsOn) -> str:
    """Say how much an answer rests on one tile, and what it would be without."""
    text = _("followed by {share:.0f} %; without it {de00:.1f} ΔE00 elsewhere")
    return say(text).format(share=100 * one.pull, de00=one.without_de00)


def one_more_in_words(why: Footing) -> str:
    """Say what one more tile of the layering would leave of the doubt."""
    left = why.after_one_more
    doubts = ", ".join(f"±{max(v, 0.0) ** 0.5:.1f}" for v in (left.LL, left.aa, left.bb))
    return say(_("One more tile of this layering would leave about {doubts} (L*, a*, b*).")).format(doubts=doubts)


def reach_in_words(reach: Reach, chance: float, low: float, high: float, tolerance: float) -> str:
    """Say whether a target can be met from stock, and how near."""
    texts = {
        Reach.REACHABLE: _(
            "Within reach of the stock: {chance} that some layering lies within {tolerance:.1f} ΔE00."
        ),
        Reach.PERHAPS: _("Perhaps within reach: {chance} that some layering lies within {tolerance:.1f} ΔE00."),
        Reach.OUT_OF_REACH: _(
            "Out of reach of the stock: {chance} that any layering lies within {tolerance:.1f} ΔE00."
        ),
    }
    said = say(texts[reach]).format(chance=chance_in_words(chance), tolerance=tolerance)
    near = say(_("The nearest is likely {low:.1f}–{high:.1f} away.")).format(low=low, high=high)
    return f"{said} {near}"


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


def layers_in_words(layers: Layers) -> str:
    """Write layers for reading, from the body outward: ``Halm Moss ×2 › Mardle``."""
    if not layers:
        return say(_("bare body"))
    return " › ".join(_layer_in_words(layer) for layer in layers)


def _layer_in_words(layer: Layer) -> str:
    wiped = say(_(" (wiped)")) if layer.wiped else ""
    coats = "" if layer.coats == 1 else f" ×{coats_figure(layer.coats)}"
    return f"{layer.material}{wiped}{coats}"


def short_names(text: str) -> str:
    """Leave one word of each longer name, where the whole does not fit.

    A second word with a capital is the name proper, a small one says only what colour it is: ``Halm Moss ×2 ›
    Pailwash white`` becomes ``Moss ×2 › Pailwash``.
    """
    for mark in (" › ", ", "):
        if mark in text:
            return mark.join(short_names(part) for part in text.split(mark))
    words = text.split()
    names = [word for word in words if not word.startswith(("×", "("))]
    if len(names) < 2:
        return text
    kept = names[:1] if names[-1][:1].islower() else names[1:]
    return " ".join([*kept, *words[len(names) :]])


def coats_figure(coats: float) -> str:
    """Write a number of coats: ``2``, ``1½``, ``0.3``."""
    whole = int(coats)
    if coats - whole == 0.5:
        return f"{whole or ''}½"
    return f"{coats:g}"


def coats_in_words(coats: float) -> str:
    """Say a number of coats: ``1 coat``, ``2 coats``."""
    return say_many("{n} coat", "{n} coats", 1 if coats <= 1 else 2).format(n=coats_figure(coats))


def seen_in_words(de00: float) -> str:
    """Say what a colour difference means to the eye, side by side.

    References
    ----------
    Visible from about 0.8 to 1.7, usually accepted from 1.8 to 3.7: review of 20 studies of dental ceramics
    (mdj v19 i2).
    """
    if de00 < 0.8:
        return say(_("not seen side by side"))
    if de00 < 1.8:
        return say(_("hard to see side by side"))
    if de00 <= 3.7:
        return say(_("seen side by side, usually accepted"))
    return say(_("plainly another colour"))


def lab_in_words(lab: Lab) -> str:
    """Say a colour in numbers: ``L* 57.4, a* −21.6, b* 13.8``."""
    return "L* {:.1f}, a* {:.1f}, b* {:.1f}".format(*lab).replace("-", "−")
