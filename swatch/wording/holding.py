"""Verdicts on loads and pieces, and causes, in words."""

from __future__ import annotations

from collections.abc import Sequence

from swatch.terms.colour import Lab
from swatch.terms.holding import LikelyCause, LoadCheck, LoadVerdict, PieceVerdict, RegionChange, Spread
from swatch.wording.numbers import number_in_words, share_in_words
from swatch.wording.text import _, say

PLAIN = 0.7
"""Share from which a cause is said to be probable."""
_TOO_SMALL = 0.5

VERDICTS = {
    LoadVerdict.HOLDS: _("holds the look"),
    LoadVerdict.DRIFTED: _("drifted"),
    LoadVerdict.TOO_FEW: _("too few to judge"),
    LoadVerdict.KILN_OR_CAMERA: _("cannot tell kiln from camera"),
    LoadVerdict.CAMERA: _("the camera shifted, not the pieces: photograph them again"),
}
PIECES = {
    PieceVerdict.WITHIN: _("within"),
    PieceVerdict.DOUBTFUL: _("doubtful"),
    PieceVerdict.OFF: _("off"),
}
CAUSES = {
    "heat": _("heat"),
    "thickness": _("thickness"),
    "lot": _("another lot"),
    "body": _("another clay"),
    "camera": _("the camera"),
    "not-explained": _("not explained"),
}


def verdict_in_words(verdict: LoadVerdict) -> str:
    """Say the verdict on a load."""
    return say(VERDICTS[verdict])


def piece_verdict_in_words(verdict: PieceVerdict) -> str:
    """Say the verdict on a piece."""
    return say(PIECES[verdict])


def load_in_words(load: LoadCheck) -> str:
    """Say the verdict on a load in a sentence: ``F-20 drifted: darker, yellower.``"""
    where = direction_in_words(load.change) if load.verdict is not LoadVerdict.TOO_FEW else ""
    text = f"{load.firing} {verdict_in_words(load.verdict)}"
    if load.verdict in (LoadVerdict.TOO_FEW, LoadVerdict.KILN_OR_CAMERA):
        text = f"{load.firing}: {verdict_in_words(load.verdict)}"
    return f"{text}: {where}." if where else f"{text}."


def facts_in_words(load: LoadCheck, tolerance: float) -> tuple[str, ...]:
    """Say what else was seen of a load: heat, lots, the loads together, how sure it is; a line each."""
    lines = []
    if load.heat_cones is not None:
        told = _("Buttons") if load.heat_from == "buttons" else _("Witness cones")
        text = _("{told}: {n} cones hotter than the approved firings.")
        if load.heat_cones < 0:
            text = _("{told}: {n} cones cooler than the approved firings.")
        lines.append(say(text).format(told=say(told), n=number_in_words(abs(load.heat_cones), 2)))
    if load.regions:
        most = max(load.regions, key=lambda one: one.de00)
        off = Lab(*(now - before for now, before in zip(most.load, most.approved, strict=True)))
        where = direction_in_words(off)
        if where:
            text = _("Most changed is {region}: {where}, {de00} ΔE00.")
            facts = {"region": most.region, "where": where, "de00": number_in_words(most.de00)}
            lines.append(say(text).format(**facts))
    if load.opens:
        lines.append(say(_("It opens a lot: {lots}.")).format(lots=", ".join(load.opens)))
    if load.opens_clay:
        lines.append(say(_("It opens a lot of clay: {lots}.")).format(lots=", ".join(load.opens_clay)))
    if load.together is not None:
        text = _("All {n} loads since the last recorded change, taken together, hold.")
        if load.together.drifted:
            text = _("All {n} loads since the last recorded change, taken together, have drifted.")
        lines.append(say(text).format(n=len(load.together.firings)))
    if load.limit > 0:
        text = _("{share} sure that every region is within {tolerance} ΔE00 of the look.")
        share = share_in_words(min(load.sure_within, 0.99)) if load.sure_within < 1 else say(_("Over 99 %"))
        lines.append(say(text).format(share=share, tolerance=number_in_words(tolerance)))
    return tuple(lines)


