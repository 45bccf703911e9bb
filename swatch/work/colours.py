"""Which colours can the jars in stock make on a body at a cone, and which of them were made?"""

from __future__ import annotations

import time
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np

from swatch.science.colour_range import CELL, filled, rings
from swatch.science.optics import FloatArray
from swatch.science.search import NO_LAYERING, AllMeans
from swatch.terms.answers import MatchRequest
from swatch.terms.colour import Lab, covariance_of
from swatch.terms.colours import ColoursRequest, JarColours, LightnessBand, OwnColour, Ring
from swatch.terms.evidence import Stage
from swatch.terms.layering import fold_name
from swatch.terms.problems import Notice
from swatch.terms.problems.learning import nothing_to_search
from swatch.terms.report import Report, silent
from swatch.work.bring_in import doubts_of
from swatch.work.cautions import FOOD_REGIONS, SAME_CONE
from swatch.work.learn import Learnt, learnt
from swatch.work.match import check_answerable, means_of, space_of

STEP = 10.0
"""L* that one outline spans."""
DOUBTED = 24
"""Layerings of each band whose doubt is looked at."""


def jar_colours(folder: Path, request: ColoursRequest, report: Report = silent) -> JarColours:
    """Outline the colours that layerings from stock are predicted to fire, and those that own tiles show.

    Raises
    ------
    StudioProblem
        The request names what the studio does not have, or rules out everything it has.
    """
    return jar_colours_from(learnt(folder, report), request, report)


def jar_colours_job(asked: dict[str, Any], report: Report) -> JarColours:
    """Outline colours in a worker."""
    return jar_colours(Path(asked["folder"]), asked["request"], report)


def jar_colours_from(known: Learnt, request: ColoursRequest, report: Report = silent) -> JarColours:
    """Outline colours from what is learnt."""
    began = time.perf_counter()
    limits = MatchRequest(
        Lab(50.0, 0.0, 0.0),
        request.body,
        request.cone,
        max_layers=request.max_layers,
        max_coats=request.max_coats,
        regions=request.regions,
        must_use=request.must_use,
        leave_out=request.leave_out,
    )
    body = check_answerable(known, limits)
    space = space_of(known, limits)
    means = means_of(known, space, body, request.cone.position, report)
    if not means.searched:
        raise nothing_to_search()
    real = np.flatnonzero(means.channels[0] < NO_LAYERING)
    lightness = means.channels[0, real]
    own = _own_colours(known, means, request)
    bands = []
    for low in np.arange(0.0, 100.0, STEP):
        here = real[_step_of(lightness) == low]
        tiles = tuple(one for one in own if _step_of(np.array(one.lab.L)) == low)
        if len(here) or tiles:
            bands.append(_band(known, means, (float(low), float(low + STEP)), here, tiles))
    return JarColours(
        request,
        tuple(bands),
        CELL,
        means.searched,
        time.perf_counter() - began,
        known.learnt_from,
        _cautions(request),
    )


def _step_of(lightness: np.ndarray) -> np.ndarray:
    """Where the band of each lightness begins; the last band holds what is lighter still."""
    return np.clip(np.floor(lightness / STEP) * STEP, 0.0, 100.0 - STEP)


def _band(
    known: Learnt,
    means: AllMeans,
    lightness: tuple[float, float],
    index: np.ndarray,
    tiles: tuple[OwnColour, ...],
) -> LightnessBand:
    made = np.array([(one.lab.a, one.lab.b) for one in tiles]).reshape(-1, 2)
    return LightnessBand(
        lightness,
        len(index),
        _rings(filled(means.channels[1:, index].T.astype(float), close=True)),
        _doubt(known, means, index),
        _rings(filled(made)),
        tiles,
    )


def _rings(cells: np.ndarray) -> tuple[Ring, ...]:
    return tuple(tuple((float(a), float(b)) for a, b in line) for line in rings(cells))


def _doubt(known: Learnt, means: AllMeans, index: np.ndarray) -> float | None:
    """Median of one standard uncertainty, in ΔE00, of some layerings taken evenly."""
    some = index[:: max(1, len(index) // DOUBTED)][:DOUBTED]
    if not len(some):
        return None
    material, coats = means.layers_of(some)
    k = len(some)
    said = known.fit.predict(
        material, coats, np.zeros(material.shape, dtype=bool), np.full(k, means.body), np.full(k, means.cone)
    )
    fine = said.refused == 0
    labs = [_lab(row) for row in said.mean[fine]]
    covariances = [covariance_of(one.tolist()) for one in said.covariance[fine]]
    return float(np.median(doubts_of(labs, covariances))) if labs else None


def _lab(row: FloatArray) -> Lab:
    return Lab(*(float(x) for x in row))


def _own_colours(known: Learnt, means: AllMeans, request: ColoursRequest) -> Sequence[OwnColour]:
    """Zones fired once on the body at the cone, of layerings that the limits allow, wiped washes included."""
    names = [fold_name(name) for name in known.arrays.materials.names]
    allowed, may_top = (
        {names[m] for m in np.flatnonzero(which)} for which in (means.space.allowed, means.space.may_top)
    )
    wanted = {names[m] for m in means.space.must_use}
    touches_food = any(region in FOOD_REGIONS for region in request.regions)
    found = []
    for one, cone in zip(known.arrays.readings, known.arrays.data.cone, strict=True):
        used = [fold_name(layer.material) for layer in one.layers]
        if one.stage is not Stage.FIRED or not used or fold_name(one.body or "") != fold_name(request.body):
            continue
        # not near where the cone is unknown, for that is not a number
        near = bool(abs(cone - request.cone.position) <= SAME_CONE)
        wiped = touches_food and one.layers[-1].wiped
        if near and set(used) <= allowed and used[-1] in may_top and wanted <= set(used) and not wiped:
            found.append(OwnColour(one.tile, one.zone, one.layers, one.lab))
    return found


def _cautions(request: ColoursRequest) -> tuple[Notice, ...]:
    said = [Notice("colours-are-predicted")]
    if any(region in FOOD_REGIONS for region in request.regions):
        said.append(Notice("filter-is-no-approval"))
    else:
        said.append(Notice("colours-of-any-region"))
    return tuple(said)
