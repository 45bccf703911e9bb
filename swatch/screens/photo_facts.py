"""What is to be said of a photo as a whole: its card, its light, what is wrong with it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from swatch.desk.photo_work import PhotoWork, State
from swatch.terms.measured import CardRead, Verdict
from swatch.wording.numbers import number_in_words
from swatch.wording.problems import notice_in_words, problem_in_words
from swatch.wording.text import say, say_many

if TYPE_CHECKING:
    from swatch.work.own_card import OwnCardLearnt


def card_note(work: PhotoWork) -> str:
    """What stands beside the card's outline."""
    if work.read is None or work.read.card is None:
        return say("Card as you show it")
    worst = max(work.read.card.patches, key=lambda patch: patch.left_out_de00, default=None)
    if worst is None:
        return say("Card found")
    return say("Card found, patch {n} worst").format(n=worst.patch)


def facts_of(work: PhotoWork | None) -> str:
    """Card, light and what is wrong with the photo, in words."""
    if work is None:
        return ""
    if work.fronts is not None and work.problem is None:
        return backs_in_words(work)
    if work.problem is not None:
        return "\n".join(problem_in_words(work.problem))
    if work.read is None:
        return say("Reading…") if work.state is State.READING else ""
    lines = [card_in_words(work.read.card)] if work.read.card is not None else []
    lines += [" ".join(notice_in_words(warning)) for warning in work.read.warnings]
    if work.read.verdict is Verdict.REFUSED:
        lines.insert(0, say("This photo cannot be used:"))
    elif not work.zones:
        lines.append(say("No zones yet: press “Outline zones” and drag a rectangle over each part of a tile."))
    return "\n".join(lines)


def backs_in_words(work: PhotoWork) -> str:
    """What a photo of backs is for."""
    if not work.backs:
        name = work.fronts.name if work.fronts is not None else ""
        return say("Backs of the tiles in {name}.").format(name=name) + " " + say("Reading…")
    n = len(work.backs)
    text = say_many("{n} tile from behind.", "{n} tiles from behind.", n).format(n=n)
    text += " " + say("The number on each stands beside the box for its tile, and is kept with its readings.")
    return text + "\n" + say("If these are fronts, say so below the photo.")


def card_in_words(card: CardRead) -> str:
    """How well the card was read."""
    text = say("Card: off by {median:.1f} ΔE00 where it was left out, worst {worst:.1f}.")
    return text.format(median=card.left_out_median, worst=card.left_out_max)


def card_learnt_in_words(learnt: OwnCardLearnt | None) -> str:
    """That zones are read by a learnt card, and what it was learnt from where that was just now."""
    text = say("Read by your learnt card: more repeatable, not truer, so no doubt gets smaller.")
    if learnt is None or learnt.card is None:
        return text
    made = say("Learnt from {photos} photos under {lights} lights; patches moved by {most} ΔE00 at most.")
    most = number_in_words(max(learnt.moved))
    return f"{made.format(photos=learnt.photos, lights=learnt.lights, most=most)} {text}"
