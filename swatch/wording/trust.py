"""What is said of how far off predictions have been."""

from __future__ import annotations

from swatch.terms.answers import Outlier, TrustLine
from swatch.wording.text import _, say
from swatch.wording.visible import visible

_QUESTIONS = {
    "another tile": _("another tile of a layering already fired"),
    "new layering": _("a new layering of materials already fired"),
    "another cone": _("a material at a cone it was not fired at"),
    "another firing": _("a tile of another firing"),
    "unseen material": _("a material never fired"),
}


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
