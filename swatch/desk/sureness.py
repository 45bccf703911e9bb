"""How sure an answer is: the sentence first, then range and chance, then what it rests on."""

from __future__ import annotations

from dataclasses import dataclass

from swatch.terms.answers import Suggestion
from swatch.terms.colour import Lab
from swatch.wording.answers import difference_in_words, evidence_in_words, range_in_words, seen_in_words
from swatch.wording.text import _, say, say_many


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
    """Put a suggestion's doubt in words, held against its target."""
    low, high = suggestion.de00_80
    eye = say(_("{seen}; 1 in 10 comes out worse than {high:.1f}."))
    number = say(
        _("ΔE00 {de:.1f}, likely {range}. {chance} within {tolerance:.1f}, kiln and measuring scatter counted.")
    )
    seen = seen_in_words(suggestion.de00_expected)
    evidence = evidence_in_words(suggestion.prediction.grounds)
    return Sureness(
        sentence=difference_in_words(suggestion.prediction.lab, target),
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
