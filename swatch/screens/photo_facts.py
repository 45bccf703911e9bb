"""What the photo workspace says of a photo: how far it is, what was kept, what is wrong with it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from swatch.desk.photo_work import PhotoWork, State
from swatch.terms.measured import CardRead, Verdict
from swatch.wording.numbers import number_in_words
from swatch.wording.problems import notice_in_words, problem_in_words
from swatch.wording.text import say, say_many

if TYPE_CHECKING:
    from swatch.work.own_card import OwnCardLearnt


def state_in_words(work: PhotoWork) -> str:
    """How far a photo is."""
    if work.fronts is not None and work.state is not State.KEPT:
        return say("backs") if work.backs else say("reading…")
    if work.is_kept:
        return say("kept")
    if work.state in (State.READ, State.KEPT):
        if work.refused:
            return say("refused")
        if work.kept and work.readings and work.state is State.KEPT:
            return say("changed since it was kept")
        warned = sum(bool(read and read.warnings) for read in (work.reading(z.key) for z in work.zones))
        return say("{n} warned").format(n=warned) if warned else say("read")
    words = {State.WAITING: say("waiting"), State.READING: say("reading…"), State.FAILED: say("not read")}
    return words[work.state]


def keep_in_words(work: PhotoWork | None, backs: int = 0) -> str:
    """What the button that keeps says."""
    if backs:
        return say_many("Keep {n} back", "Keep {n} backs", backs).format(n=backs)
    n = len(work.keepable()) if work is not None else 0
    if work is not None and work.is_kept:
        return say("Kept")
    if work is not None and work.state is State.KEPT:
        return say("Keep changes")
    return say_many("Keep {n} reading", "Keep {n} readings", n).format(n=n) if n else say("Keep readings")


def before_keeping(work: PhotoWork | None) -> str:
    """What there is to know beside the button, where nothing is lacking any more."""
    if work is None:
        return ""
    if work.is_kept:
        return say("Undo takes them out of the records again.")
    if not work.keepable():
        return ""
    lines = []
    n = len(work.doubtful())
    if n:
        text = say_many(
            "{n} of these is doubtful: photograph it again in even light.",
            "{n} of these are doubtful: photograph them again in even light.",
            n,
        )
        lines.append(text.format(n=n))
    if work.kept_before is not None and not work.readings:
        date, n = work.kept_before
        text = say_many(
            "This photo was kept on {date}: keeping it again replaces its {n} reading.",
            "This photo was kept on {date}: keeping it again replaces its {n} readings.",
            n,
        )
        lines.append(text.format(date=date, n=n))
    return " ".join(lines) or say("Undo stays possible.")


def trouble_in_words(work: PhotoWork | None) -> str:
    """Why nothing can be kept of a photo; empty where something can."""
    if work is None:
        return ""
    if work.problem is not None:
        return " ".join((say("This photo could not be read."), *problem_in_words(work.problem)))
    if work.state is State.FAILED:
        return say("This photo could not be read.")
    if work.refused and work.read is not None:
        why = [" ".join(notice_in_words(warning)) for warning in work.read.warnings]
        way_out = say("If the card is there, press “Mark card corners” and click its four corners.")
        return " ".join((say("This photo cannot be used."), *why, way_out))
    return ""


def facts_of(work: PhotoWork | None) -> str:
    """Card, light and what to mind about the photo, in words."""
    if work is None or work.problem is not None:
        return ""
    if work.fronts is not None:
        return backs_in_words(work)
    if work.read is None:
        return say("Reading…") if work.state is State.READING else ""
    lines = [card_in_words(work.read.card)] if work.read.card is not None else []
    if work.read.verdict is not Verdict.REFUSED:
        lines += [" ".join(notice_in_words(warning)) for warning in work.read.warnings]
        if not work.zones:
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


def card_note(work: PhotoWork) -> str:
    """What stands beside the card on the photo: the patch only where it spoils something."""
    if work.read is None or work.read.card is None:
        return say("Card as you show it")
    worst = max(work.read.card.patches, key=lambda patch: patch.left_out_de00, default=None)
    if worst is None or work.read.verdict is Verdict.GOOD:
        return say("Card found")
    return say("Card found, patch {n} worst").format(n=worst.patch)


def unseen_in_words(work: PhotoWork) -> tuple[str, str]:
    """Why there is no picture of a photo."""
    if work.preview_problem is None:
        return say("The photo could not be shown."), ""
    happened, next_step = problem_in_words(work.preview_problem)
    return say("The photo could not be shown: {why}").format(why=happened), next_step


def hint_in_words(tool: str, corners: int) -> str:
    """What the next press on the photo does, while it does more than choose."""
    if tool == "corners":
        text = say("Click the card's corners, the brown patch first: {n} of 4. Esc leaves, Insert lays a frame.")
        return text.format(n=corners)
    if tool == "point":
        return say("Click something even that is grey or white. Esc leaves.")
    return ""


def kept_in_words(n: int) -> tuple[str, str]:
    """Say that so many readings were kept, and what now."""
    then = say_many(
        "Undo takes it back. It is among the tiles now.", "Undo takes them back. They are among the tiles now.", n
    )
    return say_many("{n} reading kept.", "{n} readings kept.", n).format(n=n), then
