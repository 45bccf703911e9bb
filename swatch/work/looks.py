"""What speaks against a layering in place of another beside its colour: another sheen, and faults."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from swatch.terms.answers import Question, Surface
from swatch.terms.evidence import Sheen
from swatch.terms.problems import Notice
from swatch.work.cautions import Cautions
from swatch.work.learn import Learnt
from swatch.work.surface import surfaces_of

OTHER_SHEEN = 2.0
FAULT = 3.0
"""ΔE00 that another sheen, and each fault, count as in ranking: ours, no source. A sheen apart is seen at once
where two colours 2 apart are just told from each other side by side; a fault spoils a piece."""


@dataclass(frozen=True)
class Look:
    """What a layering would lose beside the colour: ``cost`` in ΔE00, and what is said of it."""

    cost: float
    notices: tuple[Notice, ...] = ()


def looks_beside(known: Learnt, was: Question, becomes: Sequence[Question]) -> list[Look]:
    """Judge layerings by the chances of their sheen and faults against those of what they are to replace.

    A fault that own tiles of the very layering showed counts in full.
    """
    old, *new = surfaces_of(known.evidence, known.arrays, [was, *becomes])
    cautions = Cautions(known)
    out = []
    for question, surface in zip(becomes, new, strict=True):
        seen = cautions.faults_seen(question.layers)
        cost = FAULT * (len(seen) + _more_faults(old, surface, {one.code.removeprefix("seen-") for one in seen}))
        before, after = _sheen(old), _sheen(surface)
        notices = []
        if old is not None and surface is not None and before is not None and after is not None:
            cost += OTHER_SHEEN * max(dict(old.sheen)[before] - dict(surface.sheen)[before], 0.0)
            if before is not after:
                notices.append(Notice("other-sheen", {"sheen": str(before), "other": str(after)}))
        out.append(Look(cost, tuple(notices)))
    return out


def _sheen(surface: Surface | None) -> Sheen | None:
    """The likeliest sheen."""
    return max(surface.sheen, key=lambda one: one[1])[0] if surface is not None and surface.sheen else None


def _more_faults(old: Surface | None, new: Surface | None, but: set[str]) -> float:
    """By how much faults are likelier than before, those left out that are counted elsewhere."""
    if old is None or new is None:
        return 0.0
    before = dict(old.faults)
    return sum(max(chance - before[fault], 0.0) for fault, chance in new.faults if fault not in but)
