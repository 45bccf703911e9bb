"""Which tiles to fire next: for a target, for a replacement, for a doubtful material, or to learn the most."""

from __future__ import annotations

import time
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np

from swatch.library.studio import Studio
from swatch.science import joint, next_tests
from swatch.science.colour_math import de00_metric, delta_e_2000
from swatch.science.nearness import nearness
from swatch.science.optics import FloatArray
from swatch.science.search import AllMeans, Space, rank
from swatch.terms.answers import MatchRequest, Prediction, Question
from swatch.terms.boards import Board, BoardTile, BoardZone, Why
from swatch.terms.colour import Covariance
from swatch.terms.cone import Cone
from swatch.terms.editions import EditionRegion
from swatch.terms.layering import Layer, fold_name
from swatch.terms.next_tests import NextAnswer, NextRequest, NextTest
from swatch.terms.problems import Notice
from swatch.terms.problems.learning import (
    no_question_for_tests,
    nothing_to_search,
    shelf_too_small,
    unused_material,
)
from swatch.terms.report import Report, silent
from swatch.work.first_board import tile_names
from swatch.work.learn import Learnt, learnt
from swatch.work.match import means_of, space_of
from swatch.work.predict import check_body, check_material, predictions
from swatch.work.shelf import tiles_on

POOL = 240
"""Layerings looked at for each target: the most that may be worth a tile."""
ASKED = 240
"""Layerings whose doubt is to be taken away, drawn from all, where there is no target."""
MOST_USES = 4
"""Uses of a material that tests are shared among: the editions' first."""
NOTHING_YET = 10.0
"""ΔE00 that counts as long as nothing is fired, and at most: plainly another colour is as bad as any other."""
LIKELY, BOLD = 0.3, 0.1
_SEED = 7


Outlook = tuple[float | None, float | None, float | None]
"""Chance that one is within, expected ΔE00 of the best, and the share of doubt that is left."""


@dataclass(frozen=True)
class _Pool:
    """Layerings that may be fired on one body at one cone."""

    body: str
    cone: Cone
    means: AllMeans
    material: np.ndarray
    coats: FloatArray


def next_tests_of(
    folder: Path, request: NextRequest, report: Report = silent, in_haste: bool = False
) -> NextAnswer:
    """Choose the tiles to fire next, together, as a board with numbers that are free.

    Raises
    ------
    StudioProblem
        The request names what the studio does not have, or nothing can be fired for it.
    """
    began = time.perf_counter()
    known = learnt(folder, report, in_haste)
    with Studio.look(folder) as studio:
        regions = studio.editions()
        boards, wares = studio.boards(), [row.name for row in studio.tiles()]
        firings = [one.name for one in studio.firings()]
    taken = [*wares, *(tile.tile for board in boards for tile in board.tiles)]
    names = [*firings, *(board.name for board in boards)]
    answer = next_tests_from(known, request, regions, taken, names, report)
    return replace(answer, seconds=time.perf_counter() - began, provisional=known.provisional)


def next_tests_job(asked: dict[str, Any], report: Report) -> NextAnswer:
    """Choose the next tests in a worker; ``in_haste``: from the last fit, where tiles have changed."""
    return next_tests_of(Path(asked["folder"]), asked["request"], report, bool(asked.get("in_haste", False)))


def next_tests_from(
    known: Learnt,
    request: NextRequest,
    regions: Sequence[EditionRegion] = (),
    taken: Sequence[str] = (),
    names: Sequence[str] = (),
    report: Report = silent,
) -> NextAnswer:
    """Choose the next tests from what is learnt; ``taken`` are tile names in use, ``names`` those of firings."""
    asked, request = request, _fitting(request)
    if request.replaces and request.half_and_half:
        from swatch.work.half_and_half import half_and_half

        found, worst = half_and_half(known, request, regions, report)
        outlook: Outlook = (None, worst, None)
    elif request.target is not None or request.replaces:
        found, outlook = _for_targets(known, request, regions, report)
    else:
        found, outlook = _to_teach(known, request, report)
    chance_any, best, left = outlook
    numbers = tile_names(taken, len(found))
    tests = tuple(replace(one, tile=number) for one, number in zip(found, numbers, strict=True))
    boards = _boards(request, tests, names)
    advice = _advice(tests, asked)
    return NextAnswer(asked, tests, boards, chance_any, best, left, advice, 0.0, known.learnt_from)


