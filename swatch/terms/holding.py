"""What is said of an edition's loads and pieces: whether they hold the look, and why not."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from swatch.terms.buttons import ButtonPlan
from swatch.terms.colour import Lab
from swatch.terms.problems.base import Notice

USUAL_TOLERANCE = 3.5
"""ΔE00 where an edition states none: the upper part of what is usually accepted, and what six pieces support."""


SUPPORTED_TOLERANCE = 3.0
"""ΔE00 that six pieces of a load support at best; 2 can mostly not be promised (found by simulation)."""


def tight_tolerance(tolerance: float | None) -> Notice | None:
    """What has to be said of a tolerance as soon as it is chosen; None where six pieces can support it."""
    if tolerance is None or tolerance >= SUPPORTED_TOLERANCE:
        return None
    return Notice("tolerance-rarely-supported", {"tolerance": tolerance})


class LoadVerdict(StrEnum):
    """What can be said of a load."""

    HOLDS = "holds"
    DRIFTED = "drifted"
    TOO_FEW = "too few to judge"
    KILN_OR_CAMERA = "kiln or camera"
    CAMERA = "camera"


class PieceVerdict(StrEnum):
    """What can be said of a piece."""

    WITHIN = "within"
    DOUBTFUL = "doubtful"
    OFF = "off"


@dataclass(frozen=True, slots=True)
class CheckRequest:
    """Which edition to check; ``tolerance`` in ΔE00 instead of the edition's own, ``set_size`` pieces of a set."""

    edition: str
    tolerance: float | None = None
    set_size: int = 2
    hold_back: int = 0


@dataclass(frozen=True, slots=True)
class LikelyCause:
    """One cause of a drift: heat, thickness, lot, body, camera or not-explained; shares add up to 1."""

    code: str
    amount: float
    unit: str
    share: float


@dataclass(frozen=True, slots=True)
class RegionChange:
    """One region of a load against the approved look, the camera's shift taken out as far as it is known.

    Of a mottled region ``by_colours`` is the mean ΔE00 by which its colours with their shares have moved, and
    ``by_colours_ordinarily`` what one approved piece differs by from all of them; None of a plain one.
    """

    region: str
    approved: Lab
    load: Lab
    de00: float
    by_colours: float | None = None
    by_colours_ordinarily: float | None = None


@dataclass(frozen=True, slots=True)
class Together:
    """All loads since the last recorded change, looked at as one."""

    firings: tuple[str, ...]
    statistic: float
    limit: float
    drifted: bool
    heat_cones: float | None = None


@dataclass(frozen=True, slots=True)
class LoadCheck:
    """One load against the approved pieces.

    ``statistic`` and ``limit`` are of the look with the measured heat taken out; ``alarms`` names what went off
    (``look``, ``heat``, ``thickness``, ``together``). ``heat_cones`` is against the approved firings, as
    ``heat_from`` (``buttons``, ``cones``) tells it; None without either. ``opens`` and ``opens_clay`` are lots of
    materials and of clay that no load before it had. ``sure_within`` is the chance that the
    load's look is within the tolerance everywhere, ``supported`` the smallest tolerance it can be judged by.
    """

    firing: str
    date: str | None
    pieces: int
    mean_de00: float
    statistic: float
    limit: float
    verdict: LoadVerdict
    alarms: tuple[str, ...]
    change: Lab
    regions: tuple[RegionChange, ...]
    causes: tuple[LikelyCause, ...]
    sure_within: float
    supported: float
    heat_cones: float | None = None
    heat_from: str | None = None
    together: Together | None = None
    opens: tuple[str, ...] = ()
    opens_clay: tuple[str, ...] = ()
    missing: tuple[Notice, ...] = ()


@dataclass(frozen=True, slots=True)
class PieceCheck:
    """One piece against the approved ones; of the region that is farthest off for what it ordinarily is."""

    piece: str
    firing: str
    shelf: str | None
    region: str
    de00: float
    statistic: float
    limit: float
    verdict: PieceVerdict


@dataclass(frozen=True, slots=True)
class Spread:
    """Where the variation comes from: variances in ΔE00², a region's mean; None where nothing tells of it."""

    between_firings: float | None
    between_shelves: float | None
    within: float | None
    measuring: float | None


@dataclass(frozen=True, slots=True)
class KilnPlace:
    """One shelf of the kiln: how its pieces differ from the mean of their own load, and its buttons in cones."""

    shelf: str
    pieces: int
    change: Lab
    de00: float
    heat_cones: float | None = None


@dataclass(frozen=True, slots=True)
class FiringChart:
    """A chart over firings. ``name`` is ``L*``, ``a*``, ``b*``, ``heat`` or ``heat, moving mean``."""

    name: str
    firings: tuple[str, ...]
    points: tuple[float, ...]
    middle: float
    lower: float
    upper: float


@dataclass(frozen=True, slots=True)
class CheckAnswer:
    """An edition's loads and pieces, and what was learnt of its kiln. Loads are in the order they were fired.

    ``next_load`` proposes what to fire and photograph with the next one. ``sets_de00`` is how far apart the two
    least alike pieces of each set are, root mean square over regions.
    """

    edition: str
    tolerance: float
    tolerance_stated: bool
    approved: int
    approved_firings: int
    regions: tuple[str, ...]
    loads: tuple[LoadCheck, ...] = ()
    pieces: tuple[PieceCheck, ...] = ()
    sets: tuple[tuple[str, ...], ...] = ()
    held_back: tuple[str, ...] = ()
    variance: Spread = Spread(None, None, None, None)
    kiln_sd_cones: float | None = None
    kiln_map: tuple[KilnPlace, ...] = ()
    charts: tuple[FiringChart, ...] = ()
    notices: tuple[Notice, ...] = ()
    next_load: ButtonPlan | None = None
    sets_de00: tuple[float, ...] = ()
