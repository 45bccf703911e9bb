"""From a photo to the colours of its zones: card found, light levelled, colours corrected and doubted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from swatch.science import flat_field, gates
from swatch.science.calibration import Calibration, calibrate, less_stray, stray_light
from swatch.science.card import Card, grid_corners
from swatch.science.colour_math import FloatArray, de00_metric, delta_e_2000, lab_to_xyz
from swatch.science.colour_shares import colours_of
from swatch.science.comparing import own_part
from swatch.science.flat_field import Field, Sheet
from swatch.science.leaning import leaning_of
from swatch.science.locate import ASK_SCORE, Place, find_chart, place_from_corners
from swatch.science.merging import ZoneGrid
from swatch.science.patches import PatchLight, read_patches
from swatch.science.picture import Picture, decode
from swatch.science.sheet_reading import find_chart_on, zones_from_sheet
from swatch.science.uncertainty import CardDoubts, ZoneDoubts, zone_covariance
from swatch.science.zones import ZoneLight, outline_of, read_zone, straight_levels
from swatch.terms.colour import Lab, covariance_of
from swatch.terms.measured import CardRead, PatchRead, PhotoRead, Point, Verdict, ZoneRead, ZoneShape
from swatch.terms.problems import Notice, Where
from swatch.terms.problems.photo import (
    blank_does_not_fit,
    blank_not_even,
    blank_shows_card,
    card_needs_corners,
)
from swatch.terms.report import Report, silent

__all__ = ["decode", "measure"]

ROUNDS = 3
ODD_DE00, ODD_MEDIANS, ODD_MOST = 12.0, 4.5, 0.2
"""A patch left out this far off, in ΔE00 and in medians of the card, is covered or shone upon."""
LEAST_BLANK = 0.8
"""Part of a blank sheet's photo that has to be even."""
_FRAME = 0.75
"""How far a card's frame reaches beyond its outermost patches, in patches."""


@dataclass(frozen=True, slots=True)
class _Fitted:
    calibration: Calibration
    field: Field


