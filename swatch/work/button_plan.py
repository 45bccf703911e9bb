"""Witness buttons for an edition's next firing: which stripes and marks, one on each shelf, and the kept one."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np

from swatch.library.studio import Studio
from swatch.science.button_plan import WORTH_IT, choose_stripes, told_by
from swatch.science.colour_math import FloatArray
from swatch.terms.buttons import ButtonPlan, ButtonReading, ButtonRequest, PlannedButton, Stripe
from swatch.terms.cone import Cone
from swatch.terms.editions import EditionRegion, PieceReading
from swatch.terms.evidence import Evidence
from swatch.terms.layering import Layer, Layers, fold_name
from swatch.terms.materials import Kind, Material, Status
from swatch.terms.problems import Notice, StudioProblem
from swatch.terms.problems.holding import unknown_edition
from swatch.terms.report import Report, silent
from swatch.work.kiln_heats import changes_of_stripes
from swatch.work.learn import Learnt, learnt
from swatch.work.load_entries import LoadRecords
from swatch.work.look_known import shifts_of_look

COATS = 2.0
"""Coats of a stripe and of its cover (common practice, no source)."""
STRIPES, BARE = 6, 2
SHELVES = ("top", "middle", "bottom")
"""Where the records name none."""
A_SHELF = 2
"""Pieces to measure from each shelf."""
KEPT = "kept button"
_NUMBER = re.compile(r"^(.*?)(\d+)$")


def button_plan(folder: Path, request: ButtonRequest, report: Report = silent) -> ButtonPlan:
    """Plan the buttons of an edition's next firing; stripes stay those on record unless asked anew.

    Raises
    ------
    StudioProblem
        ``unknown-edition``, or the studio cannot be read.
    """
    with Studio.look(folder) as studio:
        evidence, buttons = studio.evidence(), studio.buttons()
        every, pieces = studio.editions(), studio.pieces()
    mine = [one for one in every if fold_name(one.edition) == fold_name(request.edition)]
    if not mine:
        raise unknown_edition(request.edition, ", ".join(dict.fromkeys(one.edition for one in every)) or "–")
    report(0, 1, "check")
    try:
        taught: Learnt | None = learnt(folder, report)
    except StudioProblem as problem:
        if problem.code != "nothing-fired":
            raise
        taught = None
    return planned(request, mine, evidence, buttons, pieces, taught)


def button_plan_job(asked: dict[str, Any], report: Report) -> ButtonPlan:
    """Plan in a worker."""
    return button_plan(Path(asked["folder"]), asked["request"], report)


def planned(
    request: ButtonRequest,
    regions: Sequence[EditionRegion],
    evidence: Evidence,
    buttons: Sequence[ButtonReading],
    pieces: Sequence[PieceReading],
    taught: Learnt | None,
) -> ButtonPlan:
    """Plan from what was read."""
    body = next((one.body for one in regions if one.body), None)
    cone = next((one.cone for one in regions if one.cone), None)
    shelves = request.shelves or _shelves(buttons, pieces)
    on_record = [] if request.anew else _stripes_on_record(buttons)
    if on_record:
        by_ladder = changes_of_stripes(
            buttons,
            evidence.witnesses,
            evidence.firings,
            lambda rows: _changes(taught, [row.layers for row in rows], rows[0].body or body, cone),
        )
        model = _changes(taught, [layers for _, layers in on_record], body, cone)
        changes = np.array(
            [by_ladder.get(fold_name(name), plain) for (name, _), plain in zip(on_record, model, strict=True)]
        )
        stripes = tuple(
            Stripe(name, layers, len(layers) > 1, _size(change))
            for (name, layers), change in zip(on_record, changes, strict=True)
        )
        sd = told_by(changes, len(shelves))
    else:
        stripes, sd = _new_stripes(evidence.materials, body, cone, taught, regions, len(shelves))
    firing = request.firing or _next_name([one.name for one in evidence.firings])
    records = LoadRecords(None, buttons=buttons)
    names = records.new_names(len(shelves), firing, shelves)
    kept = records.approved()
    approved = LoadRecords(
        regions[0].edition, pieces=[one for one in pieces if _same(one.edition, regions[0].edition)]
    ).approved()
    return ButtonPlan(
        edition=regions[0].edition,
        firing=firing,
        body=body or "",
        cone="" if cone is None else str(cone),
        stripes=stripes,
        buttons=tuple(PlannedButton(name, shelf) for name, shelf in zip(names, shelves, strict=True)),
        kept=kept[0] if kept else KEPT,
        kept_known=bool(kept),
        as_before=bool(on_record),
        sd_cones=sd,
        approved=approved[0] if approved else "",
        pieces=A_SHELF,
        notices=_notices(stripes, sd, bool(kept), approved, buttons),
    )


def _new_stripes(
    materials: Sequence[Material],
    body: str | None,
    cone: Cone | None,
    taught: Learnt | None,
    regions: Sequence[EditionRegion],
    shelves: int,
) -> tuple[tuple[Stripe, ...], float | None]:
    fit = [one for one in materials if one.status is Status.IN_STOCK and _stands(one, cone)]
    colours = [one for one in fit if one.kind is Kind.UNDERGLAZE] or [one for one in fit if one.kind is Kind.SLIP]
    cover = _cover(fit, regions)
    over: Layers = () if cover is None else (Layer(cover.name, COATS),)
    bare: list[Layers] = [(Layer(one.name, COATS),) for one in colours]
    covered: list[Layers] = [(*layers, *over) for layers in bare] if over else []
    covered_change = _changes(taught, covered, body, cone)
    bare_change = _changes(taught, bare, body, cone)
    known = [k for k in range(len(covered)) if covered_change[k].any()]
    steady = [k for k in range(len(bare)) if bare_change[k].any()]
    if not known:
        # Nothing is learnt yet: as many different colours as there are, the first of the list.
        rows = [(layers, None) for layers in covered[: STRIPES - BARE]]
        rows += [(layers, None) for layers in bare[: BARE if covered else STRIPES]]
        return tuple(_stripe(k, *row) for k, row in enumerate(rows, 1)), None
    chosen = choose_stripes(
        covered_change[known], bare_change[steady], shelves, most_covered=STRIPES - BARE, most_bare=BARE
    )
    found = [(covered[known[k]], _size(covered_change[known[k]])) for k in chosen.covered]
    found += [(bare[steady[k]], _size(bare_change[steady[k]])) for k in chosen.bare]
    return tuple(_stripe(k, *row) for k, row in enumerate(found, 1)), chosen.sd


def _stripe(number: int, layers: Layers, change: float | None) -> Stripe:
    return Stripe(str(number), layers, len(layers) > 1, change)


def _stands(one: Material, cone: Cone | None) -> bool:
    """Whether a material's range holds a cone, as far as either is known."""
    if cone is None:
        return True
    low, high = one.cone_from, one.cone_to
    return (low is None or low <= cone) and (high is None or cone <= high)


