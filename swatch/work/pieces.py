"""A photo of a load: pieces beside the card found by their outlines, their regions by the form, and read."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Any

import numpy as np

from swatch.science import forms
from swatch.science.card import Card, grid_corners
from swatch.science.colour_math import FloatArray
from swatch.science.locate import find_chart
from swatch.science.measuring import measure
from swatch.science.picture import Picture, decode
from swatch.science.piece_outlines import find_pieces
from swatch.terms.forms import Form
from swatch.terms.measured import PhotoRead, PieceSeen, PiecesWanted, Point, ZoneShape
from swatch.terms.problems import Notice
from swatch.terms.report import Report, silent
from swatch.work.files import read_file
from swatch.work.load_entries import pairs_beside
from swatch.work.measure import LARGEST_PHOTO_BYTES, with_comparisons

FRAME = 0.75
"""How far a card's frame reaches beyond its outermost patches, in patches."""


@dataclass(frozen=True)
class Proposed:
    """Pieces found in a photo and the zones that their form lays on them."""

    pieces: tuple[PieceSeen, ...] = ()
    zones: tuple[ZoneShape, ...] = ()
    form: Form | None = None
    notices: tuple[Notice, ...] = ()


def pieces_job(asked: dict[str, Any], report: Report) -> PhotoRead:
    """Read one photo of a load (the worker's job)."""
    name, rows, columns, lab = asked["card"]
    card = Card(name, rows, columns, np.array(lab, dtype=float))
    return measure_pieces(
        asked["photo"], card, asked["wanted"], asked.get("zones", ()), asked.get("corners"), report
    )


def measure_pieces(
    photo: str,
    card: Card,
    wanted: PiecesWanted,
    zones: Sequence[ZoneShape] = (),
    corners: Sequence[Point] | None = None,
    report: Report = silent,
) -> PhotoRead:
    """Find the pieces of a load, propose their regions and read them.

    Parameters
    ----------
    photo : str
        The photo's path.
    wanted : PiecesWanted
    zones : sequence of ZoneShape, optional
        Regions as they were nudged, called ``piece region``: they are read as they are.

    Returns
    -------
    PhotoRead
        With ``pieces``, ``form`` and each piece's regions compared with those of the piece beside the card. Its
        warnings have ``pieces-none`` or ``pieces-of-another-form`` where so.
    """
    report(0, 3, "decoding")
    picture = decode(read_file(photo, LARGEST_PHOTO_BYTES), photo)
    report(1, 3, "reading")
    seen = propose(picture, card, wanted, corners)
    read = measure(
        picture,
        card,
        tuple(zones) or seen.zones or (_nowhere(picture),),
        photo=photo,
        corners=corners,
        report=silent,
    )
    if not (zones or seen.zones):
        read = replace(read, zones=())
    read = replace(read, pieces=seen.pieces, form=seen.form, warnings=(*read.warnings, *seen.notices))
    report(2, 3, "reading")
    return with_comparisons(read, pairs_beside(read))


def propose(
    picture: Picture, card: Card, wanted: PiecesWanted, corners: Sequence[Point] | None = None
) -> Proposed:
    """Find the pieces and lay the form's regions on them."""
    frame = _frame(picture, card, corners)
    outlines = find_pieces(picture, frame)
    if not outlines:
        return Proposed(notices=(Notice("pieces-none"),))
    near = _nearest(outlines, frame)
    form = wanted.form or _form(picture, wanted, outlines, near)
    laid = [forms.lay(form, outline, picture) for outline in outlines] if form is not None else []
    fits = [k for k, one in enumerate(laid) if one.alike >= forms.PERHAPS]
    if form is not None and not fits:
        return Proposed(form=form, notices=(Notice("pieces-of-another-form", {"n": len(outlines)}),))
    shown = fits if form is not None else list(range(len(outlines)))
    # Of those that are pieces, the one nearest the card; a label beside it is none.
    near = shown[_nearest([outlines[k] for k in shown], frame)]
    pieces, zones = [], []
    for number, k in enumerate(shown, 1):
        alike = round(laid[k].alike, 3) if form is not None else None
        pieces.append(PieceSeen(str(number), _simple(outlines[k]), alike, beside_card=k == near))
        if form is not None:
            regions = forms.regions_on(form, laid[k], outlines[k])
            zones += [ZoneShape(f"{number} {region}", polygon) for region, polygon in regions]
    others = len(outlines) - len(shown)
    notices = (Notice("pieces-of-another-form", {"n": others}),) if others else ()
    return Proposed(tuple(pieces), tuple(zones), form, notices)


def _form(picture: Picture, wanted: PiecesWanted, outlines: Sequence[FloatArray], near: int) -> Form | None:
    if wanted.pattern:
        shapes = [(shape.zone, np.array(shape.polygon, dtype=float)) for shape in wanted.pattern]
        middle = np.mean([polygon.mean(axis=0) for _, polygon in shapes], axis=0)
        on = min(range(len(outlines)), key=lambda k: float(np.linalg.norm(outlines[k].mean(axis=0) - middle)))
        return forms.form_of(wanted.name, outlines[on], shapes, picture)
    if wanted.regions:
        return forms.bands_of(wanted.name, outlines[near], wanted.regions, picture)
    return None


def _frame(picture: Picture, card: Card, corners: Sequence[Point] | None) -> FloatArray | None:
    inner = grid_corners(card.rows, card.columns)
    framed = inner + FRAME * np.sign(inner - [card.columns / 2, card.rows / 2])
    if corners is not None:
        at = np.array(corners, dtype=float)
        return np.asarray(at + 0.2 * (at - at.mean(axis=0)))
    place = find_chart(picture, card) if card.found_by_itself else None
    return None if place is None else place.points(framed)


def _nearest(outlines: Sequence[FloatArray], frame: FloatArray | None) -> int:
    if frame is None:
        return 0
    edge = np.concatenate([np.linspace(a, b, 12, endpoint=False) for a, b in pairwise([*frame, frame[0]])])
    away = [np.linalg.norm(outline[:, None] - edge[None], axis=2).min() for outline in outlines]
    return int(np.argmin(away))


def _nowhere(picture: Picture) -> ZoneShape:
    """A zone in the photo's middle: with none at all the photo sheet would be sought."""
    wide, high = picture.size
    x, y, by = wide / 2, high / 2, min(wide, high) / 20
    return ZoneShape("", ((x - by, y - by), (x + by, y - by), (x + by, y + by), (x - by, y + by)))


def _simple(outline: FloatArray) -> tuple[Point, ...]:
    import cv2

    size = float(np.sqrt(cv2.contourArea(outline.astype(np.float32))))
    simple = cv2.approxPolyDP(outline.astype(np.float32).reshape(-1, 1, 2), 0.01 * size, True)[:, 0, :]
    return tuple((float(x), float(y)) for x, y in simple)
