"""The a*b* plane: what is drawn on it, how large, and which labels find room."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from swatch.terms.colour import Covariance, Lab
from swatch.wording.answers import lab_in_words
from swatch.wording.text import _, say

SHARE = 0.68
_SMALLEST_SPAN = 12.0
_MOST_OWN = 1500
Place = tuple[float, float]


@dataclass(frozen=True, slots=True)
class PlanePoint:
    """One answer on the plane."""

    rank: int
    name: str
    lab: Lab
    covariance: Covariance


@dataclass(frozen=True, slots=True)
class Plane:
    """Target, answers, the studio's own tiles, and the edge of what its materials reach."""

    target: Lab | None = None
    answers: tuple[PlanePoint, ...] = ()
    own: tuple[Lab, ...] = ()
    reachable: tuple[Place, ...] = ()

    def own_drawn(self) -> tuple[Lab, ...]:
        """The own tiles, thinned evenly where there are very many: they are a faint ground, not a list."""
        step = -(-len(self.own) // _MOST_OWN) or 1
        return self.own[::step]

    def spoken(self, chosen: int | None) -> str:
        """The plane in words: target, chosen answer, how many there are."""
        parts = [say(_("Target: {lab}.")).format(lab=lab_in_words(self.target))] if self.target else []
        point = next((point for point in self.answers if point.rank == chosen), None)
        if point is not None:
            text = say(_("Chosen, {rank}: {name}, {lab}."))
            parts.append(text.format(rank=point.rank, name=point.name, lab=lab_in_words(point.lab)))
        parts.append(say(_("{n} answers, {own} own tiles.")).format(n=len(self.answers), own=len(self.own)))
        return " ".join(parts)


def ellipse(lab: Lab, covariance: Covariance, share: float = SHARE, n: int = 72) -> NDArray[np.float64]:
    """Outline of the region of a* and b* that holds `share` of a Gaussian.

    Returns
    -------
    (n + 1, 2) float
        Closed.

    Notes
    -----
    In two dimensions d² is exponential: the share within d² ≤ r² is 1 − exp(−r²/2).
    """
    radius = np.sqrt(-2.0 * np.log(1.0 - share))
    variances, axes = np.linalg.eigh(np.array([[covariance.aa, covariance.ab], [covariance.ab, covariance.bb]]))
    turn = np.linspace(0.0, 2.0 * np.pi, n + 1)
    circle = np.stack([np.cos(turn), np.sin(turn)], axis=1) * radius
    return np.asarray(np.array([lab.a, lab.b]) + circle * np.sqrt(np.clip(variances, 0.0, None)) @ axes.T)


def span(plane: Plane) -> tuple[Place, Place]:
    """The square of the plane to show, (a from, a to) and (b from, b to): target, answers and their ellipses."""
    outlines = [ellipse(point.lab, point.covariance) for point in plane.answers]
    if plane.target is not None:
        outlines.append(np.array([[plane.target.a, plane.target.b]]))
    if not outlines:
        outlines = [np.array([[lab.a, lab.b] for lab in plane.own]) if plane.own else np.zeros((1, 2))]
    points = np.concatenate(outlines)
    low, high = points.min(axis=0), points.max(axis=0)
    half = 0.55 * max(_SMALLEST_SPAN, float((high - low).max()))
    a, b = ((low + high) / 2).tolist()
    return (a - half, a + half), (b - half, b + half)


def light_span(plane: Plane) -> Place:
    """The range of L* to show, in steps of 5."""
    values = [point.lab.L for point in plane.answers] + ([plane.target.L] if plane.target else [])
    if not values:
        return 0.0, 100.0
    low, high = 5 * np.floor(min(values) / 5 - 0.5), 5 * np.ceil(max(values) / 5 + 0.5)
    return float(max(0.0, low)), float(min(100.0, high))


def labels_that_fit(
    points: Sequence[tuple[int, Place, Place]], chosen: int | None, room: tuple[float, float]
) -> dict[int, Place]:
    """Find a place for each label where it collides with no disc and no other label; drop those without one.

    Parameters
    ----------
    points : sequence of (rank, (x, y), (width, height))
        Where each answer's disc is and how large its label is, pixels.
    chosen : int or None
        Rank that is placed first; the others follow in rank order.
    room : (width, height)
        Labels stay inside.

    Returns
    -------
    dict of rank to (left, top)
    """
    discs = [(x - 5, y - 5, x + 5, y + 5) for _rank, (x, y), _size in points]
    taken: list[tuple[float, float, float, float]] = []
    out: dict[int, Place] = {}
    for rank, (x, y), (wide, high) in sorted(points, key=lambda one: (one[0] != chosen, one[0])):
        for left, top in ((x + 7, y - high), (x - 7 - wide, y - high), (x + 7, y), (x - 7 - wide, y)):
            box = left, top, left + wide, top + high
            inside = left >= 0 and top >= 0 and box[2] <= room[0] and box[3] <= room[1]
            if inside and not any(_meet(box, other) for other in (*discs, *taken)):
                out[rank] = left, top
                taken.append(box)
                break
    return out


def _meet(one: tuple[float, float, float, float], other: tuple[float, float, float, float]) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]
