"""What the studio asks and what it is told: predictions, matches, replacements, trust."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from swatch.terms.colour import Covariance, Lab
from swatch.terms.cone import Cone
from swatch.terms.evidence import Sheen
from swatch.terms.layering import Layers
from swatch.terms.problems.base import Notice
from swatch.terms.replacing import ReplacePlan


class Basis(StrEnum):
    """What a prediction rests on, strongest first."""

    OWN_TILES = "own tiles"
    OWN_MATERIALS = "own materials, new layering"
    RAW_ONLY = "raw colour only"
    MAKER = "maker's chart"


@dataclass(frozen=True, slots=True)
class Question:
    """One layering on one body at one cone: what colour does it fire?"""

    layers: Layers
    body: str
    cone: Cone


@dataclass(frozen=True, slots=True)
class Grounds:
    """The studio's own tiles behind a prediction."""

    same_layering: int
    same_materials: int
    basis: Basis


@dataclass(frozen=True, slots=True)
class RestsOn:
    """One tile that a prediction rests on.

    ``pull`` is the share by which the prediction follows the tile's colour; ``without_de00`` how far it would
    move without the tile.
    """

    tile: str
    zone: str
    layers: Layers
    lab: Lab
    pull: float
    without_de00: float


@dataclass(frozen=True, slots=True)
class Footing:
    """The tiles a prediction rests on, strongest first, and what one more tile of its layering would leave."""

    tiles: tuple[RestsOn, ...]
    after_one_more: Covariance


@dataclass(frozen=True, slots=True)
class Surface:
    """Chances of each sheen and of each fault ever seen in this studio, and how many tiles' worth tells them.

    ``sheen`` is empty where too few of the tiles like it have theirs noted.
    """

    tiles: float
    sheen: tuple[tuple[Sheen, float], ...] = ()
    faults: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Prediction:
    """The next tile fired, as measured: kiln and measuring scatter are in ``covariance``.

    ``covariance`` is scaled so that d² ≤ 7.815 holds for 95 % of such tiles.
    """

    question: Question
    lab: Lab
    covariance: Covariance
    grounds: Grounds
    cautions: tuple[Notice, ...] = ()
    why: Footing | None = None
    surface: Surface | None = None


@dataclass(frozen=True, slots=True)
class Refusal:
    """A question that cannot be answered, and what is missing."""

    question: Question
    reason: Notice


@dataclass(frozen=True, slots=True)
class Suggestion:
    """A prediction held against a target. ``de00_80`` is the range that holds 80 % of such tiles."""

    prediction: Prediction
    de00_expected: float
    de00_80: tuple[float, float]
    chance_within: float
    tolerance: float
    pieces_possible: tuple[int, int] | None = None


@dataclass(frozen=True, slots=True)
class MatchRequest:
    """A target and the limits of the search; names are the studio's."""

    target: Lab
    body: str
    cone: Cone
    target_covariance: Covariance | None = None
    max_layers: int = 3
    max_coats: int = 4
    tolerance: float = 2.0
    regions: tuple[str, ...] = ()
    area_dm2: float | None = None
    pieces: int | None = None
    must_use: tuple[str, ...] = ()
    leave_out: tuple[str, ...] = ()
    top: int = 10


class Reach(StrEnum):
    """Whether some layering from stock lies within the tolerance of a target, on average over firings."""

    REACHABLE = "reachable"
    PERHAPS = "perhaps"
    OUT_OF_REACH = "out of reach"


@dataclass(frozen=True, slots=True)
class MatchAnswer:
    """Layerings from stock, nearest first, different from each other.

    ``provisional``: learnt in haste from an earlier fit, until the full one is there.
    """

    request: MatchRequest
    suggestions: tuple[Suggestion, ...]
    reachable: bool
    nearest_reachable_de00: float | None
    searched: int
    seconds: float
    learnt_from: int
    provisional: bool = False
    reach: Reach | None = None
    reach_chance: float | None = None
    nearest_80: tuple[float, float] | None = None
    """How near the nearest layering may lie, whichever it is: the range that holds 80 %."""


@dataclass(frozen=True, slots=True)
class Use:
    """One place where a material is used: the layering, its colour, and what could stand in for it there."""

    question: Question
    lab: Lab
    measured: bool
    suggestions: tuple[Suggestion, ...]


@dataclass(frozen=True, slots=True)
class ReplaceAnswer:
    """Every use of a material and what could take its place; ``provisional`` as of `MatchAnswer`."""

    material: str
    uses: tuple[Use, ...]
    searched: int
    seconds: float
    learnt_from: int
    plan: ReplacePlan | None = None
    provisional: bool = False


@dataclass(frozen=True, slots=True)
class TrustLine:
    """How far off predictions of one kind were, on tiles the learning had not seen."""

    question: str
    n: int
    median_de00: float
    p90_de00: float
    nearest_tile_median: float
    mean_shift_median: float
    covers_80: float
    covers_95: float
    likeness_median: float = 0.0
    """Median of a Gaussian process that knows only what tiles are made of."""


@dataclass(frozen=True, slots=True)
class Outlier:
    """A reading that does not fit the others."""

    tile: str
    zone: str
    de00: float


@dataclass(frozen=True, slots=True)
class Held:
    """One point of a calibration curve: of regions stated to hold ``stated`` of new tiles, ``held`` did."""

    question: str
    stated: float
    held: float


@dataclass(frozen=True, slots=True)
class SaidAndFired:
    """A colour predicted without its tile beside the colour that was fired."""

    question: str
    tile: str
    zone: str
    said: Lab
    fired: Lab
    de00: float


@dataclass(frozen=True, slots=True)
class TrustAnswer:
    """How far the studio can trust its predictions.

    ``curve`` in order of the share stated, for each kind of question; ``pairs`` worst first.
    """

    learnt_from: int
    questions: tuple[TrustLine, ...]
    outliers: tuple[Outlier, ...]
    curve: tuple[Held, ...] = ()
    pairs: tuple[SaidAndFired, ...] = ()