def measure(
    picture: Picture,
    card: Card,
    zones: Sequence[ZoneShape],
    *,
    photo: str,
    corners: Sequence[Point] | None = None,
    blank: Picture | None = None,
    own: FloatArray | None = None,
    report: Report = silent,
    grids: dict[str, ZoneGrid] | None = None,
) -> PhotoRead:
    """Read the colours of zones in a photo that shows a reference card.

    Parameters
    ----------
    picture : Picture
        The decoded photo.
    card : Card
        The card in it; the 24-patch chart is found by itself, any other needs `corners`.
    zones : sequence of ZoneShape
        Outlines in pixels of the photo as seen; where none are given, the tiles on the photo sheet, if it is seen.
    photo : str
        The photo's name.
    corners : four points, optional
        Outer corners of the outermost patches, patch 1 first, then round the card.
    blank : Picture, optional
        A blank sheet photographed in the same light from the same place.
    own : (n, 3), optional
        The card's own colours, learnt from photos: zones are read by them. Verdict, warnings and uncertainty stay
        those of the published colours, since what is learnt holds the camera's own error too.
    grids : dict, optional
        Filled with each zone's parts that are free of glare, by its name, for merging with other photos.

    Returns
    -------
    PhotoRead
        Refused, without zones, where the colours cannot be trusted; its warnings say why.

    Raises
    ------
    StudioProblem
        ``card-needs-corners``, ``card-corners-wrong``, ``card-too-few-patches``, ``zone-outline-wrong``,
        ``blank-does-not-fit``, ``blank-not-even``, ``blank-shows-card``, ``sheet-mirrored``.
    """
    card.check_usable()
    found = None if zones else zones_from_sheet(picture)
    zones = zones if found is None else found.zones
    outlines = [outline_of(zone, photo) for zone in zones]
    if blank is not None:
        _check_blank(blank, card, picture.size)
    report(0, 4, "finding the card")
    if corners is None and not card.found_by_itself:
        raise card_needs_corners(card.name).at(Where(photo=photo))
    place = find_chart_on(picture, card, found) if corners is None else place_from_corners(picture, card, corners)
    judge = gates.Gates()
    gates.judge_place(judge, place.score if place else None, corners is not None)
    if place is None or judge.refused:
        return _refused(picture, photo, judge)
    report(1, 4, "reading the card")
    patches = read_patches(picture, card, place)
    if not _enough_clear(judge, card, patches):
        return _refused(picture, photo, judge)
    centre = place.points(np.array([[card.columns / 2, card.rows / 2]]))[0]
    on_sheet = found is not None and found.paper.seen and blank is None
    sheet = found.paper if found and on_sheet else _sheet(picture, blank, card, place, outlines)
    fitted = _fit(picture, card, patches, sheet, centre)
    report(2, 4, "checking the card")
    left_out = _left_out(picture, card, patches, sheet, centre, fitted)
    odd = _odd_patches(patches, left_out)
    if odd.any():
        patches = replace(patches, odd=patches.odd | odd)
        if not _enough_clear(judge, card, patches):
            return _refused(picture, photo, judge)
        fitted = _fit(picture, card, patches, sheet, centre)
        left_out = _left_out(picture, card, patches, sheet, centre, fitted)
    if patches.odd.any():
        judge.warn("card-patches-odd", n_patches=int(patches.odd.sum()))
    card_read = _card_read(card, place, patches, fitted, left_out)
    at = np.vstack([patches.centres, *(outline.mean(axis=0)[None] for outline in outlines)])
    gates.judge_light(judge, sheet, fitted.field, at)
    gates.judge_card(judge, card_read.left_out_median)
    curve = fitted.calibration.curve
    frame = place.points(_framed(card))
    beside = flat_field.light_beside(sheet, fitted.field, curve, frame)
    lightness = np.array([patch.read.L - patch.reference.L for patch in card_read.patches])
    gates.judge_card_light(judge, beside, lightness)
    report(3, 4, "reading the zones")
    judged = judge.judged()
    if judged.verdict is Verdict.REFUSED:
        return PhotoRead(photo, picture.size, judged.verdict, card_read, (), judged.notices)
    doubts = CardDoubts(card.lab, left_out, fitted.field.residual, float(lightness.std()))
    if own is not None:
        fitted = _fit(picture, replace(card, lab=own), patches, sheet, centre, field=fitted.field)
        curve = fitted.calibration.curve
    fitted = _for_glazes(fitted, card, patches)
    reads: list[ZoneRead] = []
    unread: list[Notice] = []
    straight = straight_levels(picture, curve)
    for zone, outline in zip(zones, outlines, strict=True):
        light = read_zone(picture, outline, straight)
        if light is None:
            unread.append(Notice("zone-outside", where=Where(photo=photo, zone=zone.zone)))
        elif light.used_share < gates.ZONE_LEFT[1]:
            unread.append(Notice("zone-all-glare", where=Where(photo=photo, zone=zone.zone)))
        else:
            beside = flat_field.light_beside(sheet, fitted.field, curve, outline, light.z)
            shade = flat_field.other_light(beside, gates.ZONE_BESIDE)
            reads.append(_zone_read(zone, light, fitted, doubts, shade))
            if grids is not None:
                grids[zone.zone] = _grid(light, fitted, card.lab)
    shaded = sum(notice.code == "zone-other-light" for read in reads for notice in read.warnings)
    if shaded:
        judge.warn("shadow-on-zones", n_zones=shaded)
    judged = judge.judged()
    notices = (*judged.notices, *picture.notices, *(found.notices if found else ()), *unread)
    seen = found.seen if found else None
    return PhotoRead(
        photo,
        picture.size,
        judged.verdict,
        card_read,
        tuple(reads),
        notices,
        seen,
        taken=picture.taken,
        warmth=_warmth(card, patches),
    )


