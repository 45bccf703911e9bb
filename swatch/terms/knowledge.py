"""What the studio knows of one material: its colours, its covering, what moves it, what it would learn from."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from swatch.terms.answers import Prediction, Question
from swatch.terms.colour import Lab
from swatch.terms.materials import Kind


class Change(StrEnum):
    """A way in which the next tile may be made a little otherwise."""

    HALF_A_CONE_HOTTER = "half a cone hotter"
    HALF_A_CONE_COOLER = "half a cone cooler"
    LIGHT_COAT = "a light coat"
    HEAVY_COAT = "a heavy coat"


class Lack(StrEnum):
    """Why one more tile would teach much."""

    NEVER_FIRED = "never fired"
    NOT_OVER_DARK = "never fired over a dark colour"
    MOST_DOUBT = "most in doubt"


@dataclass(frozen=True, slots=True)
class Sensitivity:
    """How a change moves the colour of a layering: from its plain colour ``lab`` to ``changed``."""

    change: Change
    lab: Lab
    changed: Lab
    de00: float


@dataclass(frozen=True, slots=True)
class Covering:
    """How well it covers: Y over the dark underglaze as a share of Y over the light one, with its 80 % range."""

    over_light: Prediction
    over_dark: Prediction
    contrast_ratio: float
    ratio_80: tuple[float, float]


@dataclass(frozen=True, slots=True)
class NextTile:
    """The tile that would teach most of the material, and why."""

    question: Question
    lack: Lack


@dataclass(frozen=True, slots=True)
class MaterialKnowledge:
    """What is known of one material.

    ``swatches`` its predicted colours alone, by body, cone and coats; ``raw`` its raw colour where that says
    something of the fired one; ``covering`` None where it has nothing to cover.
    """

    material: str
    kind: Kind | None
    fired_tiles: int
    swatches: tuple[Prediction, ...]
    raw: Lab | None
    covering: Covering | None
    sensitivities: tuple[Sensitivity, ...]
    next_tile: NextTile | None
    learnt_from: int
