"""How much of a material an area takes, by the studio's own weighings, and how many pieces the rest makes."""

from __future__ import annotations

import math
import statistics
from collections.abc import Sequence
from dataclasses import dataclass

from swatch.science.lasting import BORROWED_SCATTER, EIGHTY, Rate, loss_of, rate_of
from swatch.terms.editions import Weighed, Weighing
from swatch.terms.layering import Layers, fold_name
from swatch.terms.materials import Material


@dataclass(frozen=True)
class Told:
    """A rate and what it rests on: so many weighings by one method, or those of other materials (``borrowed``).

    ``loss`` is ``weighed`` where the jar itself was, ``learnt`` where pieces were and jars of the same method, and
    ``usual`` where the dregs and overspray are what is usual.
    """

    rate: Rate
    method: str | None
    weighings: int
    borrowed: bool
    loss: str


class Consumption:
    """Grams for each dm² and coat, by material and method, with their doubt."""

    def __init__(self, weighings: Sequence[Weighing]) -> None:
        self._jars: dict[tuple[str, str | None], list[float]] = {}
        self._pieces: dict[tuple[str, str | None], list[float]] = {}
        self._last: dict[str, str | None] = {}
        """The method that a material was put on by last."""
        for one in weighings:
            rate = _rate(one)
            if rate is not None:
                key = fold_name(one.material), _method(one.method)
                of = self._pieces if one.weighed is Weighed.PIECE else self._jars
                of.setdefault(key, []).append(math.log(rate))
                self._last[key[0]] = key[1]
        self._both = {
            key: statistics.median(self._jars[key]) - statistics.median(self._pieces[key])
            for key in self._jars.keys() & self._pieces.keys()
        }

    def told(self, material: str, method: str | None = None) -> Told | None:
        """What is known of a material put on by a method, by default the one it was put on by last."""
        folded = fold_name(material)
        method = _method(method) or self._last.get(folded)
        own = self._own((folded, method))
        if own is not None:
            return own
        alike = [self._own(key) for key in sorted({*self._jars, *self._pieces}, key=str) if key[1] == method]
        found = [one for one in alike if one is not None] or [
            one for key in sorted({*self._jars, *self._pieces}, key=str) if (one := self._own(key)) is not None
        ]
        if not found:
            return None
        rates = [one.rate.ln for one in found for _ in range(one.weighings)]
        return Told(Rate(statistics.median(rates), BORROWED_SCATTER), method, len(rates), True, "usual")

    def rate(self, material: str, method: str | None = None) -> tuple[float, float] | None:
        """ln (g per dm² and coat) and its standard deviation for one application; None where unknown."""
        told = self.told(material, method)
        return None if told is None else (told.rate.ln, told.rate.sd)

    def pieces(self, layers: Layers, stock: Sequence[Material], area_dm2: float) -> tuple[int, int] | None:
        """Pieces that what is left and not locked still makes: a range of 80 %; None where it cannot be said."""
        left = {
            fold_name(one.name): None if one.left_g is None else max(one.left_g - one.locked_g, 0.0)
            for one in stock
        }
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

    def _own(self, key: tuple[str, str | None]) -> Told | None:
        jars, pieces = self._jars.get(key, []), self._pieces.get(key, [])
        if jars:
            # A piece weighed beside the jar adds nothing that the jar does not tell better.
            return Told(rate_of(jars), key[1], len(jars), False, "weighed")
        if not pieces:
            return None
        both = [loss for (_, method), loss in sorted(self._both.items(), key=str) if method == key[1]]
        more, doubt = loss_of(key[1], both)
        found = rate_of(pieces)
        rate = Rate(found.ln + more, math.hypot(found.sd, doubt))
        return Told(rate, key[1], len(pieces), False, "learnt" if both else "usual")


def _method(said: str | None) -> str | None:
    return fold_name(said) if said else None


def _rate(one: Weighing) -> float | None:
    grams = one.grams
    if grams is None or not one.area_dm2:
        return None
    area = one.area_dm2 * (one.coats or 1.0)
    return grams / area if grams > 0 and area > 0 else None
