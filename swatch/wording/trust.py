"""What is said of how far off predictions have been."""

from __future__ import annotations

from collections.abc import Sequence

from swatch.terms.answers import Held, Outlier, TrustLine
from swatch.wording.text import _, say
from swatch.wording.visible import visible

_QUESTIONS = {
    "another tile": _("another tile of a layering already fired"),
    "new layering": _("a new layering of materials already fired"),
    "another cone": _("a material at a cone it was not fired at"),
    "another firing": _("a tile of another firing"),
    "unseen material": _("a material never fired"),
}


_KINDS = {
    "another tile": _("another tile of a known layering"),
    "new layering": _("a new layering"),
    "another cone": _("another cone"),
    "another firing": _("another firing"),
    "unseen material": _("a material never fired"),
    "planned tile": _("planned"),
}


def trust_kind_in_words(question: str) -> str:
    """Name a kind of question in few words."""
    known = _KINDS.get(question)
    return say(known) if known else question


def trust_in_words(lines: Sequence[TrustLine]) -> str:
    """Say in one sentence what to expect, of the kind of question that is asked most: a new layering."""
    if not lines:
        return say(_("There are too few tiles to try it."))
    line = next((one for one in lines if one.question == "new layering"), lines[0])
    text = _("For {kind} expect about {median:.0f}; one in ten is off by more than {p90:.0f} ΔE00.")
    kind = trust_kind_in_words(line.question)
    return say(text).format(kind=kind, median=line.median_de00, p90=line.p90_de00)


def against_others_in_words(line: TrustLine) -> str:
    """Say how it does against the two simplest ways of guessing."""
    text = _("The nearest tile would be off by {nearest:.1f}, the mean shift by {shift:.1f}.")
    return say(text).format(nearest=line.nearest_tile_median, shift=line.mean_shift_median)


def curve_in_words(points: Sequence[Held]) -> str:
    """Say a calibration curve: what was stated, and what held."""
    text = _("of {stated:.0f} % stated {held:.0f} % held")
    return "; ".join(say(text).format(stated=100 * one.stated, held=100 * one.held) for one in points)


def outlier_in_words(outlier: Outlier) -> str:
    """Say that a reading does not fit the others, and what to do."""
    text = _(
        "{tile}, zone {zone}: {de00:.1f} ΔE00 from what the other tiles say. Look at its label and its layers."
    )
    return say(text).format(tile=visible(outlier.tile), zone=visible(outlier.zone), de00=outlier.de00)


def trust_question_in_words(line: TrustLine) -> str:
    """Say what kind of question a line of the trust table is about."""
    known = _QUESTIONS.get(line.question)
    return say(known) if known else line.question


def trust_note() -> str:
    """Say what the figures are of."""
    return say(
        _(
            "Each figure is of tiles the learning had not seen when it was asked for them. "
            "Proven on simulated studios and real paint, not yet on fired glazes."
        )
    )
