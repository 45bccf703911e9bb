"""Two zones of one photo against each other: what is wrong with the photo is wrong with both, and falls out."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from swatch.science.colour_math import FloatArray, de00_metric, delta_e_2000
from swatch.terms.colour import Lab, covariance_of
from swatch.terms.measured import Comparison, PhotoRead, ZoneRead
from swatch.terms.problems import Where
from swatch.terms.problems.photo import compare_zone_missing

CHI2_95 = 7.815
"""95 % of the sum of three squared standard normals lies below this (memory of the chi-square tables)."""
ALIKE_WITHIN, ALIKE_AT_MOST = 18.0, 0.8
"""Distance in CIELAB (a*, b* counting less) over which one photo's errors stay alike, and how much they ever are.

On 30 rendered scenes (``bench/scenes.py``, all three kinds of light) the errors of two zones correlate by 0.7
where their colours are 5 apart, 0.45 at 10, 0.25 at 20 and 0.1 at 40; glazes of one colour differ in spectrum."""
_MINOR_CHROMA = 0.7
_PARTS = 20
_DRAWS = np.random.default_rng(1931).standard_normal((4000, 3))


def compare(read: PhotoRead, one: str, other: str) -> Comparison:
    """Compare two zones of one photo.

    Parameters
    ----------
    read : PhotoRead
        The photo's reading.
    one, other : str
        Names of two of its zones.

    Raises
    ------
    StudioProblem
        ``compare-zone-missing``: the photo has no reading of that name.
    """
    zones = {zone.zone: zone for zone in read.zones}
    for name in (one, other):
        if name not in zones:
            raise compare_zone_missing(name).at(Where(photo=read.photo, zone=name))
    return compare_zones(zones[one], zones[other])


def compare_zones(one: ZoneRead, other: ZoneRead) -> Comparison:
    """Compare two readings of the same photo.

    The difference's covariance is that of what each zone adds by itself, and of what of the photo's own error
    differs between the two colours.
    """
    first, second = np.array(one.lab), np.array(other.lab)
    covariance = difference_covariance(one, other)
    difference = first - second
    middle = 0.5 * (first + second)
    metric = de00_metric(middle)
    drawn = _DRAWS @ np.linalg.cholesky(covariance).T
    size = np.sqrt(np.einsum("ni,ij,nj->n", drawn, metric, drawn))
    moved = delta_e_2000(middle + 0.5 * (difference + drawn), middle - 0.5 * (difference + drawn))
    distance2 = float(difference @ np.linalg.solve(covariance, difference))
    low, high = np.quantile(moved, [0.025, 0.975])
    return Comparison(
        zones=(one.zone, other.zone),
        difference=Lab(*difference.tolist()),
        covariance=covariance_of(covariance.tolist()),
        de00=float(delta_e_2000(first, second)),
        de00_95=(float(low) if distance2 > CHI2_95 else 0.0, float(high)),
        u95_de00=float(np.quantile(size, 0.95)),
        told_apart=distance2 > CHI2_95,
        by_colours_de00=by_colours(one, other),
    )


def by_colours(one: ZoneRead, other: ZoneRead) -> float | None:
    """Mean CIEDE2000 between the colours of two zones, matched share by share at the least cost.

    None where neither is mottled. It is the transport ("earth mover's") distance between two distributions of
    colour (Rubner, Tomasi & Guibas 2000; memory), in steps of a twentieth of a zone.
    """
    if not one.colours and not other.colours:
        return None
    from scipy.optimize import linear_sum_assignment

    rows, columns = _in_twentieths(one), _in_twentieths(other)
    apart = delta_e_2000(rows[:, None], columns[None])
    return float(apart[linear_sum_assignment(apart)].mean())


def _in_twentieths(zone: ZoneRead) -> FloatArray:
    """A zone's colours, each as often as its share of twenty; a plain zone's one colour twenty times: (20, 3)."""
    if not zone.colours:
        return np.tile(np.array(zone.lab, dtype=float), (_PARTS, 1))
    shares = np.array([colour.share for colour in zone.colours])
    ends = np.cumsum(shares) / shares.sum()
    at = np.searchsorted(ends, (np.arange(_PARTS) + 0.5) / _PARTS)
    return np.array([zone.colours[k].lab for k in np.minimum(at, len(ends) - 1)], dtype=float)


def difference_covariance(one: ZoneRead, other: ZoneRead) -> FloatArray:
    """Covariance of the difference of two zones of one photo: (3, 3)."""
    total = np.zeros((3, 3))
    halves = []
    for zone in (one, other):
        whole = np.array(zone.covariance.rows())
        own = whole if zone.own is None else np.array(zone.own.rows())
        total += own
        halves.append(root_of(whole - own))
    alike = shared_part(np.array(one.lab), np.array(other.lab))
    first, second = halves
    total += first @ first.T + second @ second.T - alike * (first @ second.T + second @ first.T)
    return np.asarray(total + 1e-6 * np.eye(3))


def shared_part(one: FloatArray, other: FloatArray) -> float:
    """Correlation of one photo's errors at two colours."""
    apart = (np.asarray(one) - other) * [1.0, _MINOR_CHROMA, _MINOR_CHROMA]
    return float(ALIKE_AT_MOST * np.exp(-np.linalg.norm(apart) / ALIKE_WITHIN))


def root_of(matrix: FloatArray) -> FloatArray:
    """Symmetric square root of a covariance; what is negative by rounding counts as nothing."""
    values, vectors = np.linalg.eigh(matrix)
    return np.asarray((vectors * np.sqrt(np.maximum(values, 0.0))) @ vectors.T)


def own_part(whole: FloatArray, shared: FloatArray) -> list[list[float]]:
    """What a zone adds to the photo's own error, as a covariance without negative parts."""
    half = root_of(np.asarray(whole) - shared)
    own: Sequence[Sequence[float]] = (half @ half.T).tolist()
    return [list(row) for row in own]
