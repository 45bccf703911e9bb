"""The half-and-half tiles of a switch: what is used now on one half, what may take its place on the other.

One kiln and one light show what two firings cannot; and each tile reads the old layering once more, of which often
a single tile is known.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from swatch.science.nearness import nearness
from swatch.terms.answers import Suggestion, Use
from swatch.terms.boards import Why
from swatch.terms.editions import EditionRegion
from swatch.terms.next_tests import NextRequest, NextTest
from swatch.terms.problems.learning import nothing_to_search, unused_material
from swatch.terms.report import Report
from swatch.work.learn import Learnt
from swatch.work.predict import check_material
from swatch.work.replace import answer_at, colour_of, uses_of

MOST_USES = 6
"""Uses that the tiles are shared among: the editions' first."""


def half_and_half(
    known: Learnt, request: NextRequest, regions: Sequence[EditionRegion], report: Report
) -> tuple[list[NextTest], float]:
    """Tiles for a switch, the best candidate of each use first, then the second of each.

    Returns
    -------
    tests : list of NextTest
        ``information`` is how far not knowing the old layering's colour better puts the candidate off, in ΔE00.
    expected : float
        Expected ΔE00 of the best candidate at the worst use.
    """
    name = known.arrays.materials.names[check_material(known, request.replaces)]
    places = uses_of(known, regions, name)
    if not places:
        raise unused_material(name)
    places = ([place for place in places if place.regions] or places[:1])[:MOST_USES]
    each = math.ceil(request.tiles / len(places))
    found: list[list[NextTest]] = []
    expected = []
    for done, place in enumerate(places):
        report(done, len(places), "uses")
        use, _searched = answer_at(known, place, name, each, report)
        colour = colour_of(known, place)
        if use is None or colour is None or not use.suggestions:
            continue
        doubt = np.array(colour[1].rows())
        found.append([_test(use, one, doubt) for one in use.suggestions])
        expected.append(use.suggestions[0].de00_expected)
    report(len(places), len(places), "uses")
    if not found:
        raise nothing_to_search()
    turns = [row[turn] for turn in range(each) for row in found if turn < len(row)]
    return turns[: request.tiles], max(expected)


def _test(use: Use, one: Suggestion, doubt: np.ndarray) -> NextTest:
    said = one.prediction
    mean, covariance = np.array([said.lab]), np.array([said.covariance.rows()])
    target = np.array(use.lab)
    unsure, sure = (nearness(mean, covariance, target, of).expected[0] for of in (doubt, None))
    layers = use.question.layers
    return NextTest("", said, str(Why.HALF_AND_HALF), one.chance_within, max(float(unsure - sure), 0.0), layers)