def direction_in_words(change: Lab) -> str:
    """Say where a change goes, largest part first: ``yellower, darker``; empty where it cannot be seen."""
    parts = [
        (change.L, _("lighter"), _("darker")),
        (change.a, _("redder"), _("greener")),
        (change.b, _("yellower"), _("bluer")),
    ]
    seen = sorted((part for part in parts if abs(part[0]) >= _TOO_SMALL), key=lambda part: -abs(part[0]))
    return ", ".join(say(more if by > 0 else less) for by, more, less in seen)


def cause_in_words(cause: LikelyCause) -> str:
    """Say one cause with its size: ``heat, half a cone more``."""
    name = say(CAUSES[cause.code])
    if cause.unit == "cone":
        text = _("{name}: {n} cones hotter") if cause.amount >= 0 else _("{name}: {n} cones cooler")
        return say(text).format(name=name, n=number_in_words(abs(cause.amount), 2))
    if cause.unit == "%":
        text = _("{name}: {n} % thicker") if cause.amount >= 0 else _("{name}: {n} % thinner")
        return say(text).format(name=name, n=number_in_words(abs(cause.amount), 0))
    return name


def causes_in_words(causes: Sequence[LikelyCause]) -> str:
    """Say why a load drifted: ``probably heat: 0.7 cones hotter (93 %)``, or that it is not clear."""
    if not causes:
        return ""
    first = causes[0]
    if first.code == "not-explained":
        return say(_("not explained ({share})")).format(share=share_in_words(first.share))
    if first.share >= PLAIN:
        return say(_("probably {cause} ({share})")).format(
            cause=cause_in_words(first), share=share_in_words(first.share)
        )
    other = CAUSES[causes[1].code if len(causes) > 1 else "not-explained"]
    text = _("{cause} or {other}, not clear")
    return say(text).format(cause=cause_in_words(first), other=say(other))


def mottled_in_words(region: RegionChange) -> str:
    """Say how far a mottled region's colours moved; empty for a plain one."""
    if region.by_colours is None or region.by_colours_ordinarily is None:
        return ""
    text = _("{region}, by its colours and their shares: {n} ΔE00 apart, {usual} from piece to piece")
    return say(text).format(
        region=region.region,
        n=number_in_words(region.by_colours),
        usual=number_in_words(region.by_colours_ordinarily),
    )


def spread_in_words(spread: Spread) -> str:
    """Say where the variation comes from, as shares of all of it; empty where nothing tells of it."""
    parts = (
        (spread.between_firings, _("between firings {share}")),
        (spread.between_shelves, _("between shelves {share}")),
        (spread.within, _("between pieces of a shelf {share}")),
        (spread.measuring, _("measuring {share}")),
    )
    known = [(max(value, 0.0), text) for value, text in parts if value is not None]
    total = sum(value for value, _text in known)
    if total <= 0:
        return ""
    said = ", ".join(say(text).format(share=share_in_words(value / total)) for value, text in known)
    return say(_("Where the variation comes from: {parts}; {de00} ΔE00 in all.")).format(
        parts=said, de00=number_in_words(total**0.5)
    )


def kiln_in_words(sd_cones: float) -> str:
    """Say how much the kiln differs from firing to firing."""
    text = _("The kiln differs from firing to firing by {n} cones (one standard deviation).")
    return say(text).format(n=number_in_words(sd_cones, 2))


def next_step_in_words(load: LoadCheck) -> str:
    """Say what to do next after a load; empty where nothing has to be done."""
    if load.verdict is LoadVerdict.CAMERA:
        return say(_("Photograph the load again, with the approved piece in it."))
    if load.verdict is not LoadVerdict.DRIFTED:
        return ""
    first = load.causes[0].code if load.causes and load.causes[0].share >= PLAIN else ""
    if load.alarms == ("heat",) or first == "heat":
        return say(
            _("Kiln, not your hands: check cones and programme before the next firing; change nothing else.")
        )
    if first == "thickness":
        return say(_("Weigh a piece before and after glazing next time, and hold the specific gravity."))
    if first in ("lot", "body"):
        return say(_("Fire one piece of the old lot and one of the new side by side before you glaze more."))
    return say(_("Hold the load back and measure six more pieces, two from each shelf."))