def _cover(fit: Sequence[Material], regions: Sequence[EditionRegion]) -> Material | None:
    """The clear that the edition wears on top, else any clear."""
    tops = {fold_name(one.layers[-1].material) for one in regions if one.layers}
    clear = [one for one in fit if one.kind is Kind.CLEAR]
    return next((one for one in clear if fold_name(one.name) in tops), clear[0] if clear else None)


def _changes(
    taught: Learnt | None, layerings: Sequence[Layers], body: str | None, cone: Cone | None
) -> FloatArray:
    """What each layering does for a cone more, (n, 3); zeros where nothing is learnt of it."""
    if not layerings:
        return np.zeros((0, 3))
    return shifts_of_look(taught, layerings, body, cone).heat.reshape(-1, 3)


def _size(change: FloatArray) -> float | None:
    size = float(np.linalg.norm(change))
    return size if size > 0 else None


def _stripes_on_record(buttons: Sequence[ButtonReading]) -> list[tuple[str, Layers]]:
    found: dict[str, tuple[str, Layers]] = {}
    for one in buttons:
        if one.layers:
            found.setdefault(fold_name(one.stripe), (one.stripe, one.layers))
    return [found[key] for key in sorted(found)]


def _shelves(buttons: Sequence[ButtonReading], pieces: Sequence[PieceReading]) -> tuple[str, ...]:
    """Shelves of the records, in the usual order where they are called so."""
    named: dict[str, str] = {}
    for shelf in [*(one.shelf for one in buttons), *(one.shelf for one in pieces)]:
        if shelf:
            named.setdefault(fold_name(shelf), shelf)
    usual = [named[shelf] for shelf in SHELVES if shelf in named]
    others = [named[shelf] for shelf in sorted(named) if shelf not in SHELVES]
    return (*usual, *others) or SHELVES


def _next_name(names: Sequence[str]) -> str:
    """On from the last firing's number."""
    best = ("F-", 0, 2)
    for name in names:
        found = _NUMBER.match(name)
        if found and int(found.group(2)) >= best[1]:
            best = (found.group(1), int(found.group(2)), len(found.group(2)))
    stem, number, width = best
    return f"{stem}{number + 1:0{width}d}"


def _notices(
    stripes: Sequence[Stripe],
    sd: float | None,
    kept: bool,
    approved: Sequence[str],
    buttons: Sequence[ButtonReading],
) -> tuple[Notice, ...]:
    found = []
    if not stripes:
        found.append(Notice("no-stripes"))
    elif sd is None:
        found.append(Notice("stripes-not-known"))
    elif sd > WORTH_IT:
        found.append(Notice("stripes-hardly-move", {"sd": round(sd, 2)}))
    if stripes and not any(one.covered for one in stripes):
        found.append(Notice("no-cover"))
    if not kept:
        found.append(Notice("keep-one-button"))
    if len({fold_name(one.firing) for one in buttons if one.firing}) < 2:
        found.append(Notice("ladder-first"))
    if not approved:
        found.append(Notice("no-approved-piece-yet"))
    found.append(Notice("bare-stripes-may-stick"))
    return tuple(found)


def _same(one: str, other: str) -> bool:
    return fold_name(one) == fold_name(other)
