"""How far a material goes: what an area takes by its weighings, how many pieces the rest makes, until when.

What an application takes is told of by logarithms: hands and pots differ by shares, not by grams.
"""

from __future__ import annotations

import math
import statistics
from collections.abc import Sequence
from dataclasses import dataclass

LEAST_SCATTER = 0.15
"""ln of a rate differs at least so much from one application to the next (a hand varies 10 % from day to day)."""
BORROWED_SCATTER = 0.5
"""ln of a rate that is taken from the studio's other materials."""
EIGHTY = 1.2816
"""Standard normal quantile of a range that holds 80 %."""
EXTRA = 0.10
"""Touch-ups and re-fires take so much more (common practice, no source)."""
LOSSES = {"sprayed": (math.log(2.0), 0.35)}
"""What a gun takes beside what stays on the piece, overspray and dregs: about as much again (common practice, no
source), as ln of jar over piece with its standard deviation."""
USUAL_LOSS = (math.log(1.1), 0.10)
"""The same of brush, ladle and bowl (common practice, no source)."""

Range = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Rate:
    """ln (g for each dm² and coat), out of the jar, and the standard deviation for one application more."""

    ln: float
    sd: float

    def grams(self, dm2_coats: float) -> tuple[float, float, float]:
        """Grams that an area times its coats takes: low end, middle, high end of a range that holds 80 %."""
        middle = math.exp(self.ln) * dm2_coats
        side = math.exp(EIGHTY * self.sd)
        return middle / side, middle, middle * side


def rate_of(ln_rates: Sequence[float]) -> Rate:
    """What one application more takes, of those weighed: their median, and their scatter with their number.

    Raises
    ------
    ValueError
        None was weighed.
    """
    if not ln_rates:
        raise ValueError("nothing was weighed")
    scatter = max(LEAST_SCATTER, statistics.stdev(ln_rates) if len(ln_rates) > 2 else LEAST_SCATTER)
    return Rate(statistics.median(ln_rates), scatter * math.sqrt(1 + 1 / len(ln_rates)))


def loss_of(method: str | None, jar_over_piece: Sequence[float]) -> tuple[float, float]:
    """ln of what a jar loses over what stays on a piece, and its doubt: weighed both ways, else as is usual.

    Parameters
    ----------
    method : str or None
    jar_over_piece : sequence of float
        ln (jar's rate over piece's rate) of materials put on by this method and weighed both ways.
    """
    usual, doubt = LOSSES.get(method or "", USUAL_LOSS)
    if not jar_over_piece:
        return usual, doubt
    # What is usual counts as one more weighing of its own doubt.
    own = LEAST_SCATTER**2 * 2 / len(jar_over_piece)
    weight = 1 / own + 1 / doubt**2
    mean = statistics.fmean(jar_over_piece)
    return (mean / own + usual / doubt**2) / weight, math.sqrt(1 / weight)


def need_of(rate: Rate, dm2_coats: float, pieces: int) -> Range:
    """Grams that so many pieces take, touch-ups and re-fires included: a range that holds 80 %."""
    low, _, high = rate.grams(dm2_coats * (1.0 + EXTRA))
    return pieces * low, pieces * high


def pieces_from(left_g: float, rate: Rate, dm2_coats: float, share_good: float = 1.0) -> tuple[int, int]:
    """Good pieces that what is left still makes, touch-ups and re-fires included: a range that holds 80 %.

    Raises
    ------
    ValueError
        A piece takes nothing of it.
    """
    if dm2_coats <= 0:
        raise ValueError("a piece takes nothing of it")
    low, _, high = rate.grams(dm2_coats * (1.0 + EXTRA))
    return math.floor(share_good * left_g / high), math.floor(share_good * left_g / low)


def pieces_to_start(good: int, share: float, assurance: float = 0.9) -> int:
    """How many pieces to begin so that so many are good with an assurance, each good with the share given."""
    from scipy.special import bdtrc

    if good <= 0:
        return 0
    count = good
    while float(bdtrc(good - 1, count, min(share, 1.0))) < assurance:
        count += 1
    return count


def days_left(left_g: float, grams_a_day: Range) -> Range | None:
    """In how many days it is used up at the present pace, the earlier and the later end; None at no pace."""
    low, high = grams_a_day
    if high <= 0 or low <= 0:
        return None
    return left_g / high, left_g / low


def pace_of(days: Sequence[float], pieces: Sequence[int]) -> float | None:
    """Pieces a day of the latest firings: all but the first's, over the days between the first and the last.

    Parameters
    ----------
    days : sequence of float
        When each was fired, in days, rising.
    pieces : sequence of int
        How many pieces each held.

    Returns
    -------
    float or None
        None where fewer than two different days are known.
    """
    if len(days) < 2 or days[-1] <= days[0]:
        return None
    return sum(pieces[1:]) / (days[-1] - days[0])
