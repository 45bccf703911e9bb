"""What to fire next, and why."""

from __future__ import annotations

from dataclasses import dataclass

from swatch.terms.answers import Prediction
from swatch.terms.boards import Board
from swatch.terms.colour import Covariance, Lab
from swatch.terms.cone import Cone
from swatch.terms.layering import Layers
from swatch.terms.problems.base import Notice


@dataclass(frozen=True, slots=True)
class NextRequest:
    """What the next tiles are for: a target, a stand-in for a material, a doubtful material, or to learn the most.

    With ``replaces`` the targets are that material's uses, each on its own body at its own cone. ``material`` asks
    for tiles that take most doubt out of that material; with none of the three, out of all that are in stock.
    """

    tiles: int
    body: str = ""
    cone: Cone | None = None
    target: Lab | None = None
    target_covariance: Covariance | None = None
    replaces: str = ""
    material: str = ""
    regions: tuple[str, ...] = ()
    tolerance: float = 2.0
    max_layers: int = 3
    max_coats: int = 4
    leave_out: tuple[str, ...] = ()
    half_and_half: bool = False
    """With ``replaces``: each tile has what is used now on one half, a candidate on the other."""
    shelf_mm: tuple[float, ...] = ()
    """Width and depth of the kiln's shelf, or a round one's diameter; empty: no matter."""
    tile_mm: tuple[float, float] = (50.0, 100.0)
    shelves: int = 1
    name: str = ""
    """Of the board, and of the firing it goes into; empty: the next free one."""


@dataclass(frozen=True, slots=True)
class NextTest:
    """One tile to fire.

    ``information`` is how far it lowers the expected ΔE00 of the best tile, beside those before it; without a
    target the share of the doubt that it takes away. ``chance_within`` is None without a target.
    ``beside`` is what lies on the other half of a half-and-half tile.
    """

    tile: str
    prediction: Prediction
    why: str
    chance_within: float | None
    information: float
    beside: Layers = ()


@dataclass(frozen=True, slots=True)
class NextAnswer:
    """The tiles to fire next, what they may bring, and the boards that hold them."""

    request: NextRequest
    tests: tuple[NextTest, ...]
    boards: tuple[Board, ...]
    chance_any: float | None
    """Chance that at least one of them is within the tolerance of each target; None without one."""
    best_expected: float | None
    """Expected ΔE00 of the best of them; of several uses, of the worst use."""
    doubt_left: float | None
    """Share of the doubt that is left; None with a target."""
    advice: tuple[Notice, ...]
    seconds: float
    learnt_from: int
    provisional: bool = False
    """Chosen in haste by the last fit, while the newest tiles were still being learnt."""