def _fitting(request: NextRequest) -> NextRequest:
    """As many tiles as are asked for and find room in the kiln."""
    if not request.shelf_mm:
        return request
    room = tiles_on(request.shelf_mm, request.tile_mm, request.shelves)
    if not room:
        raise shelf_too_small()
    return replace(request, tiles=min(request.tiles, room))


def _matching(request: NextRequest, body: str, cone: Cone, **more: Any) -> MatchRequest:
    return MatchRequest(
        body=body,
        cone=cone,
        max_layers=request.max_layers,
        max_coats=request.max_coats,
        tolerance=request.tolerance,
        **more,
    )


def _targets(known: Learnt, request: NextRequest, regions: Sequence[EditionRegion]) -> list[MatchRequest]:
    """What the tiles are to meet, each with where it lies."""
    if request.target is not None:
        if not request.body or request.cone is None:
            raise no_question_for_tests()
        one = _matching(
            request,
            request.body,
            request.cone,
            target=request.target,
            target_covariance=request.target_covariance,
            regions=request.regions,
            leave_out=request.leave_out,
        )
        return [one]
    from swatch.work.replace import colour_of, uses_of

    name = known.arrays.materials.names[check_material(known, request.replaces)]
    places = uses_of(known, regions, name)
    if not places:
        raise unused_material(name)
    asked = []
    in_editions = [place for place in places if place.regions] or places[:1]
    for place in in_editions[:MOST_USES]:
        colour = colour_of(known, place)
        if colour is not None:
            kinds = {str(one.region_kind) for one in place.regions if one.region_kind is not None}
            one = _matching(
                request,
                place.question.body,
                place.question.cone,
                target=colour[0],
                target_covariance=colour[1],
                regions=tuple(sorted(kinds)),
                leave_out=(name, *request.leave_out),
            )
            asked.append(one)
    if not asked:
        raise nothing_to_search()
    return asked


def _for_targets(
    known: Learnt, request: NextRequest, regions: Sequence[EditionRegion], report: Report
) -> tuple[list[NextTest], Outlook]:
    asked = _targets(known, request, regions)
    pools: list[_Pool] = []
    apart: list[FloatArray] = []  # of each pool (uses, draws, candidates); uses on other bodies stay far
    chance: list[FloatArray] = []
    for n, (place, uses) in enumerate(_by_place(asked).items()):
        report(n, len(asked), "uses")
        pool = _pool(known, *place, [asked[use] for use in uses], report)
        if pool is None:
            continue
        body = np.full(len(pool.material), check_body(known, pool.body))
        together = joint.Together(known.fit, pool.means.spread, pool.cone.position)
        mean, off = together.strays(pool.material, pool.coats, body)
        drawn = joint.both_ways(mean, off)
        tile = _next_tile(known, pool, body)
        far = np.full((len(asked), *drawn.shape[:2]), NOTHING_YET)
        within = np.zeros((len(asked), len(mean)))
        for use in uses:
            one = asked[use]
            doubt, target = _rows(one.target_covariance), np.array(one.target, dtype=float)
            far[use] = delta_e_2000(drawn, _aims(target, doubt, len(drawn))[:, None])
            within[use] = nearness(tile[0], tile[1], target, doubt, request.tolerance).within
        pools.append(pool)
        apart.append(np.minimum(far, NOTHING_YET))
        chance.append(within.max(axis=0))
    if not pools:
        raise nothing_to_search()
    served = np.concatenate(apart, axis=2)
    chosen = next_tests.for_targets(served, request.tiles, np.full(served.shape[:2], NOTHING_YET))
    rows = [(pool, i) for pool in pools for i in range(len(pool.material))]
    odds = np.concatenate(chance)
    tests = []
    for c, adds in zip(chosen.index, chosen.adds, strict=True):
        why = Why.LIKELY if odds[c] >= LIKELY else Why.BOLD if odds[c] < BOLD else Why.BESIDE
        tests.append(NextTest("", _prediction(known, *rows[int(c)]), str(why), float(odds[c]), float(adds)))
    best = served[:, :, chosen.index].min(axis=2)
    every = (best <= request.tolerance).all(axis=0).mean()
    return tests, (float(every), float(best.mean(axis=1).max()), None)