def _check_blank(blank: Picture, card: Card, size: tuple[int, int]) -> None:
    """Raise where a photo is none of a blank sheet, in the same frame."""
    if abs(np.log(np.divide(*blank.size) / np.divide(*size))) > 0.02:
        raise blank_does_not_fit()
    even = flat_field.sheet_of_blank(blank, size).share
    if even < LEAST_BLANK:
        raise blank_not_even(percent=round(100 * even))
    place = find_chart(blank, card) if card.found_by_itself else None
    if place is not None and place.score >= ASK_SCORE:
        raise blank_shows_card()


def _warmth(card: Card, patches: PatchLight) -> float:
    """Ln of red over blue of the lightest neutral patch that is clear."""
    clear = [k for k in card.neutrals if patches.clear[k]]
    red, _, blue = patches.light[max(clear, key=lambda k: float(card.lab[k, 0]))]
    return float(np.log(red / blue))


def _refused(picture: Picture, photo: str, judge: gates.Gates) -> PhotoRead:
    judged = judge.judged()
    return PhotoRead(photo, picture.size, judged.verdict, None, (), judged.notices)


def _enough_clear(judge: gates.Gates, card: Card, patches: PatchLight) -> bool:
    clear = patches.clear
    enough = clear.mean() >= gates.LEAST_CLEAR_SHARE and clear[card.neutrals].sum() >= gates.FEWEST_NEUTRALS
    if not enough:
        bright = (patches.clipped_high > patches.clipped_low)[~clear].mean() >= 0.5
        judge.refuse("card-too-bright" if bright else "card-too-dark", n_clear=int(clear.sum()))
    return bool(enough)


def _odd_patches(patches: PatchLight, left_out: FloatArray) -> NDArray[np.bool_]:
    """Patches so far off that something lies or shines on them; many of them mean something else."""
    odd = patches.clear & (left_out > max(ODD_DE00, ODD_MEDIANS * float(np.median(left_out))))
    return odd if odd.mean() <= ODD_MOST else np.zeros_like(odd)


def _sheet(picture: Picture, blank: Picture | None, card: Card, place: Place, outlines: list[FloatArray]) -> Sheet:
    if blank is not None:
        return flat_field.sheet_of_blank(blank, picture.size)
    return flat_field.find_sheet(picture, place.points(_framed(card)), outlines)


def _framed(card: Card) -> FloatArray:
    """What the card covers with its frame, in patches."""
    inner = grid_corners(card.rows, card.columns)
    return np.asarray(inner + _FRAME * np.sign(inner - [card.columns / 2, card.rows / 2]))


def _neutral(card: Card) -> NDArray[np.bool_]:
    return np.isin(np.arange(len(card.lab)), card.neutrals)


def _fit(
    picture: Picture,
    card: Card,
    patches: PatchLight,
    sheet: Sheet,
    centre: FloatArray,
    without: int | None = None,
    field: Field | None = None,
) -> _Fitted:
    """Fit curve, field and correction in turn, each with the others' last state; `without` one patch."""
    use = patches.clear.copy()
    if without is not None:
        use[without] = False
    at, light, lab, neutral = patches.centres[use], patches.light[use], card.lab[use], _neutral(card)[use]
    given = field is not None
    now = field or flat_field.flat(picture.size, centre)
    made = calibrate(light, lab, neutral, now.at(at))
    for _ in range(0 if given else ROUNDS):
        if sheet.seen:
            now = flat_field.fit_field(sheet, made.curve, picture.size, centre)
        else:
            expected = lab_to_xyz(lab)[:, 1]
            read = lab_to_xyz(made.correction(made.curve(light)))[:, 1]
            ln_left = np.log(np.maximum(read, 1e-3) / np.maximum(expected, 1e-3))
            now = flat_field.fit_plane(at, ln_left, picture.size, centre, max(0.02, float(ln_left.std())))
        made = calibrate(light, lab, neutral, now.at(at))
    return _Fitted(made, now)


def _for_glazes(fitted: _Fitted, card: Card, patches: PatchLight) -> _Fitted:
    """The same fit with what glazes do beyond the card's paints; the card's own patches are read without it."""
    calibration = fitted.calibration
    z = calibration.curve(patches.light) / fitted.field.at(patches.centres)
    leaning = leaning_of(card, z, patches.clear)
    correction = replace(calibration.correction, leaning=leaning)
    return replace(fitted, calibration=replace(calibration, correction=correction))


