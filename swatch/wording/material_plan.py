"""A material plan in words: what is needed, what is left, until when it lasts, what to do."""

from __future__ import annotations

from swatch.terms.layering import format_layers
from swatch.terms.material_plan import BridgeTile, MaterialNeed, MaterialPlan, RateTold
from swatch.terms.materials import Jar
from swatch.wording.numbers import number_in_words, share_in_words
from swatch.wording.text import _, say, say_many
from swatch.wording.units import grams_in_words

_DAYS_A_WEEK = 7


def edition_in_words(plan: MaterialPlan) -> str:
    """Say how far an edition is: ``Shore: 120 planned, 48 good, 72 to make; begin 94 …``."""
    planned = "–" if plan.planned is None else str(plan.planned)
    text = _("{edition}: {planned} planned, {good} good so far, {left} still to make: begin {start}{share}.")
    share = ""
    if plan.share_good is not None:
        share = say(_(", as {share} come out good")).format(share=share_in_words(plan.share_good))
    return say(text).format(
        edition=plan.edition, planned=planned, good=plan.good, left=plan.pieces_to_make,
        start=plan.pieces_to_start, share=share,
    )  # fmt: skip


def counts_in_words(plan: MaterialPlan) -> str:
    """Say what was counted; empty where nothing was."""
    parts = [
        say(text).format(n=n)
        for n, text in (
            (plan.made, _("{n} made")),
            (plan.fired, _("{n} fired")),
            (plan.sold, _("{n} sold")),
        )
        if n is not None
    ]
    return ", ".join(parts)


def pace_in_words(plan: MaterialPlan) -> str:
    """Say the present pace; empty where it is not known."""
    if plan.pace is None:
        return ""
    text = _("Present pace: {n} pieces a week, by the last {firings} firings.")
    return say(text).format(n=number_in_words(plan.pace.a_day * _DAYS_A_WEEK), firings=plan.pace.firings)


def rate_in_words(rate: RateTold) -> str:
    """Say what a coat takes: ``4.1 to 5.9 g (2.8 to 4.1 ml) a dm² and coat, brushed, 3 weighings``."""
    text = _("{low} to {high} g a dm² and coat")
    said = say(text).format(low=number_in_words(rate.grams[0], 2), high=number_in_words(rate.grams[2], 2))
    parts = [said]
    if rate.ml is not None:
        text = _("{low} to {high} ml")
        parts.append(say(text).format(low=number_in_words(rate.ml[0], 2), high=number_in_words(rate.ml[2], 2)))
    if rate.method:
        parts.append(rate.method)
    weighed = (
        say_many("by {n} weighing of other materials", "by {n} weighings of other materials", rate.weighings)
        if rate.borrowed
        else say_many("by {n} weighing", "by {n} weighings", rate.weighings)
    )
    parts.append(weighed.format(n=rate.weighings))
    return ", ".join(parts)


def need_in_words(need: MaterialNeed) -> str:
    """Say what a material has to do, and whether it does: the sentence that matters."""
    if need.need_g is None:
        return say(_("{material}: cannot be said yet.")).format(material=need.material)
    low, high = (grams_in_words(end) for end in need.need_g)
    said = say(_("{material}: {low} to {high} needed")).format(material=need.material, low=low, high=high)
    if need.others_need_g is not None and need.others_need_g[1] > 0:
        low, high = (grams_in_words(end) for end in need.others_need_g)
        said += say(_(", {low} to {high} for other editions")).format(low=low, high=high)
    if need.left_g is None:
        return f"{said}."
    said += say(_(", {left} left")).format(left=grams_in_words(need.left_g))
    if need.locked_g > 0:
        said += say(_(" ({locked} of it locked)")).format(locked=grams_in_words(need.locked_g))
    said += ". "
    if need.short_g is not None and need.short_g[1] > 0:
        if need.short_g[0] > 0:
            said += say(_("Short by {low} to {high}.")).format(
                low=grams_in_words(need.short_g[0]), high=grams_in_words(need.short_g[1])
            )
        else:
            said += say(_("It may be short by up to {high}.")).format(high=grams_in_words(need.short_g[1]))
    else:
        said += say(_("It lasts to the last piece."))
    return said


def possible_in_words(need: MaterialNeed) -> str:
    """Say how many pieces what is left makes; empty where it cannot be said."""
    if need.pieces_possible is None:
        return ""
    low, high = need.pieces_possible
    return say(_("What is left makes {low} to {high} good pieces: plan on {low}.")).format(low=low, high=high)


def ends_in_words(need: MaterialNeed) -> str:
    """Say when it is used up and when to order; empty where it lasts or the pace is not known."""
    if need.runs_out is None:
        return ""
    early, late = need.runs_out
    said = say(_("At the present pace it ends between {early} and {late}.")).format(early=early, late=late)
    if need.order_by is None:
        return said
    jars = ""
    if need.jars_to_buy:
        text = say_many("{n} jar", "{n} jars", need.jars_to_buy)
        jars = f" ({text.format(n=need.jars_to_buy)})"
    return f"{said} {say(_('Order by {day}{jars}.')).format(day=need.order_by, jars=jars)}"


def jar_in_words(jar: Jar) -> str:
    """Say one jar: ``jar 2, lot L7: 480 g, opened 2027-02-11, locked``."""
    parts = [say(_("jar {name}")).format(name=jar.jar)] if jar.jar else []
    parts += [say(_("lot {name}")).format(name=jar.lot)] if jar.lot else []
    head = ", ".join(parts) or say(_("no lot stated"))
    left = "–" if jar.left_g is None else grams_in_words(jar.left_g)
    more = [say(_("opened {day}")).format(day=jar.opened)] if jar.opened else []
    more += [say(_("locked"))] if jar.locked else []
    return ", ".join([f"{head}: {left}", *more])


def banner_in_words(tile: BridgeTile) -> str:
    """Say that a new lot is in use."""
    text = _("New lot of {material} since {day}: {new}. Nothing fired shows yet whether it holds the look.")
    return say(text).format(material=tile.material, day=tile.opened, new=tile.new_lot)


def bridge_tile_in_words(tile: BridgeTile) -> str:
    """Say what tile bridges two lots."""
    text = _(
        "Fire one bridge tile before you glaze more: {layers} as on {region}, with lot {old} of {material} on the "
        "left half and lot {new} on the right, and photograph both halves in one shot."
    )
    return say(text).format(
        layers=format_layers(tile.layers), region=tile.region, old=tile.old_lot, new=tile.new_lot,
        material=tile.material,
    )  # fmt: skip