def _by_place(asked: Sequence[MatchRequest]) -> dict[tuple[str, Cone], list[int]]:
    """Uses by body and cone: a tile serves every use there."""
    places: dict[tuple[str, Cone], list[int]] = {}
    for use, one in enumerate(asked):
        places.setdefault((one.body, one.cone), []).append(use)
    return places


def _pool(known: Learnt, body: str, cone: Cone, uses: Sequence[MatchRequest], report: Report) -> _Pool | None:
    """Layerings never fired that come nearest the targets of some uses on one body; None where there are none."""
    code = check_body(known, body)
    found: dict[bytes, tuple[np.ndarray, FloatArray]] = {}
    means: AllMeans | None = None
    for one in uses:
        space = space_of(known, one)
        means = means_of(known, space, code, cone.position, report)
        if not means.searched:
            continue
        target, doubt = np.array(one.target, dtype=float), _rows(one.target_covariance)
        ranked = rank(known.fit, means, target, target_covariance=doubt, tolerance=one.tolerance, top=POOL)
        for material, coats in zip(ranked.material, ranked.coats, strict=True):
            found.setdefault(np.concatenate([material, coats]).tobytes(), (material, coats))
    if means is None or not found:
        return None
    pool = _Pool(body, cone, means, *(np.array(part) for part in zip(*found.values(), strict=True)))
    new = known.fit.predict(*_questions(pool, np.full(len(found), code))).same_layering == 0
    return replace(pool, material=pool.material[new], coats=pool.coats[new]) if new.any() else None


def _questions(pool: _Pool, body: np.ndarray) -> tuple[np.ndarray, FloatArray, np.ndarray, np.ndarray, FloatArray]:
    wiped = np.zeros(pool.material.shape, dtype=bool)
    return pool.material, pool.coats, wiped, body, np.full(len(body), pool.cone.position)


def _next_tile(known: Learnt, pool: _Pool, body: np.ndarray) -> tuple[FloatArray, FloatArray]:
    """Mean and covariance of the next tile of each layering of a pool."""
    said = known.fit.predict(*_questions(pool, body))
    return said.mean, said.covariance


def _to_teach(known: Learnt, request: NextRequest, report: Report) -> tuple[list[NextTest], Outlook]:
    if not request.body or request.cone is None:
        raise no_question_for_tests()
    body, cone = check_body(known, request.body), request.cone
    from swatch.terms.colour import Lab

    one = _matching(
        request, request.body, cone, target=Lab(50.0, 0.0, 0.0), regions=request.regions,
        leave_out=request.leave_out,
    )  # fmt: skip
    space = space_of(known, one)
    means = means_of(known, space, body, cone.position, report)
    if not means.searched:
        raise nothing_to_search()
    wanted = check_material(known, request.material) if request.material else -1
    questions = _some_of(means, wanted)
    tiles = _teaching_tiles(space, wanted)
    together = joint.Together(known.fit, means.spread, cone.position)
    report(1, 3, "draws")
    asked_mean, asked = together.strays(*questions, np.full(len(questions[0]), body))
    report(2, 3, "draws")
    _mean, off = together.strays(*tiles, np.full(len(tiles[0]), body))
    noise = together.noise(tiles[0])
    chosen = next_tests.to_teach(off, noise, asked, de00_metric(asked_mean), request.tiles)
    pool = _Pool(request.body, cone, means, *tiles)
    tests = [
        NextTest("", _prediction(known, pool, int(i)), str(Why.TEACHES), None, float(adds))
        for i, adds in zip(chosen.index, chosen.adds, strict=True)
    ]
    return tests, (None, None, chosen.left)


