"""What if: one layering changed by hand, the colour it would fire to, and what lies beside it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from swatch.terms.answers import Prediction, Question, Refusal, Suggestion
from swatch.terms.colour import Covariance, Lab
from swatch.terms.layering import Layers


class Aside(StrEnum):
    """One step away from the layering."""

    HOTTER = "half a cone hotter"
    COOLER = "half a cone cooler"
    THICKER = "thicker on top"
    THINNER = "thinner on top"
    OTHER_BODY = "another body"


@dataclass(frozen=True, slots=True)
class WhatIfRequest:
    """A layering, a target to hold it against where there is one, and bodies to try where asides are wanted."""

    question: Question
    target: Lab | None = None
    target_covariance: Covariance | None = None
    tolerance: float = 2.0
    asides: bool = False
    bodies: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class OwnTile:
    """The studio's own fired tile that comes nearest in colour, and how near."""

    tile: str
    zone: str
    layers: Layers
    lab: Lab
    de00: float


@dataclass(frozen=True, slots=True)
class OneStep:
    """A change by one step, and the colour it leads to; None where it cannot be said."""

    aside: Aside
    question: Question
    lab: Lab | None


@dataclass(frozen=True, slots=True)
class WhatIfAnswer:
    """The colour of a layering, or why it cannot be said; ``near`` holds it against the target."""

    request: WhatIfRequest
    said: Prediction | Refusal
    near: Suggestion | None
    nearest: OwnTile | None
    steps: tuple[OneStep, ...]
    learnt_from: int
    provisional: bool = False
