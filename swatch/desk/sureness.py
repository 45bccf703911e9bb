"""How sure an answer is: the sentence first, then range and chance, then what it rests on."""

from __future__ import annotations

from dataclasses import dataclass

from swatch.science.colour_math import delta_e_2000
from swatch.terms.answers import Suggestion
from swatch.terms.colour import Lab
from swatch.wording.answers import difference_in_words, evidence_in_words, range_in_words, seen_in_words
from swatch.wording.text import _, say, say_many

SCATTERS = 1.5
"""From this many times the mean's own difference on, the scatter is what the eye will see."""


@dataclass(frozen=True, slots=True)
class Sureness:
    """The lines of the how-sure block, in words."""

    sentence: str
    eye: str
    number: str
    evidence: str

    def spoken(self) -> str:
        """Everything in one, as a screen reader says it."""
        return " ".join((self.sentence, self.eye, self.number, self.evidence))


def sureness_of(suggestion: Suggestion, target: Lab) -> Sureness:
    """Put a suggestion's doubt in words, held against its target.

    Where single pieces scatter so much that they will be off by far more than their mean, the sentence says so;
    else "lighter by 2.1" and "plainly another colour" would seem to disagree.
    """
    sentence = difference_in_words(suggestion.prediction.lab, target)
    mean_off = float(delta_e_2000(suggestion.prediction.lab, target))
    if suggestion.de00_expected > max(SCATTERS * mean_off, 1.8):
        text = _("On average: {sentence} Single pieces scatter around it by more.")
        sentence = say(text).format(sentence=f"{sentence[:1].lower()}{sentence[1:]}")
    low, high = suggestion.de00_80
    eye = say(_("{seen}; 1 in 10 comes out worse than {high:.1f}."))
    number = say(
        _("ΔE00 {de:.1f}, likely {range}. {chance} within {tolerance:.1f}, kiln and measuring scatter counted.")
    )
    seen = seen_in_words(suggestion.de00_expected)
    evidence = evidence_in_words(suggestion.prediction.grounds)
    return Sureness(
        sentence=sentence,
        eye=eye.format(seen=_capital(seen), high=high),
        number=number.format(
            de=suggestion.de00_expected,
            range=range_in_words(low, high),
            chance=of_ten(suggestion.chance_within),
            tolerance=suggestion.tolerance,
        ),
        evidence=_capital(evidence) + ".",
    )


def of_ten(chance: float) -> str:
    """Say a chance as pieces of ten, the way a shelf of pieces shows it; to be followed by ``within 2.0``."""
    if chance < 0.01:
        return say(_("Fewer than 1 in 100 fired comes"))
    if chance > 0.99:
        return say(_("More than 99 in 100 fired come"))
    if 0.05 <= chance <= 0.95:
        n = max(1, round(10 * chance))
        return say_many("Of 10 fired, about {n} comes", "Of 10 fired, about {n} come", n).format(n=n)
    n = round(100 * chance)
    return say_many("Of 100 fired, about {n} comes", "Of 100 fired, about {n} come", n).format(n=n)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
