"""What is said of a material's end: what is needed, what to buy, what stands in for it."""

from __future__ import annotations

from swatch.terms.layering import format_layers
from swatch.terms.replacing import BridgeStep, EditionNeed, ReplacePlan, Sample, StandIn
from swatch.wording.answers import chance_in_words
from swatch.wording.text import _, say, say_many
from swatch.wording.units import grams_in_words


def need_in_words(need: EditionNeed, material: str) -> str:
    """Say how far what is left of a material goes, and what the edition takes."""
    if need.need_g is None:
        text = _(
            "{edition}: {n} good pieces to make; nothing was weighed, so it cannot be said how much they take."
        )
        return say(text).format(edition=need.edition, n=need.pieces_to_make)
    text = _("{edition}: {n} good pieces to make, so begin {start}; they take {low} to {high} of {material}.")
    said = say(text).format(
        edition=need.edition,
        n=need.pieces_to_make,
        start=need.pieces_to_start,
        low=grams_in_words(need.need_g[0]),
        high=grams_in_words(need.need_g[1]),
        material=material,
    )
    if need.pieces_possible is None:
        return said
    low, high = need.pieces_possible
    return f"{said} {say(_('What is left finishes {low} to {high}: plan on {low}.')).format(low=low, high=high)}"


def jars_in_words(plan: ReplacePlan, material: str) -> str:
    """Say how many jars to buy today."""
    if plan.jars is None:
        return say(_("How many jars of {material} to buy cannot be said.")).format(material=material)
    text = say_many(
        "Buy {n} jar of {ml:.0f} ml of {material} today to finish with 90 % assurance, re-fires included.",
        "Buy {n} jars of {ml:.0f} ml of {material} today to finish with 90 % assurance, re-fires included.",
        plan.jars,
    )
    return text.format(n=plan.jars, ml=plan.jar_ml, material=material)


def stand_in_in_words(one: StandIn) -> str:
    """Say how near a stand-in comes at its worst use and at the others."""
    each = ", ".join(f"{off:.1f}" for off in one.de00)
    text = _("{layers}: {worst:.1f} ΔE00 at the worst use ({each}); within 2.0 there in {chance}")
    chance = chance_in_words(min(one.chances, default=0.0))
    return say(text).format(layers=format_layers(one.layers), worst=one.worst_de00, each=each, chance=chance)


def sample_in_words(one: Sample) -> str:
    """Say what a sample may bring."""
    text = _(
        "Worth a sample: {material}; {layers} comes to {worst:.1f} ΔE00 at the worst use, nearer by {by:.1f}."
    )
    return say(text).format(
        material=one.material, layers=format_layers(one.layers), worst=one.worst_de00, by=one.nearer_by
    )


def bridge_in_words(step: BridgeStep, material: str) -> str:
    """Say where what is left goes."""
    text = _(
        "Keep {grams} of {material} for {region} of {edition}: {n} of {all} pieces; a stand-in shows most there."
    )
    return say(text).format(
        grams=grams_in_words(step.grams),
        material=material,
        region=step.region,
        edition=step.edition,
        n=step.pieces,
        all=step.of_pieces,
    )