def _left_out(
    picture: Picture, card: Card, patches: PatchLight, sheet: Sheet, centre: FloatArray, fitted: _Fitted
) -> FloatArray:
    """CIELAB ΔE00 of each patch as read by a calibration that never saw it; unclear ones by the whole fit."""
    read = np.empty_like(card.lab)
    for k in range(len(card.lab)):
        # With a sheet the field does not come from the patches, so it stands as it is.
        made = _fit(picture, card, patches, sheet, centre, k, fitted.field if sheet.seen else None)
        read[k] = made.calibration.lab(patches.light[k], made.field.at(patches.centres[k : k + 1])[0])
    return delta_e_2000(read, card.lab)


def _card_read(card: Card, place: Place, patches: PatchLight, fitted: _Fitted, left_out: FloatArray) -> CardRead:
    read = fitted.calibration.lab(patches.light, fitted.field.at(patches.centres))
    corners = place.points(grid_corners(card.rows, card.columns, place.share))
    patch_reads = tuple(
        PatchRead(k + 1, Lab(*card.lab[k].tolist()), Lab(*read[k].tolist()), float(left_out[k]))
        for k in range(len(card.lab))
    )
    one, two, three, four = ((float(x), float(y)) for x, y in corners)
    return CardRead(
        name=card.name,
        corners=(one, two, three, four),
        score=round(place.score, 4),
        left_out_median=float(np.median(left_out)),
        left_out_p95=float(np.quantile(left_out, 0.95)),
        left_out_max=float(left_out.max()),
        patches=patch_reads,
    )


def _zone_read(zone: ZoneShape, light: ZoneLight, fitted: _Fitted, doubts: CardDoubts, shade: float) -> ZoneRead:
    where = light.centre[None]
    factor = fitted.field.at(where)[0]
    correction = fitted.calibration.correction
    stray = stray_light(correction(light.z / factor), doubts.lab)
    z = less_stray(light.z / factor, stray)
    lab = correction(z)
    away = correction(less_stray(light.blocks / factor, stray)) - lab
    spread2 = np.einsum("ni,ij,nj->n", away, de00_metric(lab), away)
    variation = float(np.sqrt(spread2.mean()))
    zone_doubts = ZoneDoubts(
        field_ln=float(fitted.field.doubt(where)[0]),
        glare_share=light.glare_share,
        lingering=light.lingering,
        high_share=light.high_share,
        low_share=light.low_share,
        noise=variation / np.sqrt(len(light.blocks)),
        shade=shade,
        stray=stray,
    )
    covariance, u95 = zone_covariance(doubts, zone_doubts, fitted.calibration, z, lab)
    photo_alone = replace(doubts, patchiness=0.0), ZoneDoubts(0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
    shared, _ = zone_covariance(*photo_alone, fitted.calibration, z, lab)
    return ZoneRead(
        zone=zone.zone,
        polygon=zone.polygon,
        lab=Lab(*lab.tolist()),
        covariance=covariance_of(covariance.tolist()),
        u95_de00=u95,
        variation_de00=variation,
        used_share=light.used_share,
        warnings=gates.zone_warnings(light, shade, u95),
        colours=colours_of(correction(less_stray(light.sample / factor, stray))),
        own=covariance_of(own_part(covariance, shared)),
    )


def _grid(light: ZoneLight, fitted: _Fitted, card_lab: FloatArray) -> ZoneGrid:
    factor = fitted.field.at(light.centre[None])[0]
    lab = np.full((len(light.parts), 3), np.nan)
    seen = np.isfinite(light.parts[:, 0])
    correction = fitted.calibration.correction
    stray = stray_light(correction(light.z / factor), card_lab)
    lab[seen] = correction(less_stray(light.parts[seen, :3] / factor, stray))
    return ZoneGrid(lab, light.parts[:, 3])
