"""How much of a material an area takes, by the studio's own weighings, and how many pieces the rest makes."""

from __future__ import annotations

import math
import statistics
from collections.abc import Sequence

from swatch.terms.editions import Weighing
from swatch.terms.layering import Layers, fold_name
from swatch.terms.materials import Material

LEAST_SCATTER = 0.15
"""ln of a rate differs at least so much from one application to the next (a hand varies 10 % from day to day)."""
BORROWED_SCATTER = 0.5
"""ln of a rate that is taken from the studio's other materials."""
EIGHTY = 1.2816
"""Standard normal quantile of a range that holds 80 %."""


class Consumption:
    """Grams for each dm² and coat, by material, with their doubt."""

    def __init__(self, weighings: Sequence[Weighing]) -> None:
        self._rates: dict[str, list[float]] = {}
        for one in weighings:
            rate = _rate(one)
            if rate is not None:
                self._rates.setdefault(fold_name(one.material), []).append(math.log(rate))

    def rate(self, material: str) -> tuple[float, float] | None:
        """Median of ln (g per dm² and coat) and its standard deviation for one application; None where unknown."""
        own = self._rates.get(fold_name(material))
        if own:
            scatter = max(LEAST_SCATTER, statistics.stdev(own) if len(own) > 2 else LEAST_SCATTER)
            return statistics.median(own), scatter * math.sqrt(1 + 1 / len(own))
        every = [rate for rates in self._rates.values() for rate in rates]
        return (statistics.median(every), BORROWED_SCATTER) if every else None

    def pieces(self, layers: Layers, stock: Sequence[Material], area_dm2: float) -> tuple[int, int] | None:
        """Pieces that what is left still makes: a range that holds 80 %; None where it cannot be said."""
        left = {fold_name(one.name): one.left_g for one in stock}
        ranges = []
        for layer in layers:
            grams, rate = left.get(fold_name(layer.material)), self.rate(layer.material)
            if grams is None or rate is None:
                return None
            middle = math.log(max(grams, 1e-9) / (area_dm2 * layer.coats)) - rate[0]
            ranges.append((math.exp(middle - EIGHTY * rate[1]), math.exp(middle + EIGHTY * rate[1])))
        if not ranges:
            return None
        return math.floor(min(low for low, _ in ranges)), math.floor(min(high for _, high in ranges))


def _rate(one: Weighing) -> float | None:
    if one.before_g is None or one.after_g is None or not one.area_dm2:
        return None
    grams, area = one.before_g - one.after_g, one.area_dm2 * (one.coats or 1.0)
    return grams / area if grams > 0 and area > 0 else None
