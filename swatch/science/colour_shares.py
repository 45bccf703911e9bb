"""The colours of a mottled surface: three to five with their shares, so that a break is not averaged away."""

from __future__ import annotations

import numpy as np

from swatch.science.colour_math import FloatArray, de00_metric
from swatch.terms.colour import Lab
from swatch.terms.measured import ColourShare

MOST, FEWEST = 5, 3
MOTTLED = 2.5
"""Root mean square ΔE00 of a surface's pixels from their mean, above which one colour does not describe it."""
LEAST_SHARE, LEAST_APART = 0.04, 3.0
"""A colour of a smaller share, or nearer to another in ΔE00, is given up while more than three remain."""
_ROUNDS = 25
_ODD = 0.02
"""Share of pixels (specks, the rim of a glare) that belong to the nearest colour and do not move it."""


def is_mottled(lab: FloatArray) -> bool:
    """Tell whether one colour does not describe these pixels: (n, 3) CIELAB, grain averaged out."""
    if len(lab) < 50:
        return False
    near = np.sort((_evened(lab, lab.mean(axis=0)) ** 2).sum(axis=1))[: int((1 - _ODD) * len(lab))]
    return bool(np.sqrt(near.mean()) > MOTTLED)


def colour_shares(lab: FloatArray) -> list[tuple[FloatArray, float]]:
    """Describe pixels by three to five colours.

    k-means in a space where ΔE00 is near to distance, from the far ends inwards, so without a draw: the same
    pixels give the same colours.

    Parameters
    ----------
    lab : (n, 3)
        CIELAB of pixels.

    Returns
    -------
    list of ((3,) CIELAB, share)
        Largest share first; the shares make 1.
    """
    points = _evened(lab, np.median(lab, axis=0))
    centres = _far_apart(points)
    while True:
        nearest, centres = _settled(points, centres)
        share = np.bincount(nearest, minlength=len(centres)) / len(points)
        apart = np.linalg.norm(centres[:, None] - centres, axis=2) + 1e9 * np.eye(len(centres))
        if len(centres) <= FEWEST or (share.min() >= LEAST_SHARE and apart.min() >= LEAST_APART):
            break
        if share.min() < LEAST_SHARE:
            gone = int(share.argmin())
        else:
            one, two = np.unravel_index(int(apart.argmin()), apart.shape)
            gone = int(one if share[one] < share[two] else two)
        centres = np.delete(centres, gone, axis=0)
    order = [int(k) for k in np.argsort(-share, kind="stable") if share[k] > 0]
    return [(np.asarray(lab[nearest == k].mean(axis=0)), float(share[k])) for k in order]


def _evened(lab: FloatArray, about: FloatArray) -> FloatArray:
    """CIELAB turned so that distances near a colour are ΔE00: (n, 3)."""
    return np.asarray((lab - about) @ np.linalg.cholesky(de00_metric(about)))


def _far_apart(points: FloatArray) -> FloatArray:
    """Starting colours: the middle, then each time one far from all before; the very furthest may be a speck."""
    chosen = [np.median(points, axis=0)]
    while len(chosen) < MOST:
        gap = np.min([((points - one) ** 2).sum(axis=1) for one in chosen], axis=0)
        order = np.argsort(gap, kind="stable")
        chosen.append(points[order[int((1 - _ODD) * (len(points) - 1))]])
    return np.array(chosen)


def _settled(points: FloatArray, centres: FloatArray) -> tuple[np.ndarray, FloatArray]:
    """Nearest colour of each point, and the colours moved to the middle of what is theirs."""
    nearest = np.full(len(points), -1)
    for _ in range(_ROUNDS):
        gap = ((points[:, None] - centres) ** 2).sum(axis=2)
        now = gap.argmin(axis=1)
        least = gap[np.arange(len(points)), now]
        plain = least <= np.quantile(least, 1 - _ODD)
        for k in range(len(centres)):
            if (mine := plain & (now == k)).any():
                centres[k] = points[mine].mean(axis=0)
        if (now == nearest).all():
            break
        nearest = now
    return nearest, centres


def colours_of(lab: FloatArray) -> tuple[ColourShare, ...]:
    """A mottled zone's colours with their shares, from CIELAB (m, 3) over it; none where it is plain."""
    if not is_mottled(lab):
        return ()
    return tuple(ColourShare(Lab(*one.tolist()), share) for one, share in colour_shares(lab))