def _some_of(means: AllMeans, wanted: int) -> tuple[np.ndarray, FloatArray]:
    """Layerings whose doubt counts, drawn evenly from all, or from those with a material that is named."""
    real = np.flatnonzero(means.channels[0] < 1e5)
    random = np.random.Generator(np.random.PCG64(_SEED))
    some = np.sort(random.choice(real, min(len(real), 20 * ASKED), replace=False))
    material, coats = means.layers_of(some)
    if wanted >= 0:
        holds = (material == wanted).any(axis=1)
        material, coats = material[holds], coats[holds]
    if not len(material):
        raise nothing_to_search()
    return material[:: max(1, len(material) // ASKED)][:ASKED], coats[:: max(1, len(coats) // ASKED)][:ASKED]


def _teaching_tiles(space: Space, wanted: int) -> tuple[np.ndarray, FloatArray]:
    """Tiles that may teach: each material in one and two coats, and each over and under another."""
    allowed = [int(m) for m in np.flatnonzero(space.allowed)]
    rows: list[tuple[tuple[int, int], tuple[float, float]]] = []
    for m in allowed:
        rows += [((m, -1), (coats, 0.0)) for coats in (1.0, 2.0)]
        rows += [((other, m), (2.0, 1.0)) for other in allowed if other != m]
    if wanted >= 0:
        rows = [row for row in rows if wanted in row[0]]
    if len(rows) > 2_000:
        rows = rows[:: len(rows) // 2_000 + 1]
    return np.array([row[0] for row in rows]), np.array([row[1] for row in rows])


def _aims(target: FloatArray, doubt: FloatArray | None, draws: int) -> FloatArray:
    """Where the target may lie (draws, 3)."""
    if doubt is None:
        return np.broadcast_to(target, (draws, 3))
    return np.asarray(target + joint.scattered(doubt[None], draws)[:, 0])


def _rows(covariance: Covariance | None) -> FloatArray | None:
    return None if covariance is None else np.array(covariance.rows())


def _prediction(known: Learnt, pool: _Pool, i: int) -> Prediction:
    names = known.arrays.materials.names
    layers = tuple(
        Layer(names[int(m)], float(c)) for m, c in zip(pool.material[i], pool.coats[i], strict=True) if m >= 0
    )
    said = predictions(known, [Question(layers, pool.body, pool.cone)])[0]
    if not isinstance(said, Prediction):
        raise TypeError("a layering that was ranked can be predicted")
    return said


def _boards(request: NextRequest, tests: Sequence[NextTest], names: Sequence[str]) -> tuple[Board, ...]:
    """One board for each body and cone, in the order of the tiles; the first is called as the firing."""
    name = request.name or _free_name(names)
    tiles: dict[tuple[str, Cone], list[BoardTile]] = {}
    for one in tests:
        question = one.prediction.question
        halves = (one.beside, question.layers) if one.beside else (question.layers,)
        zones = tuple(BoardZone(name, layers) for name, layers in zip("AB", halves, strict=False))
        tile = BoardTile(one.tile, zones, one.why)
        tiles.setdefault((question.body, question.cone), []).append(tile)
    return tuple(
        Board(name if n == 0 else f"{name}, {body} {cone}", body, cone, tuple(those))
        for n, ((body, cone), those) in enumerate(tiles.items())
    )


def _free_name(names: Sequence[str]) -> str:
    """The firing after the last, by its number: ``F-13`` is followed by ``F-14``."""
    if not names:
        return "F-1"
    folded = {fold_name(name) for name in names}
    number = 1
    while True:
        name = tile_names(names, number)[-1]
        if fold_name(name) not in folded:
            return name
        number += 1


def _advice(tests: Sequence[NextTest], request: NextRequest) -> tuple[Notice, ...]:
    """What goes with the load, and what comes after it."""
    bodies = {(one.prediction.question.body, one.prediction.question.cone) for one in tests}
    advice = [Notice("tests-on-cookies", {}), Notice("witness-buttons", {})]
    if len(bodies) > 1:
        advice.append(Notice("tests-on-other-bodies", {"n": len(bodies)}))
    if len(tests) < request.tiles and request.shelf_mm:
        room = tiles_on(request.shelf_mm, request.tile_mm, request.shelves)
        if room < request.tiles:
            advice.append(Notice("shelf-holds", {"n": room, "wanted": request.tiles}))
    if request.replaces:
        advice.append(Notice("half-and-half", {"material": request.replaces}))
    if request.target is not None or request.replaces:
        advice.append(Notice("three-pieces-first", {}))
    return tuple(advice)
